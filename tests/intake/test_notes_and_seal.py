"""The seal beside the notes: read, and held against them."""

from datetime import UTC, datetime, timedelta

import pytest

from recapgen.model.lesson import (
    Direction,
    Want,
)
from recapgen.model.problem import Code, Severity
from tests.intake.test_notes import FILE, FOLDER, MakeFolder, front, read


def test_a_seal(lessons: MakeFolder) -> None:
    seal = (
        '{"number": "carry", "want": "130 to 140 m", "matters": "2 m", "must not lose": null,\n'
        ' "planned": {"before": 6, "after": 6}, "sealed at": "2027-04-11T10:12:00+02:00"}'
    )
    notes = front("number: carry", "want: 130 to 140", "shots: {before: 1-6, after: 7-12}")
    lesson, problems = read(lessons({FILE: notes, f"{FOLDER}/seal.json": seal}))
    assert problems == ()
    assert lesson is not None
    assert lesson.seal is not None
    assert lesson.seal.want == Want(Direction.WINDOW, 130, 140)
    assert (lesson.seal.planned_before, lesson.seal.planned_after) == (6, 6)
    assert lesson.seal.sealed_at == datetime(2027, 4, 11, 8, 12, tzinfo=UTC)
    assert lesson.seal.sealed_at.utcoffset() == timedelta(hours=2)


@pytest.mark.parametrize("seal", ["", "[]", "null", '{"number": "carry"}', "[" * 100_000])
def test_a_seal_that_proves_nothing(lessons: MakeFolder, seal: str) -> None:
    lesson, problems = read(lessons({f"{FOLDER}/seal.json": seal}))
    assert lesson is not None
    assert lesson.seal is None
    assert any(p.severity is Severity.ERROR for p in problems)


def test_a_seal_may_say_more_than_is_known(lessons: MakeFolder) -> None:
    seal = (
        '{"number": "carry", "want": "higher", "sealed at": "2027-04-11T10:12:00Z", '
        '"fingerprint": "9f"}'
    )
    lesson, problems = read(lessons({f"{FOLDER}/seal.json": seal}))
    assert lesson is not None
    assert lesson.seal is not None
    assert [p.code for p in problems] == [Code.KEY_UNKNOWN]


@pytest.mark.parametrize(
    ("line", "differs"),
    [
        ("matters: 2 m", False),
        ("", False),
        ("matters: 3 m", True),
        ("must not lose: {club path: 1 deg}", True),
    ],
)
def test_notes_against_the_seal(lessons: MakeFolder, line: str, differs: bool) -> None:
    seal = (
        '{"number": "carry", "want": "higher", "matters": "2 m", '
        '"sealed at": "2027-04-11T10:12:00Z"}'
    )
    notes = front("number: carry", "want: higher", "shots: {before: 1-6, after: 7-12}", line)
    _, problems = read(lessons({FILE: notes, f"{FOLDER}/seal.json": seal}))
    assert [p.code for p in problems] == ([Code.SEAL_DIFFERS] if differs else [])
