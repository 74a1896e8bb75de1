"""Worksheets: what is tapped becomes notes that build, and what was typed stays to the letter."""

import difflib
import json
import shutil
import subprocess
from collections.abc import Iterator
from functools import partial
from pathlib import Path

import pytest
from msgspec.structs import replace
from playwright.sync_api import Browser, Page, expect

from recapgen.desk.notes_saving import save_notes
from recapgen.model.filming import MarkLine
from recapgen.model.lesson import Direction
from recapgen.model.notes_sent import SheetDesk
from recapgen.model.quantity import Quantity
from recapgen.publish.output import OutputPlaces
from recapgen.serving.page_host import PageHost
from recapgen.tools.cache import Cache
from tests.browser.axe_rules import let_in, page_for_axe, violations
from tests.browser.sheets import Sheets, lay_out_sheets, read_again
from tests.browser.tapping import draw, tap_everything
from tests.browser.test_offline import INSTALLED
from tests.end_to_end.small_lessons import ROOT
from tests.serving.asking import shown

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


PLAIN = "lene/2027-04-10 wedges"


@pytest.fixture
def served(tmp_path: Path, sheets: Sheets) -> Iterator[tuple[Sheets, PageHost]]:
    """A copy of one student's lessons with their worksheets, as ``watch`` serves them."""
    others = shutil.ignore_patterns("[gjmop]*")
    shutil.copytree(sheets.lessons, tmp_path / "lessons", ignore=others)
    book = tmp_path / "book"
    shutil.copytree(sheets.folder, book / "worksheets")
    own = replace(sheets, lessons=tmp_path / "lessons")
    desk = SheetDesk(partial(save_notes, own.lessons), lambda _: None)
    with shown({"coach_book": book}, sheets=desk) as host:
        yield own, host


def test_notes_are_saved_into_the_folder_and_never_over_what_was_typed_meanwhile(
    page: Page, served: tuple[Sheets, PageHost]
) -> None:
    own, host = served
    notes = own.lessons / PLAIN / "notes.md"
    old = notes.read_bytes()
    page.goto(f"{host.address}coach_book/worksheets/{own.pages[PLAIN].page}")
    page.fill("[data-text=intent]", "Land it softly")
    page.click("[data-do=save]")
    expect(page.locator("[data-sent]")).to_have_text("Saved to the lesson's folder.")
    saved_once = notes.read_bytes()
    coat = b"Land it like a coat on the back of a chair"
    assert saved_once == old.replace(coat, b"Land it softly")
    typed = saved_once.replace(b"a lazy underarm throw", b"a bowl of soup")
    notes.write_bytes(typed)
    page.fill("[data-text=intent]", "Land it like a feather")
    page.click("[data-do=save]")
    expect(page.locator("[data-meanwhile]")).to_be_visible()
    assert "a bowl of soup" in page.inner_text("[data-difference] .theirs >> nth=1")
    assert notes.read_bytes() == typed, "nothing is written before one is chosen"
    page.click("[data-do=mine]")
    expect(page.locator("[data-meanwhile]")).to_be_hidden()
    assert b"Land it like a feather" in notes.read_bytes()
    assert typed in [kept.read_bytes() for kept in (own.lessons / ".recapgen").rglob("notes.*")]


def test_a_reload_loses_nothing_and_other_notes_are_asked_about(
    page: Page, tmp_path: Path, sheets: Sheets, kept: Cache
) -> None:
    opened(page, sheets, PLAIN)
    assert page.is_hidden("[data-do=save]"), "from the disk there is nobody to save"
    page.locator("[data-shot] >> nth=4").click()
    page.click("[data-starts=before]")
    page.fill("[data-text=intent]", "Land it softly")
    page.fill("[data-text='feels like']", "soup")
    now = saved(page)
    page.reload()
    assert saved(page) == now
    assert page.inner_text("[data-changes]") == "Steps: 3"
    page.click("[data-do=undo]")
    assert "the feels like" not in page.inner_text("[data-text-now]")
    lessons = tmp_path / "lessons"
    shutil.copytree(sheets.lessons, lessons, ignore=shutil.ignore_patterns("[gjmop]*"))
    notes = lessons / PLAIN / "notes.md"
    notes.write_bytes(notes.read_bytes() + b"One line more.\n")
    before = (sheets.folder / sheets.pages[PLAIN].page).read_bytes()
    try:
        lay_out_sheets(lessons, tmp_path / "again", kept)
        later = (tmp_path / "again" / sheets.pages[PLAIN].page).read_bytes()
        (sheets.folder / sheets.pages[PLAIN].page).write_bytes(later)
        page.reload()
        assert page.is_visible("[data-older]")
        page.click("[data-do=again]")
        told = saved(page).decode()
    finally:
        (sheets.folder / sheets.pages[PLAIN].page).write_bytes(before)
    assert "intent: Land it softly" in told
    assert told.endswith("One line more.\n")


def test_an_edge_is_dragged_and_a_place_is_drawn_moved_and_taken_out(
    page: Page, sheets: Sheets
) -> None:
    opened(page, sheets, FILMED)
    edge = page.locator("[data-edge]").first
    goal = page.locator("[data-shot='9']").bounding_box()
    edge.scroll_into_view_if_needed()
    box, goal = edge.bounding_box(), page.locator("[data-shot='9']").bounding_box()
    assert box is not None
    assert goal is not None
    page.mouse.move(box["x"] + 2, box["y"] + 10)
    page.mouse.down()
    page.mouse.move(goal["x"] + goal["width"] - 4, goal["y"] + 10, steps=6)
    page.mouse.up()
    assert b"warm-up: 1-9, before: 10-16" in saved(page)
    assert page.inner_text("[data-changes]") == "Steps: 1", "one drag is one step"
    clip = page.locator("[data-clip]").first
    draw(page, "crop", (0.05, 0.1), (0.95, 0.9))
    assert b"crop: [0.05, 0.1, 0.9, 0.8]" in saved(page)
    clip.locator("[data-stage]").press("Shift+ArrowLeft")
    assert b"crop: [0.05, 0.1, 0.89, 0.8]" in saved(page)
    page.check("[data-clip] >> nth=0 >> [data-field=mirror]")
    told = saved(page)
    assert b"crop: [0.06, 0.1, 0.89, 0.8]" in told
    assert b"face: [0.49, 0.3, 0.14, 0.09]" in told
    assert b"mirror: yes" in told
    other = page.locator("[data-clip] >> nth=1")
    other.locator("[data-tool=crop]").click()
    other.locator("[data-same]").click()
    assert saved(page).count(b"crop: ") == 2, "what another clip has is offered"
    clip.locator("[data-marked] button").last.click()
    assert saved(page).count(b"crop: ") == 1


def test_everything_has_room_for_a_finger_and_is_read_out(browser: Browser, sheets: Sheets) -> None:
    with page_for_axe(browser) as page:
        page.goto(sheets.at(FILMED))
        page.locator("[data-shot]").nth(3).click()
        page.locator("[data-tool=blur]").first.click()
        let_in(page)
        assert violations(page) == []
        page.emulate_media(color_scheme="dark")
        assert violations(page, ["color-contrast"]) == []
        for width in (320, 390, 1200):
            page.set_viewport_size({"width": width, "height": 800})
            assert page.evaluate("document.documentElement.scrollWidth") == width
            small = page.evaluate(
                """[...document.querySelectorAll(
                'button, .worksheet select, .worksheet input:not([type=checkbox]), [data-edge]')]
                .filter((one) => one.offsetParent)
                .map((one) => [one.outerHTML.slice(0, 60), one.getBoundingClientRect()])
                .filter(([, box]) => box.height < 44 || box.width < 44).map(([what]) => what)"""
            )
            assert small == []


def test_firefox_taps_the_same_notes(sheets: Sheets) -> None:
    firefox, node = shutil.which("firefox-esr") or shutil.which("firefox"), shutil.which("node")
    if firefox is None or node is None or not (INSTALLED / "node_modules").is_dir():
        pytest.skip("no firefox, node or puppeteer-core here")
    walk = Path(__file__).with_name("firefox_worksheet.mjs")
    ran = subprocess.run(
        [node, walk, INSTALLED, firefox, sheets.at(FILMED)],
        capture_output=True,
        text=True,
        timeout=300,
        check=True,
    )
    told = json.loads(ran.stdout)
    assert told["complaints"] == []
    assert told["wide"] <= 320, "less where a bar to scroll takes room"
    assert "impact: 1.6" in told["text"]
    assert "blur: [0.4, 0.3, 0.2, 0.15]" in told["text"]
    assert "mishits: {9: thin}" in told["text"]
