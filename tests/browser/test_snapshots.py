"""Every kind of page as a picture, held against the picture that was looked at and kept.

Pictures are kept at half size and packed hard; a pixel counts as changed only where it differs
plainly, and a page only where many do. ``--golden-update`` keeps what came out.
"""

from collections.abc import Callable
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pytest
from jinja2 import ChoiceLoader, Environment, FileSystemLoader, StrictUndefined
from PIL import Image, ImageChops
from playwright.sync_api import Browser

from recapgen.book.binding import bind_book
from recapgen.model.page import Page, Site, SiteKind
from recapgen.publish.site_builder import build_site
from recapgen.render.book_site import book_site
from recapgen.render.card_site import card_site
from recapgen.render.care_view import care_view
from recapgen.render.cases_site import cases_site
from recapgen.render.coach_words import coach_words
from recapgen.render.film_view import anchors, film_assets, film_view
from recapgen.render.number_view import number_view
from recapgen.render.practice_view import practice_view
from recapgen.render.reader import reader_of
from recapgen.render.student_site import student_site
from recapgen.tools.template_folder import template_folder
from recapgen.words.catalogue import words
from tests.render.recaps_fixture import COACH, faster, mara, student, what_stuck
from tests.render.test_pages import LESSON, case

pytestmark = pytest.mark.browser

HERE = Path(__file__).parent
EN = words("en")
PLAINLY = 40  # of 255: more than packing and smoothing of edges make
MANY = 0.002  # of all pixels
HEIGHT_SLACK = 2
KINDS = {
    "home": "student/index.html",
    "lesson": f"student/{LESSON}",
    "lesson-words": "student/2027-02-03-q2w8.html",
    "practice": "student/practice.html",
    "log": "student/log.html",
    "measured": "student/measured.html",
    "compare": "student/compare.html",
    "components": "components/index.html",
    "cases": "cases/index.html",
    "case": "cases/wall.html",
    "card": "card/index.html",
    "book": "book/index.html",
    "book-student": "book/student-mara-secret-folder.html",
}


def components(folder: Path) -> Site:
    """A page of all parts, from the same made lesson."""
    folder.mkdir()
    told = mara(folder)
    newest = told.recaps[-1]
    reader = reader_of(told, COACH, EN)
    environment = Environment(
        loader=ChoiceLoader([FileSystemLoader(HERE), FileSystemLoader(template_folder())]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    numbers = [
        number_view(recap.comparison, reader, f"shots-{recap.key[:10]}", anchors(recap.films))
        for recap in (newest, faster())
        if recap.comparison is not None
    ]
    body = environment.get_template("components.html.jinja").render(
        say=EN.say,
        count=EN.count,
        coach=COACH,
        numbers=numbers,
        films=[film_view(newest.films[0], EN)],
        words=coach_words("Some *leaning* and **strong** words.\n\n- one\n- two\n\n> and a quote"),
        practice=practice_view(newest, reader),
        care=care_view(newest, reader),
        other_pages=[("index.html", EN.say("page.measured.link"))],
    )
    page = Page("index.html", "All parts", body)
    return Site(SiteKind.STUDENT, "All parts", "en", (page,), film_assets(newest.films))


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("snapshots")
    files = root / "files"
    files.mkdir()
    told = mara(files)
    nele = student(faster(), name="Nele")
    nele = replace(nele, student=replace(nele.student, key="nele"))
    sites = {
        "student": student_site(told, COACH, EN),
        "components": components(root / "parts"),
        "cases": cases_site([replace(case(), retention=what_stuck())], COACH, EN),
        "card": card_site(COACH, EN, with_cases=True),
        "book": book_site(bind_book((told, nele), (), told.recaps[-1].on), COACH, EN),
    }
    for poster in root.rglob("*.jpg"):
        Image.linear_gradient("L").resize((640, 500)).convert("RGB").save(poster)
    for name, site in sites.items():
        (root / name).mkdir()
        build_site(site, root / name, template_folder())
    return root


def changed(one: Image.Image, other: Image.Image) -> float:
    """The share of pixels that differ plainly; all of them where the sizes do."""
    if one.width != other.width or abs(one.height - other.height) > HEIGHT_SLACK:
        return 1.0
    box = (0, 0, one.width, min(one.height, other.height))
    away = ImageChops.difference(one.crop(box), other.crop(box)).convert("L")
    return sum(away.histogram()[PLAINLY:]) / (away.width * away.height)


@pytest.fixture
def held_against(request: pytest.FixtureRequest) -> Callable[[str, Image.Image], str | None]:
    """What is wrong with a picture, or None; a wrong one is kept in ``actual``."""

    def hold(name: str, came_out: Image.Image) -> str | None:
        kept = HERE / "golden" / f"{name}.webp"
        if request.config.getoption("--golden-update"):
            kept.parent.mkdir(exist_ok=True)
            came_out.save(kept, quality=38, method=6)
        if kept.is_file():
            with Image.open(kept) as picture:
                share = changed(picture.convert("RGB"), came_out)
            if share <= MANY:
                return None
            fault = f"{name}: {share:.1%} of it changed"
        else:
            fault = f"{name}: no picture is kept"
        actual = HERE / "actual" / f"{name}.png"
        actual.parent.mkdir(exist_ok=True)
        came_out.save(actual)
        return f"{fault}; see {actual}"

    return hold


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [320, 390, 1200])
def test_pages_look_as_they_did(
    browser: Browser,
    built: Path,
    held_against: Callable[[str, Image.Image], str | None],
    width: int,
    scheme: str,
) -> None:
    context = browser.new_context(
        viewport={"width": width, "height": 800},
        color_scheme="dark" if scheme == "dark" else "light",
        reduced_motion="reduce",
    )
    page = context.new_page()
    faults = []
    for kind, path in KINDS.items():
        page.goto((built / path).as_uri())
        page.evaluate("document.fonts.ready")
        shot = Image.open(BytesIO(page.screenshot(full_page=True, animations="disabled")))
        half = shot.convert("RGB").resize((shot.width // 2, shot.height // 2), Image.Resampling.BOX)
        faults.append(held_against(f"{kind}.{width}-{scheme}", half))
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
