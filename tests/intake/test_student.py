from datetime import date
from pathlib import Path

import pytest

from recapgen.intake.folder import survey
from recapgen.intake.student import read_student
from recapgen.model.fix import Cut, Put, Swap, one_of
from recapgen.model.people import (
    AgeBand,
    Agreed,
    Area,
    Club,
    Coach,
    Condition,
    Guardian,
    Hand,
    Student,
)
from recapgen.model.problem import Checked, Code, Severity
from recapgen.model.source import SourceRef
from recapgen.model.units import LengthUnit, SpeedUnit, Units

COACH = Coach(name="Ines", units=Units(SpeedUnit.MPH, LengthUnit.YARD))
WHOLE = """\
name: Marta
hand: left               # or right
age band: senior
first year: no
units: {speed: km/h}
language: Japanese
clubs: {driver: 10.5 deg, 7i: 31, putter: }
body: [lower back, lead wrist]
health: [hip replacement, osteoporosis]
agreed:
  page: yes
  clips: Yes
  body: no
  cases: true
  since: 2027-01-03
  until: 3 January 2028
guardian: Rosa Lind
"""
NOTHING_AGREED = "agreed: {page: no}\n"


def read(root: Path, text: str | None) -> Checked[Student]:
    folder = root / "Marta"
    folder.mkdir(exist_ok=True)
    if text is not None:
        (folder / "student.yml").write_text(text)
    found, _ = survey(root)
    assert found is not None
    return read_student(root, found.students[0], COACH)


def sound(root: Path, text: str) -> Student:
    student, problems = read(root, text if "agreed:" in text else text + NOTHING_AGREED)
    assert problems == ()
    assert student is not None
    return student


def test_everything_in_student_yml(tmp_path: Path) -> None:
    student = sound(tmp_path, WHOLE)
    assert (student.key, student.name, student.hand) == ("Marta", "Marta", Hand.LEFT)
    assert (student.age_band, student.first_year) == (AgeBand.SENIOR, False)
    assert student.units == Units(SpeedUnit.KMH, LengthUnit.YARD)
    assert student.language == "ja"
    assert student.clubs == (Club("driver", 10.5), Club("7 iron", 31.0), Club("putter"))
    assert student.areas == (Area.LOW_BACK, Area.LEAD_WRIST)
    assert student.conditions == (Condition.JOINT_REPLACEMENT, Condition.BONES)
    assert student.agreed == Agreed(
        page=True,
        clips=True,
        cases=True,
        since=date(2027, 1, 3),
        until=date(2028, 1, 3),
        guardian=Guardian("Rosa Lind"),
    )


def test_without_a_file_nothing_is_agreed_and_the_lines_to_add_are_told(tmp_path: Path) -> None:
    student, (problem,) = read(tmp_path, None)
    assert student is not None
    assert student.agreed == Agreed()
    assert (problem.code, problem.severity) == (Code.STUDENT_FILE_MISSING, Severity.WARNING)
    assert problem.facts == {"file": "Marta/student.yml"}


@pytest.mark.parametrize(
    "agreed",
    [
        "{page: yes, withdrown: 2027-05-01}",
        "{page: yes, until: 03/04/2028}",
        "{page: yes, until: soon}",
        "{page: yes, clips: maybe}",
        "{page: yes, what she said: fine}",
        "{page: yes, page: no}",
        "{page: yes, since: 2027-03-01, until: 2027-02-01}",
        "yes",
    ],
)
def test_in_doubt_nothing_is_agreed(tmp_path: Path, agreed: str) -> None:
    student, problems = read(tmp_path, f"name: Marta\nagreed: {agreed}\n")
    assert student is not None
    assert student.agreed == Agreed(unclear=True)
    assert any(p.severity is Severity.ERROR for p in problems)


@pytest.mark.parametrize("text", ["name: Marta\nagreed:\n\tpage: yes\n", "name: [\n", "\x07"])
def test_of_a_file_that_cannot_be_read_nothing_is_agreed(tmp_path: Path, text: str) -> None:
    student, problems = read(tmp_path, text)
    assert student is not None
    assert student.agreed == Agreed(unclear=True)
    assert len(problems) == 1


@pytest.mark.parametrize(
    ("hand", "part", "area"),
    [
        ("right", "left wrist", Area.LEAD_WRIST),
        ("right", "right wrist", Area.TRAIL_WRIST),
        ("left", "left wrist", Area.TRAIL_WRIST),
        ("left", "right knee", Area.LEAD_KNEE),
        ("left", "right elbow", Area.ELBOW),
    ],
)
def test_left_and_right_are_lead_and_trail_by_the_hand(
    tmp_path: Path, hand: str, part: str, area: Area
) -> None:
    assert sound(tmp_path, f"name: Marta\nhand: {hand}\nbody: {part}\n").areas == (area,)


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("body: [left wrist]", Code.SIDE_WITHOUT_HAND),
        ("body: [trail knee]", Code.BODY_PART_UNKNOWN),
        ("body: [nek]", Code.WORD_MISSPELT),
        ("health: [hay fever]", Code.HEALTH_UNKNOWN),
        ("clubs: {7 iorn: 31 deg}", Code.WORD_MISSPELT),
        ("clubs: {7 iron: 31 m}", Code.AMOUNT_UNREADABLE),
        ("first year: perhaps", Code.NOT_YES_NO),
        ("hand: [left, right]", Code.ONE_VALUE_EXPECTED),
    ],
)
def test_faults_of_the_student_file(tmp_path: Path, line: str, code: Code) -> None:
    _, problems = read(tmp_path, f"name: Marta\n{line}\n{NOTHING_AGREED}")
    assert [p.code for p in problems] == [code]


def test_of_an_agreement_nothing_is_said(tmp_path: Path) -> None:
    student, (problem,) = read(tmp_path, "name: Marta\n")
    assert (problem.code, problem.severity) == (Code.AGREED_MISSING, Severity.WARNING)
    assert student is not None
    assert student.agreed == Agreed()


def test_a_misspelt_key_of_health_is_never_passed_over(tmp_path: Path) -> None:
    _, (problem,) = read(tmp_path, f"name: Marta\nhelth: [heart]\n{NOTHING_AGREED}")
    assert (problem.code, problem.severity) == (Code.KEY_MISSPELT, Severity.ERROR)
    assert problem.facts["near"] == "health"


@pytest.mark.parametrize("line", ["page: yes", "clips: no", "case clips: no"])
def test_an_answer_outside_agreed_is_held_and_moved_there(tmp_path: Path, line: str) -> None:
    _, problems = read(tmp_path, f"name: Ole\n{line}\n{NOTHING_AGREED}")
    assert [p.code for p in problems] == [Code.KEY_MISSPELT]
    key, answer = line.split(": ")
    where = problems[0].where
    moved = (Cut(where), Put(SourceRef(where.file), ("agreed", key), answer))
    assert problems[0].offers == one_of([moved])


@pytest.mark.parametrize(
    ("word", "hand"),
    [
        ("rechts", Hand.RIGHT), ("Rechtshänderin", Hand.RIGHT), ("links", Hand.LEFT),
        ("droitier", Hand.RIGHT), ("gauche", Hand.LEFT), ("diestra", Hand.RIGHT),
        ("zurdo", Hand.LEFT), ("右打ち", Hand.RIGHT), ("左", Hand.LEFT), ("오른손", Hand.RIGHT),
        ("왼손", Hand.LEFT),
    ],
)  # fmt: skip
def test_a_hand_in_the_languages_of_the_pages(tmp_path: Path, word: str, hand: Hand) -> None:
    assert sound(tmp_path, f"name: Marta\nhand: {word}\n").hand is hand


@pytest.mark.parametrize("word", ["recht", "Rechtshander", "droit", "derech"])
def test_a_misspelt_hand_offers_that_hand_in_english(tmp_path: Path, word: str) -> None:
    _, problems = read(tmp_path, f"name: Marta\nhand: {word}\n{NOTHING_AGREED}")
    (problem,) = problems
    (offer,) = problem.offers
    assert offer.changes == (Swap(problem.where, word, "right"),)


@pytest.mark.parametrize(
    ("age", "band"),
    [
        ("15", "junior"), ("17 Jahre", "junior"), ("15歳", "junior"), ("9 ans", "junior"),
        ("18", "adult"), ("59 años", "adult"), ("60", "senior"), ("72 years old", "senior"),
    ],
)  # fmt: skip
def test_an_age_is_told_with_its_band(tmp_path: Path, age: str, band: str) -> None:
    student, problems = read(tmp_path, f"name: Marta\nage band: {age}\nagreed: {{page: yes}}\n")
    assert student is not None
    assert student.agreed.unclear
    problem = next(p for p in problems if p.code is Code.WORD_MISSPELT)
    (offer,) = problem.offers
    guardian = Put(SourceRef(problem.where.file), ("guardian",), "")
    swapped = Swap(problem.where, age, band)
    assert offer.changes == ((swapped, guardian) if band == "junior" else (swapped,))


@pytest.mark.parametrize(
    ("word", "band"),
    [
        ("Jugendliche", AgeBand.JUNIOR), ("Kind", AgeBand.JUNIOR), ("menor", AgeBand.JUNIOR),
        ("子ども", AgeBand.JUNIOR), ("청소년", AgeBand.JUNIOR), ("erwachsen", AgeBand.ADULT),
        ("adulte", AgeBand.ADULT), ("大人", AgeBand.ADULT), ("シニア", AgeBand.SENIOR),
    ],
)  # fmt: skip
def test_an_age_band_in_the_languages_of_the_pages(
    tmp_path: Path, word: str, band: AgeBand
) -> None:
    assert sound(tmp_path, f"name: Marta\nage band: {word}\n").age_band is band
