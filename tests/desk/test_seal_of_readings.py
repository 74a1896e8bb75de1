"""A number counted by hand is sealed like any other: before the after-balls, or not at all."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from recapgen.desk.sealing import seal_lesson
from recapgen.model.lesson import Planned
from recapgen.model.problem import Code

NOON = datetime(2027, 4, 11, 12, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("readings", "codes"),
    [("{before: 3 of 10}", []), ("{before: 3 of 10, after: 7 of 10}", [Code.SEAL_TOO_LATE])],
)
def test_after_balls_that_were_counted_are_too_late(
    tmp_path: Path, readings: str, codes: list[Code]
) -> None:
    lesson = tmp_path / "Marta" / "2027-04-11"
    lesson.mkdir(parents=True)
    (tmp_path / "coach.yml").write_text("coach: Ines Falk\n", "utf-8")
    notes = f"---\nnumber: holed\nreadings: {readings}\n---\n"
    (lesson / "notes.md").write_text(notes, "utf-8")
    sealed, problems = seal_lesson(lesson, Planned(), NOON, again=False)
    assert [p.code for p in problems] == codes
    assert (sealed is None) is bool(codes)
    assert (lesson / "seal.json").exists() is not bool(codes)
