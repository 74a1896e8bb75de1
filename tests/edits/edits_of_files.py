"""Edits of what is there: folders and files that come, go, move or break, day and templates."""

import shutil
from datetime import date, datetime, timedelta
from random import Random

from recapgen.desk.sealing import seal_lesson
from recapgen.model.lesson import Planned
from tests.edits.edited_book import FIRST_DAY, Book, pick
from tests.edits.three_students import NOTES
from tests.end_to_end.small_lessons import shots_csv

_LAST_DAY = date(2029, 6, 1)


def edit_day(draw: Random, book: Book) -> None:
    """Days go by, and now and then the clock is put back."""
    by = timedelta(days=draw.choice((1, 1, 2, 7, 13, 31, 90, -1, -10, -45)))
    book.day = max(FIRST_DAY - timedelta(days=90), min(book.day + by, _LAST_DAY))


_TEMPLATES = (
    ("css/letters.css", "\n.lead { letter-spacing: 0.0%dem; }\n"),
    ("css/lesson.css", "\n.fine { opacity: 0.9%d; }\n"),
    ("lesson.html.jinja", "\n<!-- version %d -->\n"),
    ("home.html.jinja", "\n<!-- version %d -->\n"),
    ("theme/main.html", "\n<!-- version %d -->\n"),
    ("book/pages/problems.html.jinja", "\n<!-- version %d -->\n"),
    ("js/film.js", "\n// version %d\n"),
)


def edit_template(draw: Random, book: Book) -> None:
    """Another release of the program's templates, of which one file is other."""
    name, more = draw.choice([(n, m) for n, m in _TEMPLATES if (book.template / n).is_file()])
    number = draw.randrange(10)
    beside = book.root.with_name(f"templates {len(list(book.root.parent.glob('templates *')))}")
    shutil.copytree(book.template, beside / "site_template")
    book.template = beside / "site_template"
    with (book.template / name).open("a", encoding="utf-8") as file:
        file.write(more % number)


def edit_lesson_gone(draw: Random, book: Book) -> None:
    lesson = pick(draw, book.lessons())
    if lesson is not None:
        shutil.rmtree(lesson)


def edit_lesson_new(draw: Random, book: Book) -> None:
    """One more lesson, now and then with nothing but words, or sealed before its after-shots."""
    student = pick(draw, book.students())
    if student is None:
        return
    on = date(2027, 5, 10) + timedelta(days=draw.randrange(20))
    lesson = student / on.isoformat()
    if lesson.exists():
        return
    lesson.mkdir()
    kind = draw.choice(("words", "shots", "sealed"))
    if kind == "words":
        (lesson / "notes.md").write_text("---\nintent: Hum\n---\nWell.\n", "utf-8")
        return
    (lesson / "notes.md").write_text(NOTES % ("Lean on the wall", ""), "utf-8")
    if kind == "sealed":
        at = datetime.fromisoformat(f"{on}T10:00:00+02:00")
        seal_lesson(lesson, Planned(10, 10), at, again=False)
    (lesson / "shots.csv").write_text(shots_csv(), "utf-8")


_ASKED = "---\nasked by: student\n%s---\nWhy does it start right %s?\n---\n%s\n"


def edit_question(draw: Random, book: Book) -> None:
    """Something asked between lessons: it comes, waits, is answered, changes, moves or goes."""
    student = pick(draw, book.students())
    if student is None:
        return
    asked = student / f"2027-02-{draw.choice(('02', '20'))} asked"
    there = asked / "question.md"
    way = draw.choice(("waits", "answered", "pain", "renamed", "a lesson", "gone"))
    if way in {"renamed", "a lesson", "gone"}:
        if not there.is_file():
            return
        if way == "renamed" and not (moved := asked.with_name("2027-02-21 asked")).exists():
            asked.rename(moved)
        elif way == "a lesson":
            there.rename(asked / "notes.md")
        elif way == "gone":
            shutil.rmtree(asked)
        return
    asked.mkdir(exist_ok=True)
    answered = "" if way == "waits" else "answered: 2027-02-22\n"
    more = "now that my wrist hurts" if way == "pain" else draw.choice(("today", "again"))
    answer = draw.choice(("Count nine.", "Hum as you go."))
    there.write_text(_ASKED % (answered, more, answer), "utf-8")
    if book.clip is not None and draw.random() < 0.5:
        shutil.copy(book.clip, asked / "asked.mp4")


def edit_seal_gone(draw: Random, book: Book) -> None:
    seal = pick(draw, sorted(book.root.glob("*/*/seal.json")))
    if seal is not None:
        seal.unlink()


def edit_lesson_renamed(draw: Random, book: Book) -> None:
    """Another day, another word behind it, or put out of the way."""
    lesson = pick(draw, book.lessons())
    if lesson is None:
        return
    day = date(2027, 3, 1) + timedelta(days=draw.randrange(60))
    name = draw.choice((day.isoformat(), f"{lesson.name[:10]} late", f"_{lesson.name}"))
    if not lesson.with_name(name).exists():
        lesson.rename(lesson.with_name(name))


def edit_student_renamed(draw: Random, book: Book) -> None:
    student = pick(draw, book.students())
    if student is not None:
        name = draw.choice(("brida-folder", "brida-h", "corvin-2", "dorn-folder", "zed"))
        if not (book.root / name).exists():
            student.rename(book.root / name)


def edit_student_gone(draw: Random, book: Book) -> None:
    student = pick(draw, book.students())
    if student is not None and not (book.away / student.name).exists():
        student.rename(book.away / student.name)


def edit_student_back(draw: Random, book: Book) -> None:
    student = pick(draw, sorted(book.away.iterdir()))
    if student is not None and not (book.root / student.name).exists():
        student.rename(book.root / student.name)


def edit_unreadable(draw: Random, book: Book) -> None:
    """A file in whose place lies something that cannot be read."""
    files = sorted(
        file
        for pattern in ("*/*/*.csv", "*/*/notes.md", "*/student.yml", "coach.yml", "drills/*.md")
        for file in book.root.glob(pattern)
        if file.is_file()
    )
    file = pick(draw, files)
    if file is None:
        return
    file.unlink()
    match draw.choice(("bytes", "bytes", "a folder", "a link to nothing", "nothing in it")):
        case "bytes":
            file.write_bytes(b"\xff\xfe\x00\xd8 nothing\x00\x9c")
        case "a folder":
            file.mkdir()
        case "a link to nothing":
            file.symlink_to(file.with_name("nothing there"))
        case _:
            file.touch()


def edit_mended(draw: Random, book: Book) -> None:
    """A student's folder, or what is the coach's, as it was at first."""
    name = draw.choice(("brida-folder", "corvin-folder", "dorn-folder", "coach.yml", "drills"))
    there, first = book.root / name, book.untouched / name
    if there.is_symlink() or there.is_file():
        there.unlink()
    elif there.is_dir():
        shutil.rmtree(there)
    if first.is_dir():
        shutil.copytree(first, there)
    else:
        shutil.copy2(first, there)
