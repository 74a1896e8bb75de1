"""What a coach may do to a folder between two builds, each drawn from a seed of its own.

An edit that finds nothing to work on leaves all as it is. None looks at anything but the folder
and its seed, so that any of them can be left out when a failure is made smaller.
"""

import re
import shutil
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from pathlib import Path
from random import Random

from recapgen.desk.sealing import seal_lesson
from recapgen.model.lesson import Planned
from recapgen.tools.template_folder import template_folder
from tests.edits.three_students import DRILL, NOTES, PLAN, lay_out
from tests.end_to_end.small_lessons import shots_csv

FIRST_DAY = date(2027, 6, 1)
_LAST_DAY = date(2029, 6, 1)


@dataclass(slots=True)
class Book:
    """The folder, the day it is built on and the templates; ``away`` is what was put aside."""

    root: Path
    clip: Path | None
    day: date = FIRST_DAY
    template: Path = field(default_factory=template_folder)

    def __post_init__(self) -> None:
        for folder in (self.untouched, self.root):
            lay_out(folder, self.clip)
        self.away.mkdir()

    @property
    def away(self) -> Path:
        return self.root.with_name("away")

    @property
    def untouched(self) -> Path:
        """The folder as it was at first, to mend from."""
        return self.root.with_name("untouched")

    def students(self) -> list[Path]:
        return sorted(p.parent for p in self.root.glob("*/student.yml"))

    def lessons(self) -> list[Path]:
        return sorted(p.parent for p in self.root.glob("*/*/notes.md"))

    def looks(self) -> tuple[object, ...]:
        """Two books that look the same give the same pages."""
        held = {
            file.relative_to(self.root).as_posix(): file.read_bytes()
            for file in sorted(self.root.rglob("*"))
            if file.is_file() and ".recapgen" not in file.parts
        }
        links = sorted(p.as_posix() for p in self.root.rglob("*") if p.is_symlink() or p.is_dir())
        return self.day, self.template, tuple(held.items()), tuple(links)


def apply(kind: str, seed: int, book: Book) -> None:
    """One edit of ``kind``, the same each time for the same ``seed`` and folder."""
    EDITS[kind](Random(f"{kind} {seed}"), book)  # noqa: S311 - edits that can be had again


def drawn(draw: Random) -> tuple[str, int]:
    """The kind and the seed of another edit."""
    return draw.choice(_OFTEN), draw.randrange(1_000_000)


def _one(draw: Random, among: Sequence[Path]) -> Path | None:
    return draw.choice(among) if among else None


def _read(file: Path) -> str | None:
    """None where it is no file of text, or none that was left as it was."""
    try:
        return file.read_text("utf-8")
    except (OSError, UnicodeDecodeError):
        return None


def _key(file: Path, key: str, value: str | None) -> None:
    """Set a key on a line of its own to ``value``, or take it out."""
    text = _read(file)
    if text is None:
        return
    rest = re.sub(rf"^{re.escape(key)}:.*\n(?:  .*\n)*", "", text, flags=re.MULTILINE)
    if value is not None:
        start = 4 if rest.startswith("---\n") else 0
        rest = f"{rest[:start]}{key}: {value}\n{rest[start:]}"
    file.write_text(rest, "utf-8")


def _words(draw: Random, book: Book) -> None:
    """Another sentence below the notes."""
    lesson = _one(draw, book.lessons())
    if lesson is not None and (text := _read(lesson / "notes.md")) is not None:
        more = draw.choice(("More of that.", "**Softly**, as if nobody looked.", "Hum as you go."))
        (lesson / "notes.md").write_text(f"{text}\n{more}\n", "utf-8")


_NOTES: dict[str, tuple[str | None, ...]] = {
    "intent": ("Lean on the wall", "Turn along the wall", "Hum one even note", None),
    "feels like": ("rocking a pram", None),
    "short name": ("the wall", None),
    "letting go of": ("keeping my head down", None),
    "kind": ("[more speed]", "[balance]", None),
    "club": ("driver", "7 iron", None),
    "number": ("club path", "carry", "no such number", None),
    "want": ("2 left to 2 right", "zero", "higher", "3 left to 1 left", "["),
    "matters": ("1 deg", "3 deg", "3 m"),
    "chosen": ("before the after-shots", None),
    "moved": ("nothing", "ball", "device"),
    "left out": ('{3: "a door banged"}', None),
    "mishits": ("{4: thin}", "{12: heel}", None),
    "conditions": ("{indoors: yes, surface: mat}", "{surface: grass, altitude: 800 m}", None),
    "care": ("[Warm up for ten minutes first.]", "[Push through the pain.]", None),
    "see also": ("[the-wall]", "[another]", None),
    "case": ("{name: the-wall, title: A wall}", "{name: another, title: Another one}", None),
    "must not lose": ("{side spread: 2 m}", None),
    "practice": ("{sessions a week: 3, balls: 60}", f"\n{PLAN.partition(chr(10))[2].rstrip()}"),
}


def _notes(draw: Random, book: Book) -> None:
    lesson = _one(draw, book.lessons())
    if lesson is not None:
        key = draw.choice(sorted(_NOTES))
        _key(lesson / "notes.md", key, draw.choice(_NOTES[key]))


def _shots(draw: Random, book: Book) -> None:
    """A value, a row, a heading or the whole file."""
    lesson = _one(draw, book.lessons())
    table = _one(draw, sorted(lesson.glob("*.csv"))) if lesson is not None else None
    text = _read(table) if table is not None else None
    if table is None or text is None:
        if lesson is not None and not (lesson / "shots.csv").exists():
            (lesson / "shots.csv").write_text(shots_csv(), "utf-8")
        return
    head, *rows = text.splitlines()
    match draw.choice(("value", "value", "row gone", "row twice", "heading", "column", "gone")):
        case "value" if rows:
            at = draw.randrange(len(rows))
            cells = rows[at].split(",")
            cells[-1] = draw.choice(("1.7", "-0.4", "5.2", "", "99999", "soft"))
            rows[at] = ",".join(cells)
        case "row gone" if rows:
            del rows[draw.randrange(len(rows))]
        case "row twice" if rows:
            rows.append(draw.choice(rows))
        case "heading":
            head = re.sub(r"[^,]+$", draw.choice(("Club Path [deg; + left]", "Zig", "Note")), head)
        case "column":
            head, rows = f"{head},Remarks", [f"{row},fine" for row in rows]
        case "gone":
            table.unlink()
            return
        case _:  # no row is left
            return
    table.write_text("\n".join((head, *rows, "")), "utf-8")


def _agreed(draw: Random, book: Book) -> None:
    """Consent given, withdrawn, or for a time."""
    student = _one(draw, book.students())
    if student is None or (text := _read(student / "student.yml")) is None:
        return
    inside = re.search(r"^agreed: \{(.*)\}$", text, re.MULTILINE)
    if inside is None:
        return
    said = dict(part.split(": ") for part in inside[1].split(", ") if ": " in part)
    what = draw.choice(("page", "clips", "body", "cases", "case clips", "until", "withdrawn"))
    if what in ("until", "withdrawn"):
        if said.pop(what, None) is None:
            at = FIRST_DAY + timedelta(days=draw.choice((-40, 1, 30, 400)))
            said[what] = at.isoformat()
    else:
        said[what] = draw.choice(("yes", "no", "maybe")) if what != "page" else "no"
        if what == "page" and draw.random() < 0.6:
            said[what] = "yes"
    agreed = ", ".join(f"{key}: {value}" for key, value in said.items())
    _key(student / "student.yml", "agreed", f"{{{agreed}}}")


_STUDENT: dict[str, tuple[str | None, ...]] = {
    "hand": ("left", "right", None),
    "age band": ("senior", "adult", None),
    "first year": ("yes", None),
    "units": ("{speed: m/s, length: yd}", "{speed: km/h, length: m}", None),
    "language": ("de", "ja", "fr", "Klingonian", None),
    "clubs": ("{driver: 10.5 deg, 7 iron: 31 deg}", None),
    "body": ("[lower back]", "[lead wrist]", None),
    "health": ("[heart]", None),
    "asked": ("2027-05-01", None),
    "clinician asked": ("2027-05-20", None),
    "player": ("M. Lund", None),
}


def _student(draw: Random, book: Book) -> None:
    student = _one(draw, book.students())
    if student is not None:
        key = draw.choice(sorted(_STUDENT))
        _key(student / "student.yml", key, draw.choice(_STUDENT[key]))


def _name(draw: Random, book: Book) -> None:
    """Another shown name, the same folder."""
    student = _one(draw, book.students())
    if student is not None:
        _key(student / "student.yml", "name", draw.choice(("Brida", "Corvin", "Dorn", "Ysolde")))


_COACH: dict[str, tuple[str | None, ...]] = {
    "coach": ("Ada Quill", "Ada Penn", None),
    "contact": ("ada@example.org", None),
    "greeting": ("One thing at a time.", None),
    "footer": ("Lessons by appointment.", None),
    "accent": ('"#9c4221"', '"#1f5f8b"', '"#ffffff"', None),
    "language": ("en", "de", "es", "ko", "Klingonian"),
    "units": ("{speed: mph, length: yd, temperature: F}", "{speed: km/h, length: m}", None),
    "place": ("{name: High meadow, altitude: 1500 m}", "{altitude: 90 m}", None),
    "published at": ("https://example.org/lessons", "https://example.net/golf", None),
    "intents": ("\n  the wall: [Slide along the wall, Stand tall]", None),
    "columns": ("{Zig: {is: club path, plus: right, unit: deg}, Remarks: ignore}", None),
    "accuracy": ("{club path: 1 deg}", "{club path: 0.3 deg, carry: 2 m}", None),
    "reviewed by": ("{name: Ilse Thorn, as: physiotherapist, on: 2027-01-10}", None),
}


def _coach(draw: Random, book: Book) -> None:
    key = draw.choice(sorted(_COACH))
    _key(book.root / "coach.yml", key, draw.choice(_COACH[key]))


def _drill(draw: Random, book: Book) -> None:
    """A drill changed, gone, back or new."""
    wall = book.root / "drills" / draw.choice(("wall.md", "wall.md", "pram.md"))
    wall.parent.mkdir(exist_ok=True)
    if wall.exists() and draw.random() < 0.4:
        wall.unlink()
        return
    more = draw.choice(("Slowly.", "With your eyes shut.", "Ten of them before breakfast."))
    wall.write_text(DRILL.replace("Slowly.", more), "utf-8")


def _plan(draw: Random, book: Book) -> None:
    """A plan that names a drill, in another lesson."""
    lesson = _one(draw, book.lessons())
    if lesson is not None:
        steps = PLAN.partition("\n")[2].rstrip().replace("wall", draw.choice(("wall", "pram")))
        _key(lesson / "notes.md", "practice", f"\n{steps}")


def _day(draw: Random, book: Book) -> None:
    """Days go by, and now and then the clock is put back."""
    by = timedelta(days=draw.choice((1, 1, 2, 7, 13, 31, 90, -1, -10, -45)))
    book.day = max(FIRST_DAY - timedelta(days=90), min(book.day + by, _LAST_DAY))


_TEMPLATES = (
    ("css/letters.css", "\n.lead { letter-spacing: 0.0%dem; }\n"),
    ("css/below.css", "\n.fine { opacity: 0.9%d; }\n"),
    ("lesson.html.jinja", "\n<!-- version %d -->\n"),
    ("home.html.jinja", "\n<!-- version %d -->\n"),
    ("theme/main.html", "\n<!-- version %d -->\n"),
    ("book/pages/problems.html.jinja", "\n<!-- version %d -->\n"),
    ("js/film.js", "\n// version %d\n"),
)


def _template(draw: Random, book: Book) -> None:
    """Another release of the program's templates, of which one file is other."""
    name, more = draw.choice([(n, m) for n, m in _TEMPLATES if (book.template / n).is_file()])
    number = draw.randrange(10)
    beside = book.root.with_name(f"templates {len(list(book.root.parent.glob('templates *')))}")
    shutil.copytree(book.template, beside / "site_template")
    book.template = beside / "site_template"
    with (book.template / name).open("a", encoding="utf-8") as file:
        file.write(more % number)


def _lesson_gone(draw: Random, book: Book) -> None:
    lesson = _one(draw, book.lessons())
    if lesson is not None:
        shutil.rmtree(lesson)


def _lesson_new(draw: Random, book: Book) -> None:
    """One more lesson, now and then with nothing but words, or sealed before its after-shots."""
    student = _one(draw, book.students())
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


def _seal_gone(draw: Random, book: Book) -> None:
    seal = _one(draw, sorted(book.root.glob("*/*/seal.json")))
    if seal is not None:
        seal.unlink()


def _lesson_renamed(draw: Random, book: Book) -> None:
    """Another day, another word behind it, or put out of the way."""
    lesson = _one(draw, book.lessons())
    if lesson is None:
        return
    day = date(2027, 3, 1) + timedelta(days=draw.randrange(60))
    name = draw.choice((day.isoformat(), f"{lesson.name[:10]} late", f"_{lesson.name}"))
    if not lesson.with_name(name).exists():
        lesson.rename(lesson.with_name(name))


def _student_renamed(draw: Random, book: Book) -> None:
    student = _one(draw, book.students())
    if student is not None:
        name = draw.choice(("brida-folder", "brida-h", "corvin-2", "dorn-folder", "zed"))
        if not (book.root / name).exists():
            student.rename(book.root / name)


def _student_gone(draw: Random, book: Book) -> None:
    student = _one(draw, book.students())
    if student is not None and not (book.away / student.name).exists():
        student.rename(book.away / student.name)


def _student_back(draw: Random, book: Book) -> None:
    student = _one(draw, sorted(book.away.iterdir()))
    if student is not None and not (book.root / student.name).exists():
        student.rename(book.root / student.name)


def _private(draw: Random, book: Book) -> None:
    lesson = _one(draw, book.lessons())
    if lesson is None:
        return
    private = lesson / "private.md"
    if private.exists() and draw.random() < 0.5:
        private.unlink()
    else:
        private.write_text(draw.choice(("Slept badly.\n", "Asks about the club house.\n")), "utf-8")


def _log(draw: Random, book: Book) -> None:
    """Another line of practice, with pain now and then, or the whole file gone."""
    student = _one(draw, book.students())
    if student is None:
        return
    log = student / "practice.csv"
    if log.exists() and draw.random() < 0.2:
        log.unlink()
        return
    text = _read(log) or "date,balls,minutes,effort,pain,where\n"
    on = book.day - timedelta(days=draw.randrange(20))
    rest = draw.choice(("30,35,3,no,", "60,70,8,yes,lower back", "20,20,2,a bit,", "x,35,3,no,"))
    log.write_text(f"{text}{on.isoformat()},{rest}\n", "utf-8")


def _unreadable(draw: Random, book: Book) -> None:
    """A file in whose place lies something that cannot be read."""
    files = sorted(
        file
        for pattern in ("*/*/*.csv", "*/*/notes.md", "*/student.yml", "coach.yml", "drills/*.md")
        for file in book.root.glob(pattern)
        if file.is_file()
    )
    file = _one(draw, files)
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


def _mended(draw: Random, book: Book) -> None:
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


EDITS: dict[str, Callable[[Random, Book], None]] = {
    "words": _words,
    "notes": _notes,
    "shots": _shots,
    "agreed": _agreed,
    "student": _student,
    "name": _name,
    "coach": _coach,
    "drill": _drill,
    "plan": _plan,
    "day": _day,
    "template": _template,
    "lesson gone": _lesson_gone,
    "lesson new": _lesson_new,
    "seal gone": _seal_gone,
    "lesson renamed": _lesson_renamed,
    "student renamed": _student_renamed,
    "student gone": _student_gone,
    "student back": _student_back,
    "private": _private,
    "log": _log,
    "unreadable": _unreadable,
    "mended": _mended,
}
_SHARES = {"notes": 5, "shots": 4, "agreed": 3, "coach": 3, "student": 2, "day": 2, "mended": 5}
_OFTEN = [kind for kind in EDITS for _ in range(_SHARES.get(kind, 1))]
