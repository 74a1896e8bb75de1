"""Picture, ruler and keys stand on one screen together, each name at its place."""

from pathlib import Path

import pytest
from msgspec.structs import replace
from PIL import Image
from playwright.sync_api import Page

from recapgen.render.film_view import FilmStop, FilmView
from tests.browser.film_page import PAIR, STRIKE, lay_out

pytestmark = pytest.mark.browser

NAMED = (
    FilmStop("start", 20),
    FilmStop("top", 42),
    FilmStop("impact", STRIKE),
    FilmStop("finish", 80),
)
TALL_PAIR = replace(PAIR, width=1080, height=960, named=NAMED)
SINGLE = replace(PAIR, width=540, height=960, named=NAMED, two_sided=False, now_caption="")
SCREENS = ((390, 664), (844, 390), (1366, 768), (1920, 1080))
MEASURED = """() => {
  const box = (at) => document.querySelector(at).getBoundingClientRect();
  const [picture, hand, ruler] = [box(".film-picture"), box(".film-hand"), box(".film-track svg")];
  const names = [...document.querySelectorAll(".film-under button")].map((name) => {
    const at = name.getBoundingClientRect();
    return { left: at.left, right: at.right, top: at.top, off: (at.left + at.right) / 2
      - ruler.left - ruler.width * name.dataset.at / 89 };
  });
  return { high: Math.max(picture.bottom, hand.bottom) - Math.min(picture.top, hand.top),
    picture: [picture.width, picture.height], wide: document.documentElement.scrollWidth, names,
    chips: [...document.querySelectorAll(".film-side")].map((chip) => {
      const at = chip.getBoundingClientRect();
      return [(at.left - picture.left) / picture.width, (at.right - picture.left) / picture.width];
    }) };
}"""


@pytest.mark.parametrize("view", [TALL_PAIR, SINGLE], ids=["pair", "single"])
def test_a_film_fits_one_screen(page: Page, tmp_path: Path, view: FilmView) -> None:
    for name in ("strike.webp", "strip.webp"):
        Image.new("RGB", (view.width, view.height), "#567").save(tmp_path / name)
    page.goto(lay_out(tmp_path, view).as_uri())
    for width, height in SCREENS:
        page.set_viewport_size({"width": width, "height": height})
        page.evaluate("() => new Promise((r) => requestAnimationFrame(() => setTimeout(r, 60)))")
        told = page.evaluate(MEASURED)
        assert told["high"] <= height, (width, height)
        assert told["wide"] == width
        across, down = told["picture"]
        assert across / down == pytest.approx(view.width / view.height, rel=0.01)
        assert down >= 0.5 * height or across >= 0.9 * min(width, 640) - 40, (width, height)
        for one in told["names"]:
            assert abs(one["off"]) < 2, (width, told["names"])
            others = [o for o in told["names"] if o is not one and o["top"] == one["top"]]
            assert all(o["right"] <= one["left"] or o["left"] >= one["right"] for o in others)
        for side, (left, right) in enumerate(told["chips"]):
            assert side / 2 < left < right < (side + 1) / 2
    page.set_viewport_size({"width": 390, "height": 664})
    full = page.locator("[data-do=full]")
    full.click()
    assert full.get_attribute("aria-pressed") == "true"
    page.wait_for_function(
        "document.querySelector('.film').getBoundingClientRect().width === innerWidth"
    )
    assert page.locator(".film figcaption").is_hidden()
    full.click()
    page.wait_for_function("!document.querySelector('.film').hasAttribute('data-full')")
