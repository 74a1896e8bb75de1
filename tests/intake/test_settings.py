from pathlib import Path

import pytest

from recapgen.intake.settings import read_coach
from recapgen.model.people import Coach, ColumnRule
from recapgen.model.problem import Code, Cost, Severity
from recapgen.model.quantity import Dimension, Quantity
from recapgen.model.source import SourceRef
from recapgen.model.units import LengthUnit, SpeedUnit, TemperatureUnit, Units

WHOLE = """\
coach: Ines Falk
contact: lessons@example.org
greeting: >
  One thing at a time.
  See you on the range.
footer: Harbour range, bay 4
accent: "#9C4221"
language: en
units: {speed: mph, length: yd, temperature: F}
place: {name: Harbour range, altitude: 300 ft, emergency number: 112}
published at: https://example.org/lessons/     # the address of site/
columns:
  Ball Spd: {is: ball speed, unit: mph}
  Offline: {is: carry side, plus: left}
  Strike: {is: tag}
  Notes: ignore
accuracy: {club path: 1 deg, carry: 3}
"""


def read(root: Path, text: str) -> Coach:
    (root / "coach.yml").write_text(text)
    coach, problems = read_coach(root)
    assert problems == ()
    assert coach is not None
    return coach


def faults(root: Path, text: str) -> list[tuple[Code, int | None, int | None]]:
    (root / "coach.yml").write_text(text)
    coach, problems = read_coach(root)
    assert coach is not None
    assert {p.cost for p in problems} <= {Cost.RUN, Cost.NOTHING}
    assert coach.units_unsaid == () or all(p.severity is Severity.WARNING for p in problems)
    return [(p.code, p.where.line, p.where.column) for p in problems]


def test_everything_in_coach_yml(tmp_path: Path) -> None:
    coach = read(tmp_path, WHOLE)
    assert coach.altitude_m == pytest.approx(91.44)
    assert dict(coach.accuracy) == {Quantity.CLUB_PATH: 1.0, Quantity.CARRY: 3 * 0.9144}
    assert coach.columns == (
        ColumnRule(
            "Ball Spd", Quantity.BALL_SPEED, None, "mph", None, SourceRef("coach.yml", 13, 3)
        ),
        ColumnRule(
            "Offline", Quantity.CARRY_SIDE, None, None, "left", SourceRef("coach.yml", 14, 3)
        ),
        ColumnRule("Strike", None, "tag", None, None, SourceRef("coach.yml", 15, 3)),
        ColumnRule("Notes", None, None, None, None, SourceRef("coach.yml", 16, 3)),
    )
    assert coach.units == Units(SpeedUnit.MPH, LengthUnit.YARD, TemperatureUnit.FAHRENHEIT)
    assert coach.units_unsaid == ()
    assert (coach.name, coach.contact) == ("Ines Falk", "lessons@example.org")
    assert coach.greeting == "One thing at a time. See you on the range."
    assert (coach.footer, coach.accent) == ("Harbour range, bay 4", "#9c4221")
    assert coach.address == "https://example.org/lessons"
    assert (coach.place, coach.emergency_number) == ("Harbour range", "112")


def test_units_not_said_are_remembered_as_such(tmp_path: Path) -> None:
    assert read(tmp_path, "coach: Ines\n").units_unsaid == (Dimension.SPEED, Dimension.LENGTH)
    some = read(tmp_path, "coach: Ines\nunits: {Distance: yd}\n")
    assert some.units_unsaid == (Dimension.SPEED,)
    assert some.units.length is LengthUnit.YARD


def test_without_a_file_all_is_at_its_default(tmp_path: Path) -> None:
    coach, (problem,) = read_coach(tmp_path)
    assert problem.code is Code.COACH_FILE_MISSING
    assert problem.severity is Severity.WARNING
    assert coach == Coach(name="", units_unsaid=(Dimension.SPEED, Dimension.LENGTH))


def test_the_ending_may_be_yaml_and_in_any_case(tmp_path: Path) -> None:
    (tmp_path / "Coach.YAML").write_text("coach: Ines\n")
    coach, problems = read_coach(tmp_path)
    assert problems == ()
    assert coach is not None
    assert coach.name == "Ines"


@pytest.mark.parametrize(
    ("written", "language"),
    [
        ("en", "en"),
        ("Spanish", "es"),
        ("español", "es"),
        ("DE", "de"),
        ("Deutsch", "de"),
        ("français", "fr"),
        ("日本語", "ja"),
        ("한국어", "ko"),
    ],
)
def test_a_language_may_be_named_as_people_do(tmp_path: Path, written: str, language: str) -> None:
    (tmp_path / "coach.yml").write_text(f"coach: Ines\nlanguage: {written}\n", encoding="utf-8")
    coach, _ = read_coach(tmp_path)
    assert coach is not None
    assert coach.language == language


def test_a_language_nearly_named_is_asked_about(tmp_path: Path) -> None:
    (tmp_path / "coach.yml").write_text("coach: Ines\nlanguage: Germn\n", encoding="utf-8")
    (problem, *_) = [p for p in read_coach(tmp_path).problems if p.where.line == 2]
    assert (problem.code, problem.facts["near"]) == (Code.WORD_MISSPELT, "german")
    assert problem.facts["known"] == "en, es, de, fr, ja, ko"


@pytest.mark.parametrize(
    ("line", "code", "column"),
    [
        ("language: klingon", Code.WORD_UNKNOWN, 11),
        ("units: mph", Code.KEYS_EXPECTED, 8),
        ("place: {altitude: 9000 m}", Code.AMOUNT_OUT_OF_RANGE, 19),
        ("place: {altitude: high}", Code.AMOUNT_UNREADABLE, 19),
        ("place: {altitude: 90}", Code.UNIT_MISSING, 19),
        ("published at: javascript:alert(1)", Code.ADDRESS_UNREADABLE, 15),
        ('published at: https://a.org/"x', Code.ADDRESS_UNREADABLE, 15),
        ("published at: https://me:pw@a.org", Code.ADDRESS_UNREADABLE, 15),
        ("published at: https://[a", Code.ADDRESS_UNREADABLE, 15),
        ("columns: {Spd: {unit: mph}}", Code.KEY_MISSING, 16),
        ("columns: {Spd: {is: carry, unit: mph}}", Code.WORD_UNKNOWN, 34),
        ("columns: {Nose: travel across}", Code.WORD_UNKNOWN, 17),
        ("columns: {Spd: [carry]}", Code.KEYS_EXPECTED, 16),
        ("columns: {Spd: carry, Spd: total}", Code.KEY_TWICE, 23),
        ("columns: {Side: {is: carry side, plus: lef}}", Code.WORD_MISSPELT, 40),
        ("accuracy: {club path: -1 deg}", Code.AMOUNT_NOTHING, 23),
        ("acuracy: {club path: 1 deg}", Code.KEY_MISSPELT, 1),
        ("colums: {Spd: carry}", Code.KEY_MISSPELT, 1),
        ("unitss: {length: yd}", Code.KEY_MISSPELT, 1),
    ],
)
def test_what_is_wrong_stops_the_run(tmp_path: Path, line: str, code: Code, column: int) -> None:
    assert faults(tmp_path, f"coach: Ines\n{line}\n") == [(code, 2, column)]
    (problem,) = read_coach(tmp_path).problems
    assert problem.cost is Cost.RUN


@pytest.mark.parametrize(
    ("line", "code", "column"),
    [
        ("greting: Hello", Code.KEY_MISSPELT, 1),
        ("contct: lessons@example.org", Code.KEY_MISSPELT, 1),
        ("greeting: [Hello]", Code.ONE_VALUE_EXPECTED, 11),
        ("greeting: See you #soon", Code.CUT_AT_HASH, 19),
        ("footer: " + "x" * 301, Code.TEXT_TOO_LONG, 9),
        ("accent: blue", Code.ACCENT_UNREADABLE, 9),
        ('accent: "#12345"', Code.ACCENT_UNREADABLE, 9),
    ],
)
def test_what_only_decorates_stops_nothing(
    tmp_path: Path, line: str, code: Code, column: int
) -> None:
    text = f"coach: Ines\n{line}\nunits: {{length: yd}}\n"
    assert faults(tmp_path, text) == [(code, 2, column)]
    coach, (problem,) = read_coach(tmp_path)
    assert problem.cost is Cost.NOTHING
    assert coach is not None
    assert (coach.contact, coach.footer, coach.accent) == (None, None, None)
    assert (coach.name, coach.units.length) == ("Ines", LengthUnit.YARD)


def test_beside_what_is_in_doubt_the_rest_is_known(tmp_path: Path) -> None:
    (tmp_path / "coach.yml").write_text(
        "coach: Ines\nunits: {speed: mph}\ncolumns: {Spd: ball speed, Dst: carrry}\n"
    )
    coach, (problem,) = read_coach(tmp_path)
    assert (problem.code, problem.cost) == (Code.WORD_MISSPELT, Cost.RUN)
    assert coach is not None
    assert (coach.name, [rule.heading for rule in coach.columns]) == ("Ines", ["Spd"])
    assert coach.units_unsaid == ()  # nobody is asked for a unit that may be in doubt


def test_two_coach_files_stop_the_run(tmp_path: Path) -> None:
    (tmp_path / "coach.yaml").write_text("coach: Ines\n")
    assert faults(tmp_path, "coach: Ines\n") == [(Code.FILE_TWICE, None, None)]


@pytest.mark.parametrize("text", ["coach: a: b\n", "coach: \x07\n", "coach: [a\n", "\tcoach: a\n"])
def test_a_coach_file_that_cannot_be_read_stops_the_run(tmp_path: Path, text: str) -> None:
    (tmp_path / "coach.yml").write_text(text)
    coach, (problem,) = read_coach(tmp_path)
    assert coach is None
    assert problem.cost is Cost.RUN


def test_an_unknown_key_is_only_odd(tmp_path: Path) -> None:
    assert faults(tmp_path, "coach: Ines\nfavourite colour of tees: red\n") == [
        (Code.KEY_UNKNOWN, 2, 1)
    ]


def test_short_names_of_intents_with_their_wordings(tmp_path: Path) -> None:
    lines = "intents:\n  bar stool: [Sit back, Lean on the stool]\n  wall: Slide along the wall\n"
    assert read(tmp_path, f"coach: Ines Falk\n{lines}").intents == (
        ("bar stool", ("Sit back", "Lean on the stool")),
        ("wall", ("Slide along the wall",)),
    )


def test_misses_are_joined_in_the_same_way(tmp_path: Path) -> None:
    lines = "misses:\n  slice: [a big slice, Curves away]\n"
    coach = read(tmp_path, f"coach: Ines Falk\n{lines}")
    assert coach.misses == (("slice", ("a big slice", "Curves away")),)


def test_a_wording_under_two_names_is_asked_about(tmp_path: Path) -> None:
    lines = "intents:\n  bar stool: [Sit back]\n  wall: [sit back.]\n"
    (tmp_path / "coach.yml").write_text(f"coach: Ines Falk\n{lines}")
    coach, (problem,) = read_coach(tmp_path)
    assert coach is not None
    assert (problem.code, problem.where.line, problem.cost) == (Code.INTENT_TWICE, 4, Cost.RUN)
