"""The player in a real browser: every frame it shows is the frame it says."""

from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from msgspec.structs import replace
from PIL import Image
from playwright.sync_api import Browser, Locator, Page

from recapgen.words.catalogue import words
from tests.browser.film_page import FPS, FRAMES, PAIR, SHEETS, STRIKE, lay_out, page_with, served
from tests.clips.phone_clips import ffmpeg, film, number_in, picture

pytestmark = [pytest.mark.browser, pytest.mark.ffmpeg]


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A page with one pair: then counts from 0, now from 1000."""
    made = tmp_path_factory.mktemp("site")
    film(made / "then.mp4", range(FRAMES))
    film(made / "now.mp4", range(1000, 1000 + FRAMES))
    ffmpeg(
        *("-i", str(made / "then.mp4"), "-i", str(made / "now.mp4")),
        *("-filter_complex", "hstack", "-g", "12", "-bf", "0", "-pix_fmt", "yuv420p"),
        *("-movflags", "+faststart", str(made / "film.mp4")),
    )
    still = np.hstack([picture(STRIKE), picture(1000 + STRIKE)])
    Image.fromarray(still).save(made / "strike.webp")
    Image.fromarray(still).save(made / "strip.webp")
    lay_out(made, PAIR)
    return made


class Reader:
    """A student with a page open; whatever the page complains of or asks for is kept."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.complaints: list[str] = []
        self.asked_for: list[str] = []
        page.on("console", lambda told: self.complaints.append(told.text))
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        page.on("request", lambda request: self.asked_for.append(request.url))

    def open(self, address: str) -> None:
        self.page.goto(address)

    def at(self, selector: str) -> Locator:
        return self.page.locator(f".film {selector}")

    @property
    def slider(self) -> Locator:
        return self.page.get_by_role("slider", name="moment in the swing")

    def key(self, name: str) -> Locator:
        return self.page.get_by_role("button", name=name, exact=True)

    def forget(self) -> None:
        self.page.evaluate("document.querySelector('.film').removeAttribute('data-shown')")

    def settles_on(self, frame: int) -> bool:
        """The player says that it shows ``frame``, and the screen soon does, then and now.

        A browser tells of a finished seek a moment before the picture is on the screen.
        """
        self.page.locator(f".film[data-shown='{frame}']").wait_for()
        for _ in range(60):
            if self.seen() == (frame, 1000 + frame):
                return True
            self.page.wait_for_timeout(50)
        return False

    def play_past(self, seconds: float) -> None:
        self.at("video").evaluate(
            "(v, s) => new Promise(r => v.ontimeupdate = () => v.currentTime > s && r())",
            seconds,
        )

    def seen(self) -> tuple[int, int]:
        """The burnt-in numbers, then and now."""
        shot = np.asarray(Image.open(BytesIO(self.at("video").screenshot())).convert("RGB"))
        middle = shot.shape[1] // 2
        return number_in(shot[:, :middle]), number_in(shot[:, middle : 2 * middle])

    def said(self) -> tuple[str | None, str | None]:
        return (
            self.slider.get_attribute("aria-valuenow"),
            self.slider.get_attribute("aria-valuetext"),
        )


@pytest.fixture
def reader(browser: Browser) -> Iterator[Reader]:
    context = browser.new_context(viewport={"width": 390, "height": 844}, reduced_motion="reduce")
    reading = Reader(context.new_page())
    yield reading
    context.close()
    assert reading.complaints == []
    schemes = ("file:", "data:", "blob:", "http://127.0.0.1:")
    assert [a for a in reading.asked_for if not a.startswith(schemes)] == []


@pytest.fixture(params=["disk", "server"])
def address(request: pytest.FixtureRequest, site: Path) -> Iterator[str]:
    if request.param == "disk":
        yield (site / "index.html").as_uri()
        return
    with served(site) as root:
        yield f"{root}index.html"


@pytest.fixture
def on_disk(reader: Reader, site: Path) -> Reader:
    reader.open((site / "index.html").as_uri())
    return reader


def test_dragging_shows_the_frame_that_it_says(reader: Reader, address: str) -> None:
    reader.open(address)
    ruler = reader.at(".film-track svg").bounding_box()
    assert ruler is not None
    frames = np.random.default_rng(5).permutation(FRAMES)[:40]
    mouse = reader.page.mouse
    middle = ruler["y"] + ruler["height"] / 2
    mouse.move(ruler["x"] + 1, middle)
    mouse.down()
    for frame in frames.tolist():
        reader.forget()
        mouse.move(ruler["x"] + ruler["width"] * frame / (FRAMES - 1), middle)
        assert reader.settles_on(frame)
    mouse.up()
    reader.forget()
    mouse.move(ruler["x"], middle)
    assert reader.at("video").evaluate("video => video.seeking") is False


def test_nothing_loads_until_somebody_asks(reader: Reader, address: str) -> None:
    reader.open(address)
    reader.page.wait_for_load_state("networkidle")
    assert not [a for a in reader.asked_for if a.endswith(".mp4")]
    assert reader.at("video").evaluate("video => video.readyState") == 0
    assert reader.seen() == (STRIKE, 1000 + STRIKE)
    assert reader.said() == (str(STRIKE), "at impact")
    reader.key("one frame forward").click()
    assert reader.settles_on(STRIKE + 1)


def test_the_keyboard_alone_is_enough(on_disk: Reader) -> None:
    page = on_disk.page
    for _ in range(3):  # past the two sides, each to be seen alone
        page.keyboard.press("Tab")
    assert on_disk.slider.evaluate("track => track === document.activeElement")
    for pressed, frame in (
        ("ArrowRight", 51),
        ("ArrowLeft", 50),
        ("ArrowLeft", 49),
        ("Home", 0),
        ("ArrowLeft", 0),
        ("End", 89),
        ("ArrowRight", 89),
        ("PageDown", 83),
    ):
        on_disk.forget()
        page.keyboard.press(pressed)
        assert on_disk.settles_on(frame)
    assert on_disk.said() == ("83", "0.55 s after impact")
    page.keyboard.press("s")
    assert on_disk.key("slow").get_attribute("aria-pressed") == "true"
    page.keyboard.press("Space")
    on_disk.at("video").evaluate("video => new Promise(r => video.onended = r)")
    assert on_disk.said()[0] == "89"
    order = []
    for _ in range(10):
        order.append(page.evaluate("document.activeElement.dataset.do ?? 'track'"))
        page.keyboard.press("Tab")
    assert order == [
        *("track", "track", "impact", "back", "play", "on", "slow", "closer", "mark", "full"),
    ]


def test_one_side_alone_is_as_large_as_both_were(on_disk: Reader) -> None:
    for side, first in (("before", STRIKE), ("after", 1000 + STRIKE)):
        alone = on_disk.page.get_by_role("button", name=f"{side}: show only this clip")
        alone.click()
        shot = on_disk.at(".film-picture").screenshot()
        shown = np.asarray(Image.open(BytesIO(shot)).convert("RGB"))
        assert number_in(shown) == first
        assert on_disk.at(".film-side:visible").all_inner_texts() == [side]
        alone.click()
    assert on_disk.seen() == (STRIKE, 1000 + STRIKE)


def test_a_position_brings_the_film_there_and_a_mark_can_be_put_away(on_disk: Reader) -> None:
    on_disk.page.get_by_text("The swing in still pictures").click()
    on_disk.page.locator(".film-names").get_by_role("button", name="top").click()
    assert on_disk.settles_on(30)
    on_disk.page.locator(".film-under").get_by_role("button", name="impact").click()
    assert on_disk.settles_on(STRIKE)
    drawn = on_disk.at(".film-drawn")
    assert drawn.is_visible()
    on_disk.key("marks").click()
    assert drawn.is_hidden()


def test_closer_shows_the_same_part_of_both_sides_around_the_place_that_was_tapped(
    on_disk: Reader,
) -> None:
    """The number's lowest place lies low on the right of each side, the corners are coloured."""

    def shown() -> tuple[np.ndarray, np.ndarray]:
        shot = np.asarray(
            Image.open(BytesIO(on_disk.at(".film-picture").screenshot())).convert("RGB")
        )
        return shot[:, : shot.shape[1] // 2], shot[:, shot.shape[1] // 2 : shot.shape[1] // 2 * 2]

    def tap(across: float, down: float) -> None:
        box = on_disk.at(".film-closer").bounding_box()
        assert box is not None
        on_disk.page.mouse.click(box["x"] + box["width"] * across, box["y"] + box["height"] * down)

    def middle_is_lit() -> set[bool]:
        return {bool(side[side.shape[0] // 2, side.shape[1] // 2].mean() > 110) for side in shown()}

    on_disk.key("marks").click()
    on_disk.key("zoom").click()
    on_disk.page.locator(f".film[data-shown='{STRIKE}']").wait_for()
    assert "Tap the spot" in on_disk.at(".film-hint").inner_text()
    tap(0.99, 0.99)
    for side in shown():  # the lower right has no coloured corner
        assert int(side[-8, 20].max()) - int(side[-8, 20].min()) < 30
    for _ in range(3):  # half of what is shown further each time
        tap(0.51, 0.01)  # on the side of now
    for side in shown():
        red = side[side.shape[0] // 5, 8]
        assert red[0] > 180
        assert red[1:].max() < 90
    on_disk.key("zoom").focus()
    for pressed in ["ArrowRight"] * 13 + ["ArrowDown"] * 9:
        on_disk.page.keyboard.press(pressed)
    assert on_disk.said()[0] == str(STRIKE)
    was = middle_is_lit()
    assert was == {False}
    on_disk.key("one frame forward").click()
    on_disk.page.locator(f".film[data-shown='{STRIKE + 1}']").wait_for()
    assert middle_is_lit() == {True}
    on_disk.key("zoom").click()
    assert on_disk.settles_on(STRIKE + 1)


def test_keys_elsewhere_on_the_page_stay_the_pages_own(on_disk: Reader) -> None:
    for pressed in ("ArrowRight", "Space", "s", "End"):
        on_disk.page.keyboard.press(pressed)
    assert on_disk.said() == (str(STRIKE), "at impact")
    assert on_disk.at("video").evaluate("video => video.readyState") == 0


def test_play_begins_at_the_start_and_pause_rests_on_a_whole_frame(on_disk: Reader) -> None:
    on_disk.key("slow").click()
    on_disk.key("play").click()
    on_disk.play_past(0.1)
    assert on_disk.at("video").evaluate("video => video.playbackRate") == 0.25
    on_disk.key("pause").click()
    on_disk.page.locator(".film[data-shown]").wait_for()
    frame = int(on_disk.said()[0] or -1)
    assert on_disk.settles_on(frame)
    assert 6 <= frame < STRIKE
    assert on_disk.seen() == (frame, 1000 + frame)
    on_disk.key("slow").click()
    assert on_disk.key("slow").get_attribute("aria-pressed") == "false"
    on_disk.key("impact").click()
    assert on_disk.settles_on(STRIKE)


def test_a_film_that_waits_for_what_it_has_is_set_going_again(on_disk: Reader) -> None:
    """As Firefox does where time is short: seen there, and acted here."""
    on_disk.key("slow").click()
    on_disk.key("play").click()
    on_disk.play_past(0.1)
    stuck_at, went_on_at = on_disk.at("video").evaluate(
        """video => new Promise((told, late) => {
          setTimeout(late, 20000, new Error("it waits still"));
          const stuck = video.currentTime;
          Object.defineProperty(video, "readyState", { value: 2, configurable: true });
          video.addEventListener("seeking", () => {
            delete video.readyState;
            told([stuck, video.currentTime]);
          }, { once: true });
          video.dispatchEvent(new Event("waiting"));
        })"""
    )
    assert stuck_at <= went_on_at < stuck_at + 0.25
    on_disk.play_past(went_on_at + 0.1)
    assert on_disk.key("pause").is_visible()


def test_play_begins_where_the_film_was_last_brought(on_disk: Reader) -> None:
    """Also where it is still on its way to an earlier place."""
    on_disk.slider.press("End")
    assert on_disk.settles_on(FRAMES - 1)
    played_at = on_disk.at("video").evaluate(
        """async (video) => {
          const track = document.querySelector(".film-track");
          const press = (key) => track.dispatchEvent(
            new KeyboardEvent("keydown", { key, bubbles: true, cancelable: true }));
          press("Home");
          await Promise.resolve().then(() => {}).then(() => {});
          if (!video.seeking) throw new Error("the first seek has not begun");
          for (let n = 0; n < 8; n += 1) press("PageUp");
          press(" ");
          return new Promise((told, late) => {
            setTimeout(late, 20000, new Error("it does not play"));
            let sought = 0;
            video.addEventListener("seeked", () => {
              sought += 1;
              if (sought === 2 && !video.paused) told(video.currentTime);
            });
          });
        }"""
    )
    assert played_at >= 48 / FPS


def test_played_to_the_end_it_begins_again(on_disk: Reader) -> None:
    on_disk.key("play").click()
    on_disk.at("video").evaluate("video => new Promise(r => video.onended = r)")
    assert on_disk.said()[0] == str(FRAMES - 1)
    begun_at = on_disk.at("video").evaluate(
        """video => new Promise(told => {
          video.addEventListener("playing", () => told(video.currentTime), { once: true });
          document.querySelector("[data-do=play]").click();
        })"""
    )
    assert begun_at < 0.5


def test_every_control_has_a_name_and_room_for_a_thumb(on_disk: Reader) -> None:
    controls = on_disk.page.locator(".film-hand :is(button, [role=slider])")
    assert controls.count() == 10
    for control in controls.all():
        box = control.bounding_box()
        assert box is not None
        assert min(box["width"], box["height"]) >= 44
    labels = on_disk.at(".film-side")
    assert labels.all_inner_texts() == ["before", "after"]
    assert on_disk.page.locator("video").get_attribute("aria-label") == (
        "Face <b>on</b>: before on the left, after on the right, both at the same moment"
    )


def test_nothing_is_wider_than_the_screen(on_disk: Reader) -> None:
    for width in (320, 390, 1200):
        on_disk.page.set_viewport_size({"width": width, "height": 800})
        page_width = on_disk.page.evaluate("document.documentElement.scrollWidth")
        assert page_width == width


def test_a_film_that_cannot_be_loaded_goes_back_to_the_browsers_own_controls(
    browser: Browser, site: Path, tmp_path: Path
) -> None:
    for name in ("index.html", *SHEETS, "film.js", "strike.webp"):
        (tmp_path / name).write_bytes((site / name).read_bytes())
    page = browser.new_page()
    page.goto((tmp_path / "index.html").as_uri())
    page.get_by_role("button", name="play").click()
    page.locator(".film-hand").wait_for(state="hidden")
    assert page.locator("video").evaluate("video => video.controls") is True
    page.close()


def test_without_its_script_it_is_the_browsers_own_video(browser: Browser, site: Path) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((site / "index.html").as_uri())
    assert page.locator("video[controls][preload=none][poster]").count() == 1
    assert page.locator(".film-hand").is_hidden()
    context.close()


def test_a_guess_is_said_beside_the_film() -> None:
    told = page_with(
        replace(PAIR, two_sided=False, guess_note=words("en").say("film.guess.single"))
    )
    assert "We estimated the moment of impact." in told
    assert "film-then" not in told
    assert " style=" not in told
