"""The recap as data: true to its schema, in the coach's units, the same bytes every time."""

import json
import math
from importlib.resources import files
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator, FormatChecker
from msgspec.structs import replace

from recapgen.book.records import lesson_record, record_text
from recapgen.model.book import record_path
from recapgen.model.evidence import Verdict
from recapgen.model.lesson import Direction, DrillStep, Practice, PracticeOrder, Want
from recapgen.model.quantity import Quantity
from recapgen.model.units import Units
from tests.book.told import (
    IMPERIAL,
    METRIC,
    NOTHING_COMPARED,
    comparison,
    recap,
    retained,
    student,
)

SCHEMA = json.loads(files("recapgen.book").joinpath("recap.schema.json").read_text("utf-8"))
VALID = Draft202012Validator(SCHEMA, format_checker=FormatChecker())
PROBLEM: dict[str, str | int | None] = {
    "code": "key-unknown",
    "severity": "warning",
    "file": "marta/2027-04-11/notes.md",
    "line": 4,
    "column": 1,
    "found": "an unknown key",
    "expected": "a known one",
    "fix": "write it as in the README",
}


def record(units: Units = METRIC, **changes: Any) -> dict[str, Any]:  # noqa: ANN401 (of a recap)
    told = recap(**{"compared": comparison(), **changes})
    return lesson_record(student(told), told, units, [PROBLEM])


def test_the_schema_is_one_and_describes_every_field() -> None:
    Draft202012Validator.check_schema(SCHEMA)
    missing = [
        name
        for part in _objects(SCHEMA)
        for name, field in part["properties"].items()
        if not field.get("description")
    ]
    assert missing == []


def _objects(schema: object) -> list[dict[str, Any]]:
    found = []
    if isinstance(schema, dict):
        if isinstance(schema.get("properties"), dict):
            found.append(schema)
        for part in schema.values():
            found += _objects(part)
    elif isinstance(schema, list):
        for part in schema:
            found += _objects(part)
    return found


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"compared": None},
        {"compared": None, "declaration": NOTHING_COMPARED},
        {"intent": None},
        {"retention": retained()},
        {"retention": replace(retained(), share80=None)},
        {"compared": comparison(Quantity.CLUB_PATH, Want(Direction.WINDOW, -2.0, 2.0))},
        {"compared": replace(comparison(), as_read=None, good=None)},
    ],
)
def test_every_kind_of_recap_follows_the_schema(changes: dict[str, Any]) -> None:
    told = json.loads(record_text(record(**changes)))
    assert list(VALID.iter_errors(told)) == []


@pytest.mark.parametrize(
    "step",
    [
        DrillStep("Swing", None, None),
        DrillStep(
            "Swing", 5, None, 3, 90, "7 iron", 60, "it is straight", "it is not",
            PracticeOrder.VARIED, (1, 2), "wall", "Slowly.",
        ),
    ],
)  # fmt: skip
def test_a_plan_is_kept_in_the_words_it_was_given_in(step: DrillStep) -> None:
    told = recap()
    plan = Practice(weeks=4, steps=(step,), test=step)
    told = replace(told, notes=replace(told.notes, practice=plan, care_words=("Sit down.",)))
    data = json.loads(record_text(lesson_record(student(told), told, METRIC, [])))
    assert list(VALID.iter_errors(data)) == []
    assert data["plan"]["steps"] == [data["plan"]["test"]]
    assert (data["plan"]["steps"][0]["do"], data["care_words"]) == ("Swing", ["Sit down."])


def test_a_record_that_lacks_something_does_not() -> None:
    told = record()
    del told["verdict_uncapped"]
    assert not VALID.is_valid(told)
    assert not VALID.is_valid(record() | {"surprise": 1})


def test_the_number_is_told_in_the_coach_s_units() -> None:
    number = record(IMPERIAL)["number"]
    assert (number["name"], number["unit"], number["want"]) == ("carry", "yd", "higher")
    assert number["before"] == {
        "n": 3,
        "median": pytest.approx(102 / 0.9144, rel=1e-5),
        "values": [pytest.approx(v / 0.9144, rel=1e-5) for v in (100, 102, 104)],
        "shots": [1, 2, 3],
        "mishit": [False, False, False],
    }
    assert number["shift"] == {
        "estimate": pytest.approx(10 / 0.9144, rel=1e-5),
        "low90": pytest.approx(6 / 0.9144, rel=1e-5),
        "high90": pytest.approx(14 / 0.9144, rel=1e-5),
    }
    assert set(number["good_shift"]) == {"estimate", "low90", "high90", "low80", "high80"}


@pytest.mark.parametrize(
    ("quantity", "metric", "imperial"),
    [
        (Quantity.CLUB_SPEED, "m/s", "mph"),
        (Quantity.CLUB_PATH, "deg", "deg"),
        (Quantity.SPIN_RATE, "rpm", "rpm"),
        (Quantity.SMASH_FACTOR, "", ""),
        (Quantity.CARRY_SIDE, "m", "yd"),
        (Quantity.LOW_POINT, "cm", "in"),
    ],
)
def test_units(quantity: Quantity, metric: str, imperial: str) -> None:
    told = [record(units, compared=comparison(quantity))["number"] for units in (METRIC, IMPERIAL)]
    assert [number["unit"] for number in told] == [metric, imperial]


@given(st.floats(0.1, 400, allow_nan=False))
def test_six_significant_digits_bring_back_what_a_device_shows(mph: float) -> None:
    shown = round(mph, 1)
    values = (shown * 0.44704,) * 3
    told = record(IMPERIAL, compared=comparison(Quantity.CLUB_SPEED, values=(values, values)))
    assert told["number"]["before"]["values"][0] == shown


def test_a_window_has_both_ends() -> None:
    told = record(compared=comparison(Quantity.CLUB_PATH, Want(Direction.WINDOW, -2.0, 2.0)))
    assert told["number"]["want"] == {"low": -2.0, "high": 2.0}


def test_under_three_shots_there_is_no_shift() -> None:
    told = record(compared=replace(comparison(), as_read=None, good=None))
    assert told["number"]["shift"] is None
    assert told["number"]["good_shift"] is None


def test_without_a_number_there_is_no_verdict() -> None:
    told = record(compared=None)
    assert [told[key] for key in ("number", "verdict", "verdict_uncapped", "declared")] == [
        None
    ] * 4
    assert told["shots"] == {
        "read": 0,
        "used": 0,
        "set_aside": 0,
        "not_read": 0,
        "left_out": [
            {
                "shot": 14,
                "file": "marta/2027-04-11/shots.csv",
                "line": 17,
                "reason": "phone rang in the swing",
                "by": "coach",
            }
        ],
        "second_looks": [],
    }


def test_a_number_declared_without_shots_is_kept_with_what_it_wants() -> None:
    told = record(IMPERIAL, compared=None, declaration=NOTHING_COMPARED)
    number = told["number"]
    assert (number["name"], number["unit"], number["want"]) == ("club speed", "mph", "higher")
    assert (number["matters"], number["before"]["n"], told["verdict"]) == (1.0, 0, None)


@pytest.mark.parametrize("verdict", Verdict)
def test_the_five_phrases(verdict: Verdict) -> None:
    told = record(compared=comparison(verdict=verdict))
    assert told["verdict"] == verdict.value
    assert told["declared"] == "stated"


def test_notes_and_problems_come_along() -> None:
    told = record()
    assert [(n["code"], n["level"], n["shown"]) for n in told["notes"]] == [
        ("INTENT_MEETS_FLAG", "ask_first", True),
        ("WARM_UP", "info", True),
        ("STOP_SIGNS", "info", True),
    ]
    assert told["problems"] == [PROBLEM]


def test_an_unpublished_student_has_no_page() -> None:
    told = recap(compared=comparison())
    page = [
        lesson_record(student(told, published=published), told, METRIC, [])["page"]
        for published in (True, False)
    ]
    assert page == ["q7w2e9/2027-04-11-k3f9.html", None]


def test_the_text_is_the_same_every_time_and_never_holds_a_nan() -> None:
    text = record_text(record())
    assert text == record_text(record())
    assert text.startswith('{\n "format": 1,\n "student": "Marta",\n')
    assert '"Zoë"' in record_text({"student": "Zoë"})
    with pytest.raises(ValueError, match="Out of range"):
        record_text({"shift": math.nan})


def test_the_place_of_a_record() -> None:
    assert record_path("marta", "2027-04-11 putting") == "data/marta/2027-04-11 putting.json"
