"""Every kind of page as a picture, held against the picture that was looked at and kept.

Pictures are kept at half size and packed hard; a pixel counts as changed only where it differs
plainly, and a page only where many do. ``-m "" --golden-update`` keeps what came out, also of the
looks that only the campaign holds against theirs.
"""

from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from typing import Literal

import pytest
from PIL import Image, ImageChops
from playwright.sync_api import Browser, Page

from tests.browser.kinds_of_pages import KINDS, PICTURED_ALONE

pytestmark = pytest.mark.browser

HERE = Path(__file__).parent
PLAINLY = 40  # of 255: more than packing and smoothing of edges make
MANY = 0.002  # of all pixels
HEIGHT_SLACK = 2
AGAIN = 2
# Lines to copy stand in whatever fixed-width face a machine has; here in the book's own.
OWN_FACE = "pre, code { font-family: inherit !important }"


def changed(one: Image.Image, other: Image.Image) -> float:
    """The share of pixels that differ plainly; all of them where the sizes do."""
    if one.width != other.width or abs(one.height - other.height) > HEIGHT_SLACK:
        return 1.0
    box = (0, 0, one.width, min(one.height, other.height))
    away = ImageChops.difference(one.crop(box), other.crop(box)).convert("L")
    return sum(away.histogram()[PLAINLY:]) / (away.width * away.height)


def picture_of(page: Page) -> Image.Image:
    """The whole page, half as large."""
    shot = Image.open(BytesIO(page.screenshot(full_page=True, animations="disabled")))
    half = (shot.width // 2, shot.height // 2)
    return shot.convert("RGB").resize(half, Image.Resampling.BOX)


@pytest.fixture
def held_against(request: pytest.FixtureRequest) -> Callable[[str, Page], str | None]:
    """What is wrong with the picture of a page, or None; a wrong one is kept in ``actual``.

    Now and then the browser hands over a page that is painted as far as the window reached: a
    picture counts as other only where the one after it is so too.
    """

    def hold(name: str, page: Page) -> str | None:
        kept = HERE / "golden" / f"{name}.webp"
        if request.config.getoption("--golden-update"):
            kept.parent.mkdir(exist_ok=True)
            picture_of(page).save(kept, quality=38, method=6)
        if not kept.is_file():
            return f"{name}: no picture is kept"
        with Image.open(kept) as picture:
            looked_at = picture.convert("RGB")
        came_out = picture_of(page)
        for _ in range(AGAIN):
            if changed(looked_at, came_out) > MANY:
                came_out = picture_of(page)
        share = changed(looked_at, came_out)
        if share <= MANY:
            return None
        actual = HERE / "actual" / f"{name}.png"
        actual.parent.mkdir(exist_ok=True)
        came_out.save(actual)
        return f"{name}: {share:.1%} of it changed; see {actual}"

    return hold


@pytest.mark.parametrize(
    "looks",
    [
        pytest.param((("light", 390), ("light", 1200), ("dark", 390)), id="now"),
        pytest.param(
            (("light", 320), ("dark", 320), ("dark", 1200)),
            id="in any look",
            marks=pytest.mark.campaign,
        ),
    ],
)
def test_pages_look_as_they_did(
    browser: Browser,
    every_kind: Path,
    held_against: Callable[[str, Page], str | None],
    looks: tuple[tuple[Literal["light", "dark"], int], ...],
) -> None:
    context = browser.new_context(reduced_motion="reduce", bypass_csp=True)
    page = context.new_page()
    faults = []
    for kind, path in (KINDS | PICTURED_ALONE).items():
        page.goto((every_kind / path).as_uri())
        page.add_style_tag(content=OWN_FACE)
        page.evaluate("document.fonts.ready")
        for scheme, width in looks[:2] if kind in PICTURED_ALONE else looks:
            page.emulate_media(color_scheme=scheme)
            page.set_viewport_size({"width": width, "height": 800})
            faults.append(held_against(f"{kind}.{width}-{scheme}", page))
    context.close()
    assert [fault for fault in faults if fault] == []


def test_a_moved_or_missing_part_is_noticed() -> None:
    with Image.open(HERE / "golden" / "lesson.390-light.webp") as kept:
        picture = kept.convert("RGB")
    assert changed(picture, picture) == 0
    assert changed(picture, ImageChops.offset(picture, 0, 4)) > MANY
    without = picture.copy()
    without.paste((255, 253, 248), (0, 320, picture.width, 350))
    assert changed(picture, without) > MANY
    assert changed(picture, picture.crop((0, 0, picture.width, picture.height - 20))) == 1
