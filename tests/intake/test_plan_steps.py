"""The steps of a plan: all that may be said of one, and what is asked where it is not clear."""

from datetime import date
from pathlib import Path

import pytest

from recapgen.intake.settings import read_coach
from recapgen.model.lesson import DrillStep, Practice, PracticeOrder
from recapgen.model.people import Review
from recapgen.model.problem import Code
from tests.intake.test_drills import make, plan, read


def steps_of(root: Path, *steps: str) -> tuple[Practice, list[Code]]:
    make(root, {}, *steps)
    _, _, folder, problems = read(root)
    return plan(folder), [problem.code for problem in problems]


def test_everything_that_may_be_said_of_a_step(tmp_path: Path) -> None:
    practice, problems = steps_of(
        tmp_path,
        "{do: Half swings, balls: 5, sets: 3, rest: 90 s, club: 7i, speed: 60 %,"
        " right when: it starts straight, stop when: the finish wobbles, way: same, weeks: 1-2}",
    )
    assert problems == []
    assert practice.steps == (
        DrillStep(
            "Half swings",
            5,
            None,
            sets=3,
            rest_s=90,
            club="7 iron",
            speed_percent=60,
            right_when="it starts straight",
            stop_when="the finish wobbles",
            way=PracticeOrder.BLOCKED,
            weeks=(1, 2),
        ),
    )
    assert practice.steps[0].balls_in_all == 15


@pytest.mark.parametrize(
    ("said", "weeks"), [("3", (3, 3)), ("2 to 4", (2, 4)), ("1–2", (1, 2)), ("from 3", (3, 52))]
)
def test_weeks(tmp_path: Path, said: str, weeks: tuple[int, int]) -> None:
    practice, problems = steps_of(tmp_path, f"{{do: x, weeks: {said}}}")
    assert (problems, practice.steps[0].weeks) == ([], weeks)


@pytest.mark.parametrize(
    ("said", "code"),
    [
        ("rest: a while", Code.AMOUNT_UNREADABLE),
        ("rest: 90", Code.AMOUNT_UNREADABLE),
        ("weeks: 3-2", Code.WORD_UNKNOWN),
        ("weeks: 0", Code.WORD_UNKNOWN),
        ("weeks: 60", Code.WORD_UNKNOWN),
        ("way: blokced", Code.WORD_MISSPELT),
        ("speed: 300 %", Code.NUMBER_OUT_OF_RANGE),
        ("speed: fast", Code.NOT_A_NUMBER),
        ("sets: 0", Code.NUMBER_OUT_OF_RANGE),
        ("stpo when: it hurts", Code.KEY_MISSPELT),
        ("drill: ''", Code.DRILL_UNKNOWN),
    ],
)
def test_what_is_not_clear_is_asked(tmp_path: Path, said: str, code: Code) -> None:
    _, problems = steps_of(tmp_path, f"{{do: x, {said}}}")
    assert problems == [code]


def test_the_coachs_own_test(tmp_path: Path) -> None:
    make(tmp_path, {}, "{do: x}")
    notes = tmp_path / "marta/2027-04-11/notes.md"
    notes.write_text("---\npractice:\n  test: {do: Twelve to one flag, balls: 12}\n---\n")
    _, _, folder, problems = read(tmp_path)
    assert problems == ()
    assert plan(folder).test == DrillStep("Twelve to one flag", 12, None)


@pytest.mark.parametrize(
    ("typed", "told", "codes"),
    [
        (
            "Stop before the back stiffens, not after",
            ("Stop before the back stiffens, not after",),
            [],
        ),
        ("[One, Two]", ("One", "Two"), []),
        ("[1, 2, 3, 4]", ("1", "2", "3"), [Code.TOO_MANY]),
    ],
)
def test_what_the_coach_adds_to_the_safety_notes(
    tmp_path: Path, typed: str, told: tuple[str, ...], codes: list[Code]
) -> None:
    make(tmp_path, {}, "{do: x}")
    (tmp_path / "marta/2027-04-11/notes.md").write_text(f"---\ncare: {typed}\n---\n")
    _, _, folder, problems = read(tmp_path)
    assert [p.code for p in problems] == codes
    assert folder.lessons[0].notes.care_words == told


@pytest.mark.parametrize(
    ("said", "codes"),
    [
        ("{name: B, as: doctor, on: 2027-01-03}", []),
        ("{name: B, as: doctor}", [Code.KEY_MISSING]),
        ("{name: B, on: 2027-01-03}", [Code.KEY_MISSING]),
        ("B", [Code.KEYS_EXPECTED]),
    ],
)
def test_who_read_the_safety_notes_is_said_whole_or_not_at_all(
    tmp_path: Path, said: str, codes: list[Code]
) -> None:
    (tmp_path / "coach.yml").write_text(
        f"coach: A\nunits: {{speed: mph, length: m}}\nreviewed by: {said}\n"
    )
    coach, problems = read_coach(tmp_path)
    assert [p.code for p in problems] == codes
    if not codes:
        assert coach is not None
        assert coach.reviewed == Review("B", "doctor", date(2027, 1, 3))
