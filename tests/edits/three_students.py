"""Three students with two lessons each, in whom most of what a coach may write is met."""

import shutil
from pathlib import Path

from tests.benchmarks.whole_books import lay_out as many_lessons
from tests.end_to_end.small_lessons import shots_csv

COACH = """coach: Ada Quill
contact: lessons@example.org
accent: "#9c4221"
language: en
units: {speed: mph, length: m, temperature: C}
place: {name: Harbour meadow, altitude: 90 m}
published at: https://example.org/lessons
intents:
  the wall: [Slide along the wall, Turn along the wall]
misses: {slice: [A big slice, curves away]}
accuracy: {club path: 1 deg}
"""
STUDENT = """name: %s
hand: right
age band: adult
units: {speed: mph, length: m}
agreed: {page: yes, clips: yes, body: yes, cases: %s, since: 2024-01-01}
"""
NOTES = """---
intent: %s
feels like: a lazy underarm throw
club: driver
number: club path
chosen: before the after-shots
want: 2 left to 2 right
matters: 1 deg
moved: nothing
conditions: {surface: grass, ball: range, temperature: 14 C, wind: calm}
%s---
Keep the wall behind you, and let the ball go by.
"""
PLAN = """practice:
  sessions a week: 2
  balls: 30
  steps:
    - {drill: wall, times: 8}
    - {do: Half swings off a low tee, balls: 10}
"""
DRILL = "---\ndo: Turn along the wall\ntimes: 8\nright when: it does not mind\n---\nSlowly.\n"
CASE = "case: {name: the-wall, title: A driver that started right, story: It came with a push.}\n"
LOG = "date,balls,minutes,effort,pain,where\n2027-04-15,30,35,3,no,\n2027-04-22,40,40,4,no,\n"
QUESTION = "---\nanswered: 2027-02-21\n---\nWhy does it start right?\n---\nCount nine.\n"
SECRET = "5e" * 32


def lay_out(root: Path, clip: Path | None) -> None:
    """``root`` is made; with ``clip`` one lesson has it."""
    (root / ".recapgen").mkdir(parents=True)
    secret = root / ".recapgen" / "secret"
    secret.write_text(f"{SECRET}\n", "utf-8")
    secret.chmod(0o600)
    (root / "coach.yml").write_text(COACH, "utf-8")
    (root / "drills").mkdir()
    (root / "drills" / "wall.md").write_text(DRILL, "utf-8")
    _with_a_plan(root / "brida-folder")
    _with_a_case(root / "dorn-folder")
    _with_every_number(root)
    if clip is not None:
        shutil.copy(clip, root / "brida-folder" / "2027-04-11" / "face on.mp4")


def _with_a_plan(student: Path) -> None:
    _lesson(student / "2027-04-11", NOTES % ("Slide along the wall", PLAN))
    _lesson(student / "2027-05-09", NOTES % ("Turn along the wall", "see also: [the-wall]\n"))
    (student / "2027-02-20 asked").mkdir()
    (student / "2027-02-20 asked" / "question.md").write_text(QUESTION, "utf-8")
    (student / "student.yml").write_text(STUDENT % ("Brida", "no"), "utf-8")
    (student / "practice.csv").write_text(LOG, "utf-8")


def _with_a_case(student: Path) -> None:
    _lesson(student / "2027-04-11", NOTES % ("Stand tall", CASE))
    _lesson(student / "2027-05-09 wind", NOTES % ("Stand tall until you count nine", PLAN))
    (student / "2027-04-11" / "private.md").write_text("Worries about the wedding.\n", "utf-8")
    (student / "student.yml").write_text(STUDENT % ("Dorn", "yes"), "utf-8")


def _with_every_number(root: Path) -> None:
    """One whose device tells all that flies; so that altitude and air matter."""
    many = root.with_name(f"{root.name} of many numbers")
    many_lessons(many, students=1, lessons=2)
    (student,) = many.glob("student *")
    student.rename(root / "corvin-folder")
    shutil.rmtree(many)
    who = root / "corvin-folder" / "student.yml"
    who.write_text(STUDENT % ("Corvin", "no"), "utf-8")


def _lesson(folder: Path, notes: str) -> None:
    folder.mkdir(parents=True)
    (folder / "notes.md").write_text(notes, "utf-8")
    (folder / "shots.csv").write_text(shots_csv(), "utf-8")
