"""Worksheets: what is tapped becomes notes that build, and what was typed stays to the letter."""

import difflib
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from recapgen.model.filming import MarkLine
from recapgen.model.lesson import Direction
from recapgen.model.quantity import Quantity
from recapgen.publish.output import OutputPlaces
from recapgen.tools.cache import Cache
from tests.browser.sheets import Sheets, lay_out_sheets, read_again
from tests.end_to_end.small_lessons import ROOT

pytestmark = pytest.mark.browser

FILMED = "mira/2027-01-23 driver"
SAMPLES = sorted(
    f"{notes.parts[-3]}/{notes.parts[-2]}"
    for notes in (ROOT / "sample_lessons").glob("*/*/notes.md")
)


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory, sample_out: Path) -> Cache:
    """Its clips were looked into when the samples were built."""
    return Cache(tmp_path_factory.mktemp("kept"), behind=OutputPlaces(sample_out).cache)


SOME = [FILMED, "lene/2027-04-10 wedges", "mira/2027-04-17 nine holes", "otto/2027-03-13"]
OTHER_FILMED = ("2027-02-13", "2027-01-30", "2027-02-27", "2027-02-20", "2027-02-06 pitching")


@pytest.fixture(scope="module")
def sheets(tmp_path_factory: pytest.TempPathFactory, kept: Cache) -> Sheets:
    base = tmp_path_factory.mktemp("worksheets")
    lessons = base / "lessons"
    without = shutil.ignore_patterns(*OTHER_FILMED)
    shutil.copytree(ROOT / "sample_lessons", lessons, ignore=without)
    return lay_out_sheets(lessons, base / "sheets", kept)


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 1200, "height": 900}, accept_downloads=True)
    opened = context.new_page()
    opened.on("pageerror", lambda error: pytest.fail(str(error)))
    yield opened
    context.close()


def opened(page: Page, sheets: Sheets, lesson: str) -> bytes:
    """The page at a lesson's worksheet; its notes as they are in the folder."""
    page.goto(sheets.at(lesson))
    page.wait_for_selector("[data-worksheet]:not([hidden])")
    return (sheets.lessons / lesson / "notes.md").read_bytes()


def saved(page: Page) -> bytes:
    with page.expect_download() as download:
        page.click("[data-do=download]")
    assert download.value.suggested_filename == "notes.md"
    return download.value.path().read_bytes()


def tap_everything(page: Page) -> None:
    """As much of each part as a lesson has."""
    shots = page.locator("[data-shot]")
    if shots.count():
        shots.nth(2).click()
        page.click("[data-mishit=thin]")
        shots.nth(3).click()
        page.click("[data-reason] >> nth=0")
        if page.locator("[data-edge]").count():
            page.locator("[data-edge]").first.focus()
            page.keyboard.press("ArrowLeft")
    if page.locator("[data-clip]").count():
        clip = page.locator("[data-clip]").first
        clip.locator("[data-by='1']").click()
        clip.locator("[data-impact-here]").click()
        draw(page, "blur", (0.1, 0.1), (0.3, 0.25))
        draw(page, "ball", (0.5, 0.8), (0.5, 0.8))
        draw(page, "line", (0.4, 0.2), (0.42, 0.7))
    page.fill("[data-text=intent]", 'Say "now", then: hum # softly')
    page.fill("[data-plan=balls]", "25")
    page.select_option("[data-drill]", "tea tray")


def draw(page: Page, tool: str, first: tuple[float, float], last: tuple[float, float]) -> None:
    clip = page.locator("[data-clip]").first
    clip.locator(f"[data-tool={tool}]").click()
    stage = clip.locator("[data-stage]")
    stage.scroll_into_view_if_needed()
    box = stage.bounding_box()
    assert box is not None
    (x0, y0), (x1, y1) = (
        (box["x"] + x * box["width"], box["y"] + y * box["height"]) for x, y in (first, last)
    )
    page.mouse.move(x0, y0)
    page.mouse.down()
    page.mouse.move((x0 + x1) / 2, (y0 + y1) / 2)
    page.mouse.move(x1, y1)
    page.mouse.up()


def changed_lines(before: bytes, after: bytes) -> tuple[list[str], list[str]]:
    old, new = (text.decode().splitlines(keepends=True) for text in (before, after))
    told = list(difflib.ndiff(old, new))
    return (
        [line[2:] for line in told if line.startswith("- ")],
        [line[2:] for line in told if line.startswith("+ ")],
    )


def test_what_is_tapped_makes_notes_without_a_problem(page: Page, sheets: Sheets) -> None:
    there_and_back(page, sheets, SOME)


@pytest.mark.campaign
def test_what_is_tapped_makes_notes_without_a_problem_for_every_sample(
    page: Page, tmp_path: Path, kept: Cache
) -> None:
    shutil.copytree(ROOT / "sample_lessons", tmp_path / "lessons")
    all_of = lay_out_sheets(tmp_path / "lessons", tmp_path / "sheets", kept)
    there_and_back(page, all_of, SAMPLES)


def there_and_back(page: Page, sheets: Sheets, lessons: list[str]) -> None:
    """Everything tapped, read, and taken back."""
    for lesson in lessons:
        before = opened(page, sheets, lesson)
        assert saved(page) == before, "nothing was tapped"
        tap_everything(page)
        after = saved(page)
        try:
            read = read_again(sheets, lesson, after)
        finally:
            (sheets.lessons / lesson / "notes.md").write_bytes(before)
        assert read.notes.intent == 'Say "now", then: hum # softly'
        practice = read.notes.practice
        assert practice is not None
        assert practice.balls_per_session == 25
        assert practice.steps[-1].drill == "tea tray"
        if read.clips:
            film = read.clips[0]
            assert film.impact_s is not None
            assert film.directions.ball is not None
            assert isinstance(film.directions.mark, MarkLine)
            assert len(film.directions.blur) == 1
        if read.shots is not None:
            assert [tag.tag for tag in read.notes.mishits][-1] == "thin"
            assert "phone rang" in [left.reason for left in read.notes.left_out]
        page.click("[data-do=undo]")
        while page.is_enabled("[data-do=undo]"):
            page.click("[data-do=undo]")
        assert saved(page) == before, "everything can be taken back"


TYPED = """\
\ufeff---\r
# written in the car park\r
intent: Hum one even note 😀   # their own tune\r
feels like: rocking a pram\r
number: carry      # since January\r
want: 38 to 44 m\r
matters: 2 m\r
# blocks as I counted them\r
shots: {warm-up: 1-4, before: 5-14, after: 15-26, closing: 27-31}  # rain from 20 on\r
mishits: {9: thin, 12-13: "the mat moved"}   # I heard it\r
clips:\r
  # the left phone\r
  - {file: hedge 8.mp4, view: face on, shot: 8}   # sun behind\r
  - file: hedge 21.mp4\r
    view: face on    # as always\r
    shot: 21\r
practice:\r
  balls: 30     # not more\r
  # the order matters\r
  steps:\r
    - {drill: one even note, times: 4}  # at home\r
    - {do: "Three buckets", balls: 30}\r
---\r
Words to keep,   to the letter.\r
\r
  # not a comment\r
"""


def test_reopened_notes_keep_comments_line_ends_and_words_to_the_letter(
    browser: Browser, tmp_path: Path, sheets: Sheets, kept: Cache
) -> None:
    lesson = "pia/2027-05-15 pitching again"
    lessons = tmp_path / "lessons"
    shutil.copytree(sheets.lessons, lessons, ignore=shutil.ignore_patterns("mira", "gunnar"))
    (lessons / lesson / "notes.md").write_bytes(TYPED.encode())
    own = lay_out_sheets(lessons, tmp_path / "sheets", kept)
    page = browser.new_page()
    before = opened(page, own, lesson)
    assert saved(page) == before
    page.locator("[data-shot='12']").click()
    page.click("[data-mishit='']")
    page.locator("[data-edge]").first.focus()
    page.keyboard.press("ArrowRight")
    page.locator("[data-clip] >> nth=1").locator("[data-impact-here]").click()
    page.locator("[data-clip] >> nth=0").locator("[data-tool=ball]").click()
    page.locator("[data-clip] >> nth=0").locator("[data-stage]").focus()
    page.keyboard.press("Enter")
    page.fill("[data-plan=balls]", "35")
    page.locator("[data-steps] button").nth(1).click()
    page.fill("[data-plan=weeks]", "4")
    after = saved(page)
    page.close()
    gone, fresh = changed_lines(before, after)
    assert fresh == [
        "shots: {warm-up: 1-5, before: 6-14, after: 15-26, closing: 27-31}  # rain from 20 on\r\n",
        'mishits: {9: thin, 13: "the mat moved"}   # I heard it\r\n'.replace('"', ""),
        "  - {file: hedge 8.mp4, view: face on, shot: 8, ball: [0.5, 0.8]}   # sun behind\r\n",
        "    impact: 1.551\r\n".replace("1.551", fresh[3].split()[1]),
        "  balls: 35     # not more\r\n",
        "  weeks: 4\r\n",
    ]
    assert len(gone) == 5
    assert float(fresh[3].split()[1]) == pytest.approx(1.55, abs=0.02)
    read = read_again(own, lesson, after)
    assert [tag.shot for tag in read.notes.mishits] == [9, 13]
    assert read.notes.practice is not None
    assert [step.drill for step in read.notes.practice.steps] == ["one even note"]


def test_an_empty_front_matter_becomes_whole_notes(
    browser: Browser, tmp_path: Path, sheets: Sheets, kept: Cache
) -> None:
    lesson = "otto/2027-03-13"
    lessons = tmp_path / "lessons"
    shutil.copytree(sheets.lessons, lessons, ignore=shutil.ignore_patterns("[gjlmp]*"))
    for empty in (b"", b"---\n---\n", b"Well done.\n"):
        (lessons / lesson / "notes.md").write_bytes(empty)
        own = lay_out_sheets(lessons, tmp_path / "sheets", kept)
        page = browser.new_page()
        opened(page, own, lesson)
        page.locator("[data-shot] >> nth=0").click()
        page.click("[data-starts=before]")
        page.locator("[data-shot] >> nth=3").click()
        page.click("[data-starts=after]")
        page.select_option("[data-own]", index=1)
        page.select_option("[data-number]", "carry")
        page.select_option("[data-way]", "window")
        page.fill("[data-low]", "116")
        page.fill("[data-high]", "124")
        page.fill("[data-matters]", "3")
        page.check("[data-in-time]")
        page.fill("[data-plan=balls]", "20")
        page.fill("#new-step", "Whistle past an empty tee")
        page.press("#new-step", "Enter")
        after = saved(page)
        page.close()
        assert after.endswith(b"Well done.\n" if empty.startswith(b"Well") else b"---\n")
        read = read_again(own, lesson, after)
        assert [(span.first, span.last) for span in read.notes.spans] == [(1, 3), (4, 6)]
        told = read.notes.declaration
        assert told is not None
        assert (told.quantity, told.want.direction) == (Quantity.CARRY, Direction.WINDOW)
        assert told.stated
