"""Edits of what files say: notes, shots, settings, drills, plans, and lines of practice."""

import re
from datetime import timedelta
from random import Random

from tests.edits.edited_book import FIRST_DAY, Book, pick, read_text, set_key
from tests.edits.three_students import DRILL, PLAN
from tests.end_to_end.small_lessons import shots_csv


def edit_words(draw: Random, book: Book) -> None:
    """Another sentence below the notes."""
    lesson = pick(draw, book.lessons())
    if lesson is not None and (text := read_text(lesson / "notes.md")) is not None:
        more = draw.choice(("More of that.", "**Softly**, as if nobody looked.", "Hum as you go."))
        (lesson / "notes.md").write_text(f"{text}\n{more}\n", "utf-8")


_NOTES: dict[str, tuple[str | None, ...]] = {
    "intent": ("Lean on the wall", "Turn along the wall", "Hum one even note", None),
    "feels like": ("rocking a pram", "as last time", None),
    "short name": ("the wall", None),
    "usual miss": ("A big slice", "thin", None),
    "next": ("2027-06-10 10:30", "in 8 weeks", None),
    "letting go of": ("keeping my head down", None),
    "kind": ("[more speed]", "[balance]", None),
    "club": ("driver", "7 iron", "as last time", None),
    "number": ("club path", "carry", "holed", "no such number", None),
    "readings": ("{before: 3 of 10, after: 8 of 10}", None),
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
    "practice": (
        "{sessions a week: 3, balls: 60}",
        "as last time",
        None,
        f"\n{PLAN.partition(chr(10))[2].rstrip()}",
    ),
}


def edit_notes(draw: Random, book: Book) -> None:
    lesson = pick(draw, book.lessons())
    if lesson is not None:
        key = draw.choice(sorted(_NOTES))
        set_key(lesson / "notes.md", key, draw.choice(_NOTES[key]))


def edit_shots(draw: Random, book: Book) -> None:
    """A value, a row, a heading or the whole file."""
    lesson = pick(draw, book.lessons())
    table = pick(draw, sorted(lesson.glob("*.csv"))) if lesson is not None else None
    text = read_text(table) if table is not None else None
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


def edit_agreed(draw: Random, book: Book) -> None:
    """Consent given, withdrawn, or for a time."""
    student = pick(draw, book.students())
    if student is None or (text := read_text(student / "student.yml")) is None:
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
    set_key(student / "student.yml", "agreed", f"{{{agreed}}}")


_STUDENT: dict[str, tuple[str | None, ...]] = {
    "hand": ("left", "right", None),
    "age band": ("senior", "adult", None),
    "first year": ("yes", None),
    "usually": ("{ball: foam, kind: [balance]}", "{since: 2024-02-01, moved: ball}", None),
    "units": ("{speed: m/s, length: yd}", "{speed: km/h, length: m}", None),
    "language": ("de", "ja", "fr", "Klingonian", None),
    "clubs": ("{driver: 10.5 deg, 7 iron: 31 deg}", None),
    "body": ("[lower back]", "[lead wrist]", None),
    "health": ("[heart]", None),
    "asked": ("2027-05-01", None),
    "clinician asked": ("2027-05-20", None),
    "player": ("M. Lund", None),
}


def edit_student(draw: Random, book: Book) -> None:
    student = pick(draw, book.students())
    if student is not None:
        key = draw.choice(sorted(_STUDENT))
        set_key(student / "student.yml", key, draw.choice(_STUDENT[key]))


def edit_name(draw: Random, book: Book) -> None:
    """Another shown name, the same folder."""
    student = pick(draw, book.students())
    if student is not None:
        set_key(student / "student.yml", "name", draw.choice(("Brida", "Corvin", "Dorn", "Ysolde")))


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
    "usually": ("{surface: mat, matters: {club path: 2 deg}}", "{practice: {balls: 20}}", None),
    "accuracy": ("{club path: 1 deg}", "{club path: 0.3 deg, carry: 2 m}", None),
    "reviewed by": ("{name: Ilse Thorn, as: physiotherapist, on: 2027-01-10}", None),
}


def edit_coach(draw: Random, book: Book) -> None:
    key = draw.choice(sorted(_COACH))
    set_key(book.root / "coach.yml", key, draw.choice(_COACH[key]))


def edit_drill(draw: Random, book: Book) -> None:
    """A drill changed, gone, back or new."""
    wall = book.root / "drills" / draw.choice(("wall.md", "wall.md", "pram.md"))
    wall.parent.mkdir(exist_ok=True)
    if wall.exists() and draw.random() < 0.4:
        wall.unlink()
        return
    more = draw.choice(("Slowly.", "With your eyes shut.", "Ten of them before breakfast."))
    wall.write_text(DRILL.replace("Slowly.", more), "utf-8")


def edit_plan(draw: Random, book: Book) -> None:
    """A plan that names a drill, in another lesson."""
    lesson = pick(draw, book.lessons())
    if lesson is not None:
        steps = PLAN.partition("\n")[2].rstrip().replace("wall", draw.choice(("wall", "pram")))
        set_key(lesson / "notes.md", "practice", f"\n{steps}")


def edit_private(draw: Random, book: Book) -> None:
    lesson = pick(draw, book.lessons())
    if lesson is None:
        return
    private = lesson / "private.md"
    if private.exists() and draw.random() < 0.5:
        private.unlink()
    else:
        private.write_text(draw.choice(("Slept badly.\n", "Asks about the club house.\n")), "utf-8")


def edit_log(draw: Random, book: Book) -> None:
    """Another line of practice, with pain now and then, or the whole file gone."""
    student = pick(draw, book.students())
    if student is None:
        return
    log = student / "practice.csv"
    if log.exists() and draw.random() < 0.2:
        log.unlink()
        return
    text = read_text(log) or "date,balls,minutes,effort,pain,where\n"
    on = book.day - timedelta(days=draw.randrange(20))
    rest = draw.choice(("30,35,3,no,", "60,70,8,yes,lower back", "20,20,2,a bit,", "x,35,3,no,"))
    log.write_text(f"{text}{on.isoformat()},{rest}\n", "utf-8")
