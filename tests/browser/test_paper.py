"""What goes on paper: the strip for the bag, the questions, where the phone stands."""

from datetime import date, timedelta
from io import BytesIO
from pathlib import Path

import pytest
from msgspec.structs import replace
from playwright.sync_api import Page
from pypdf import PdfReader

from recapgen.book.binding import bind_book
from recapgen.model.lesson import DrillStep, Practice
from recapgen.model.people import Area
from recapgen.model.practice_log import LogEntry, PracticeLog
from recapgen.model.recap import StudentRecap
from recapgen.model.source import SourceRef
from recapgen.publish.site_builder import build_site
from recapgen.render.book_pages.site import book_site
from recapgen.render.student_site import student_site
from recapgen.tools.template_folder import template_folder
from recapgen.words.catalogue import words
from tests.book.told import SECOND, comparison, recap
from tests.book.told import student as told_student
from tests.browser.kinds_of_pages import KINDS
from tests.render.recaps_fixture import COACH, full_recap, sixty, student

pytestmark = [pytest.mark.browser, pytest.mark.ffmpeg]

EN = words("en")
PX_A_MM = 96 / 25.4
ALONE = """() => [...document.querySelectorAll("main :is(h2, h3, summary)")]
    .filter(heading => heading.checkVisibility() && !heading.closest(".standing"))
    .filter(heading => ![...heading.parentElement.children].some(
        part => part !== heading && part.checkVisibility() && part.innerText.trim()))
    .map(heading => heading.innerText)"""


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("paper")
    told = student(full_recap())
    for name, site in (
        ("student", student_site(told, COACH, EN)),
        ("book", book_site(bind_book((told,), (), date(2027, 4, 20)), COACH, EN)),
    ):
        (root / name).mkdir()
        build_site(site, root / name, template_folder())
    return root


@pytest.fixture
def page(page: Page) -> Page:
    page.set_viewport_size({"width": 1280, "height": 720})
    page.emulate_media(media="print")
    return page


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize(
    "name", ["student/practice.html", "book/questions.html", "book/filming.html"]
)
def test_one_sheet_is_enough(page: Page, printed: Path, name: str, paper: str) -> None:
    page.goto((printed / name).as_uri())
    assert len(PdfReader(BytesIO(page.pdf(format=paper))).pages) == 1


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_every_card_goes_on_one_sheet(page: Page, every_kind: Path, paper: str) -> None:
    sheets = {}
    for kind, path in KINDS.items():
        if not kind.startswith("book") and kind != "components":
            page.goto((every_kind / path).as_uri())
            sheets[kind] = len(PdfReader(BytesIO(page.pdf(format=paper))).pages)
    assert sheets == dict.fromkeys(sheets, 1)
    assert len(sheets) >= 10


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_home_of_the_busiest_sample_and_all_its_pages_go_on_one_sheet_each(
    page: Page, sample_out: Path, paper: str
) -> None:
    sites = [home.parent for home in sorted((sample_out / "site").glob("*/compare.html"))]
    busiest = max(sites, key=lambda site: len(list(site.glob("2*.html"))))
    for path in sorted(busiest.glob("*.html")):
        page.goto(path.as_uri())
        assert len(PdfReader(BytesIO(page.pdf(format=paper))).pages) == 1, path.name


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_sixty_lessons_go_on_two_sheets_at_home_and_three_compared_and_no_heading_stands_alone(
    page: Page, tmp_path: Path, paper: str
) -> None:
    build_site(student_site(sixty(), COACH, EN), tmp_path, template_folder())
    for name, most in (("index.html", 2), ("compare.html", 3)):
        page.goto((tmp_path / name).as_uri())
        assert len(PdfReader(BytesIO(page.pdf(format=paper))).pages) <= most, name
        assert page.evaluate(ALONE) == []


def much_told() -> StudentRecap:
    """A student with thirty lessons, of whom all was written that a coach would, and more."""
    plan = Practice(
        sessions_per_week=3, weeks=4, steps=(DrillStep("Hum as you go " * 12, 20, 0),) * 9
    )
    sentence = (
        "Next time, ask about the back first, before the small talk, and then bring the bag. "
    )
    days = [SECOND - timedelta(weeks=n) for n in reversed(range(30))]
    told = [
        recap(day.isoformat(), day, "Hum one even note over the hedge " * 3, comparison())
        for day in days
    ]
    notes = replace(
        told[-1].notes,
        practice=plan,
        words=sentence * 40,
        usual_miss="a block",
        letting_go_of="x " * 60,
    )
    private = "Is it the grip? " * 30 + sentence * 20
    pains = [LogEntry(SECOND + timedelta(n), SourceRef(""), 40, pain=True) for n in range(9)]
    marta = told_student(*told[:-1], replace(told[-1], notes=notes, private=private))
    areas = replace(marta.student, areas=tuple(Area))
    return replace(marta, student=areas, log=PracticeLog(tuple(pains), kept=True))


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_student_of_the_book_goes_on_two_sheets_the_brief_on_the_first(
    page: Page, tmp_path: Path, paper: str
) -> None:
    book = book_site(bind_book((much_told(),), (), SECOND + timedelta(days=10)), COACH, EN)
    build_site(book, tmp_path, template_folder())
    page.goto((tmp_path / "student-marta.html").as_uri())
    first, second = PdfReader(BytesIO(page.pdf(format=paper))).pages
    assert "What you wrote to them" in first.extract_text()
    assert "So far" in second.extract_text()
    assert "There are 22 earlier lessons" in second.extract_text()


def test_no_heading_is_printed_without_its_text(page: Page, sample_out: Path) -> None:
    """Strips and homes of every sample, on which much is left to the screen."""
    alone = {}
    for path in sorted((sample_out / "site").glob("*/*.html")):
        if path.name in {"practice.html", "index.html"}:
            page.goto(path.as_uri())
            found = page.evaluate(ALONE)
            if found:
                alone[path.parent.name[:4], path.name] = found
    assert alone == {}


def test_then_and_now_are_named_at_the_pictures_upper_edge_not_over_a_head(
    page: Page, every_kind: Path
) -> None:
    page.set_viewport_size({"width": 703, "height": 1040})
    page.goto((every_kind / KINDS["lesson"]).as_uri())
    picture = page.locator(".film-picture").first
    box = picture.bounding_box()
    assert box is not None
    for side in picture.locator(".film-side").all():
        name = side.bounding_box()
        assert name is not None
        assert name["y"] + name["height"] < box["y"] + 5.5 * PX_A_MM
        assert name["width"] < box["width"] / 3


def test_no_figure_row_or_step_may_be_cut_by_the_edge_of_a_sheet(
    page: Page, every_kind: Path
) -> None:
    split = """() => [...document.querySelectorAll("figure, .chart, tr, .plan li, .care li")]
        .filter(part => part.checkVisibility()
            && getComputedStyle(part).breakInside === "auto"
            && !part.closest(".part:not(:has(.words, .care))"))
        .map(part => part.outerHTML.slice(0, 80))"""
    for kind, path in KINDS.items():
        if not kind.startswith("book"):
            page.goto((every_kind / path).as_uri())
            assert page.evaluate(split) == [], kind


def test_the_strip_is_as_wide_as_a_hand_and_has_plan_boxes_and_stop_signs(
    page: Page, printed: Path
) -> None:
    page.goto((printed / "student/practice.html").as_uri())
    box = page.locator("main").bounding_box()
    assert box is not None
    assert box["width"] <= 100 * PX_A_MM
    assert box["height"] <= 277 * PX_A_MM
    for seen in (".plan", ".ticks", "#stop"):
        assert page.is_visible(seen)
    assert "call" in page.inner_text("section:has(#stop)")
    for hidden in (".always", ".foot", ".go", "#load"):
        assert not page.locator(hidden).first.is_visible()


def test_the_sheet_leaves_the_file_to_copy_on_the_screen(page: Page, printed: Path) -> None:
    page.goto((printed / "book/questions.html").as_uri())
    assert not page.is_visible("pre")
    assert page.is_visible(".book-sheet")
    page.emulate_media(media="screen")
    assert page.is_visible("pre")
