"""The coach's own drills: named in a plan, changed by it, and kept in the words first told."""

from pathlib import Path

import pytest

from recapgen.intake.folder import StudentPaths, survey
from recapgen.intake.kept_drills import keep_words
from recapgen.intake.reading import StudentFolder
from recapgen.intake.settings import read_coach
from recapgen.model.lesson import DrillStep, Practice, PracticeOrder
from recapgen.model.people import Coach
from recapgen.model.problem import Code, Cost, Problem
from tests.whole_folder import folder_of

WALL = """---
do: Turn along a wall
balls: 10
sets: 2
rest: 1 min
right when: both pockets touch
---
Stand a hand's width away.
"""


def make(root: Path, drills: dict[str, str], *steps: str, day: str = "2027-04-11") -> None:
    (root / "coach.yml").write_text("coach: Ines Falk\nunits: {speed: mph, length: m}\n")
    (root / "drills").mkdir(exist_ok=True)
    for name, text in drills.items():
        (root / "drills" / name).write_text(text)
    lesson = root / "marta" / day
    lesson.mkdir(parents=True)
    (root / "marta/student.yml").write_text("name: Marta\nhand: right\nagreed: {page: no}\n")
    plan = "\n".join(f"    - {step}" for step in steps)
    (lesson / "notes.md").write_text(f"---\npractice:\n  steps:\n{plan}\n---\n")


def read(root: Path) -> tuple[Coach, StudentPaths, StudentFolder, tuple[Problem, ...]]:
    found, _ = survey(root)
    coach, met = read_coach(root)
    assert found is not None
    assert coach is not None
    folder = folder_of(root, found.students[0], coach)
    return coach, found.students[0], folder, (*met, *folder.problems)


def plan(folder: StudentFolder, lesson: int = 0) -> Practice:
    practice = folder.lessons[lesson].notes.practice
    assert practice is not None
    return practice


def test_a_step_takes_over_the_drill_and_changes_what_it_says_itself(tmp_path: Path) -> None:
    make(
        tmp_path,
        {"pockets on the wall.md": WALL},
        "{drill: Pockets on the wall}",
        "{drill: pockets-on-the-wall, balls: 6, way: varied, weeks: from 2}",
    )
    _, _, folder, problems = read(tmp_path)
    assert problems == ()
    plain, changed = plan(folder).steps
    assert plain == DrillStep(
        "Turn along a wall",
        10,
        None,
        sets=2,
        rest_s=60,
        right_when="both pockets touch",
        drill="pockets on the wall",
        words="Stand a hand's width away.",
    )
    assert (changed.what, changed.balls, changed.sets) == ("Turn along a wall", 6, 2)
    assert (changed.way, changed.weeks) == (PracticeOrder.VARIED, (2, 52))


@pytest.mark.parametrize(
    ("named", "code", "near"),
    [
        ("pockets on the wal", Code.DRILL_MISSPELT, "pockets on the wall"),
        ("whistle", Code.DRILL_UNKNOWN, None),
    ],
)
def test_a_drill_that_is_not_there(
    tmp_path: Path, named: str, code: Code, near: str | None
) -> None:
    make(tmp_path, {"pockets on the wall.md": WALL}, f"{{drill: {named}}}")
    _, _, folder, problems = read(tmp_path)
    (problem,) = problems
    assert (problem.code, problem.cost) == (code, Cost.STUDENT)
    assert problem.facts.get("near") == near
    assert problem.where.line == 4
    assert plan(folder).steps == ()


def test_a_faulty_drill_costs_only_the_plans_that_name_it(tmp_path: Path) -> None:
    make(tmp_path, {"wall.md": "---\nballs: many\n---\n"}, "{do: Swing}")
    _, _, folder, problems = read(tmp_path)
    assert {p.code for p in problems} == {Code.NOT_A_NUMBER, Code.KEY_MISSING}
    assert {p.cost for p in problems} == {Cost.NOTHING}
    assert [step.what for step in plan(folder).steps] == ["Swing"]


def test_two_drills_of_one_name(tmp_path: Path) -> None:
    other = WALL.replace("do:", "name: wall\ndo:").replace("Turn", "Sit")
    make(tmp_path, {"wall.md": WALL, "wall again.md": other}, "{drill: wall}")
    _, _, folder, problems = read(tmp_path)
    assert [p.code for p in problems] == [Code.DRILL_TWICE]
    assert [step.what for step in plan(folder).steps] == ["Sit along a wall"]


def test_a_lesson_keeps_the_words_it_was_first_told_in(tmp_path: Path) -> None:
    make(tmp_path, {"wall.md": WALL}, "{drill: wall, balls: 5}")
    coach, paths, folder, _ = read(tmp_path)
    before = plan(folder).steps
    keep_words(tmp_path, paths.lessons[0], plan(folder), coach.drills)

    drill = tmp_path / "drills/wall.md"
    drill.write_text(WALL.replace("hand's width", "foot").replace("Turn", "Lean"))
    _, _, folder, problems = read(tmp_path)
    assert plan(folder).steps == before
    assert [(p.code, p.facts["name"]) for p in problems] == [(Code.DRILL_CHANGED, "wall")]

    drill.unlink()
    _, _, folder, problems = read(tmp_path)
    assert (plan(folder).steps, problems) == (before, ())


def test_a_later_lesson_has_the_new_words_and_is_the_only_one_told(tmp_path: Path) -> None:
    make(tmp_path, {"wall.md": WALL}, "{drill: wall}")
    coach, paths, folder, _ = read(tmp_path)
    keep_words(tmp_path, paths.lessons[0], plan(folder), coach.drills)
    make(tmp_path, {"wall.md": WALL.replace("Turn", "Lean")}, "{drill: wall}", day="2027-05-02")
    _, _, folder, problems = read(tmp_path)
    assert [plan(folder, n).steps[0].what for n in (0, 1)] == [
        "Turn along a wall",
        "Lean along a wall",
    ]
    assert problems == ()


def test_changed_notes_take_the_new_words_once_and_keep_those(tmp_path: Path) -> None:
    make(tmp_path, {"wall.md": WALL}, "{drill: wall}")
    coach, paths, folder, _ = read(tmp_path)
    keep_words(tmp_path, paths.lessons[0], plan(folder), coach.drills)
    (tmp_path / "drills/wall.md").write_text(WALL.replace("Turn", "Lean"))
    notes = tmp_path / "marta/2027-04-11/notes.md"
    notes.write_text(notes.read_text() + "Well done.\n")
    coach, paths, folder, problems = read(tmp_path)
    assert problems == ()
    assert plan(folder).steps[0].what == "Lean along a wall"
    keep_words(tmp_path, paths.lessons[0], plan(folder), coach.drills)
    (tmp_path / "drills/wall.md").write_text(WALL.replace("Turn", "Sit"))
    _, _, folder, _ = read(tmp_path)
    assert plan(folder).steps[0].what == "Lean along a wall"


@pytest.mark.parametrize("spoilt", ["", "[]", '{"notes": 1}', '{"notes": "x", "steps": 3}'])
def test_kept_words_that_cannot_be_read_are_none(tmp_path: Path, spoilt: str) -> None:
    make(tmp_path, {"wall.md": WALL}, "{drill: wall}")
    coach, paths, folder, _ = read(tmp_path)
    keep_words(tmp_path, paths.lessons[0], plan(folder), coach.drills)
    (tmp_path / ".recapgen/drills/marta/2027-04-11.json").write_text(spoilt)
    _, _, folder, problems = read(tmp_path)
    assert problems == ()
    assert plan(folder).steps[0].what == "Turn along a wall"


def test_nothing_is_written_for_a_plan_without_drills(tmp_path: Path) -> None:
    make(tmp_path, {"wall.md": WALL}, "{do: Swing}")
    coach, paths, folder, _ = read(tmp_path)
    keep_words(tmp_path, paths.lessons[0], plan(folder), coach.drills)
    assert not (tmp_path / ".recapgen").exists()
