"""Every kind of page once, from the same made lessons: what is looked at, walked and read aloud."""

from pathlib import Path

from jinja2 import ChoiceLoader, Environment, FileSystemLoader, StrictUndefined
from msgspec.structs import replace
from PIL import Image, ImageDraw

from recapgen.book.binding import bind_book
from recapgen.model.page import Page, Site, SiteKind
from recapgen.model.people import Agreed, Coach, MarkPicture
from recapgen.model.recap import StudentRecap
from recapgen.publish.site_builder import build_site
from recapgen.render.book_pages.site import book_site
from recapgen.render.card_site import card_site
from recapgen.render.care_view import care_view
from recapgen.render.cases_site import cases_site
from recapgen.render.coach_mark import mark_assets
from recapgen.render.coach_words import coach_words
from recapgen.render.film_view import anchors, film_assets, film_view
from recapgen.render.number_view import number_view
from recapgen.render.practice_view import practice_view
from recapgen.render.reader import reader_of
from recapgen.render.student_site import student_site
from recapgen.tools.cache import Cache
from recapgen.tools.template_folder import template_folder
from recapgen.words.catalogue import words
from tests.browser.sheets import lay_out_sheets
from tests.end_to_end.small_lessons import add_student
from tests.render.recaps_fixture import COACH, faster, mara, student, what_stuck
from tests.render.test_pages import LESSON
from tests.render.test_public_pages import case

HERE = Path(__file__).parent
EN = words("en")
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
    "book-ledger": "book/ledger.html",
    "book-questions": "book/questions.html",
    "book-problems": "book/problems.html",
    "book-reading": "book/reading.html",
}
PICTURED_ALONE = {
    "book-lessons": "book/lessons.html",
    "book-endings": "book/endings.html",
    "book-asked": "asked/asked.html",
    "worksheet": "worksheets/brida.html",
}


def components(folder: Path, coach: Coach) -> Site:
    """A page of all parts, from the same made lesson."""
    folder.mkdir()
    told = mara(folder)
    newest = told.recaps[-1]
    reader = reader_of(told, coach, EN)
    environment = Environment(
        loader=ChoiceLoader([FileSystemLoader(HERE), FileSystemLoader(template_folder())]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    numbers = [
        number_view(
            recap.number.comparison, reader, f"shots-{recap.key[:10]}", anchors(recap.films)
        )
        for recap in (newest, faster())
        if recap.number.comparison is not None
    ]
    body = environment.get_template("components.html.jinja").render(
        say=EN.say,
        count=EN.count,
        listed=EN.listed,
        coach=coach,
        numbers=numbers,
        films=[film_view(newest.films[0], EN)],
        words=coach_words("Some *leaning* and **strong** words.\n\n- one\n- two\n\n> and a quote"),
        practice=practice_view(newest, reader),
        care=care_view(newest, reader),
        other_pages=[("index.html", EN.say("page.measured.link"))],
    )
    page = Page("index.html", "All parts", body)
    return Site(
        SiteKind.STUDENT,
        "All parts",
        "en",
        (page,),
        (*film_assets(newest.films), *mark_assets(coach)),
    )


def draw_mark(into: Path) -> None:
    """A coach's mark of our own: a buoy on the water."""
    mark = Image.new("RGBA", (160, 160))
    pen = ImageDraw.Draw(mark)
    pen.polygon([(80, 10), (116, 104), (44, 104)], fill="#2f5d50")
    pen.arc((10, 96, 80, 150), 0, 180, fill="#2f5d50", width=9)
    pen.arc((80, 96, 150, 150), 0, 180, fill="#2f5d50", width=9)
    mark.save(into)


def lay_out_all(root: Path) -> None:
    """Every site below ``root``, at the paths that KINDS names."""
    files = root / "files"
    files.mkdir()
    told = mara(files)
    nele = student(faster(), name="Nele")
    nele = replace(nele, student=replace(nele.student, key="nele"))
    mark = root / "mark.webp"
    draw_mark(mark)
    coach = replace(COACH, mark="mark.png", mark_picture=MarkPicture(mark, 160, 160))
    sites = {
        "student": student_site(told, coach, EN),
        "components": components(root / "parts", coach),
        "cases": cases_site([replace(case(), retention=what_stuck())], coach, EN),
        "card": card_site(coach, EN, with_cases=True),
        "book": book_site(bind_book((told, nele), (), told.recaps[-1].on), coach, EN),
        "asked": book_site(bind_book(_willing(told, nele), (), told.recaps[-1].on), coach, EN),
    }
    for poster in root.rglob("*.jpg"):
        Image.linear_gradient("L").resize((640, 500)).convert("RGB").save(poster)
    for name, site in sites.items():
        (root / name).mkdir()
        build_site(site, root / name, template_folder())
    _lay_out_a_sheet(root)


def _willing(*everyone: StudentRecap) -> tuple[StudentRecap, ...]:
    """The first agreed to cases, the others to a page alone."""
    return tuple(
        replace(each, student=replace(each.student, agreed=Agreed(page=True, cases=n == 0)))
        for n, each in enumerate(everyone)
    )


def _lay_out_a_sheet(root: Path) -> None:
    """A worksheet of shots without clips, under a name that stays."""
    lessons = root / "lessons"
    lessons.mkdir()
    (lessons / "coach.yml").write_text("coach: Ada Quill\n", "utf-8")
    add_student(lessons, "Brida")
    sheets = lay_out_sheets(lessons, root / "worksheets", Cache(root / "kept"))
    (page,) = (sheets.folder / sheet.page for sheet in sheets.pages.values())
    page.rename(sheets.folder / "brida.html")
