"""A lesson's day may be ahead of today, but not by years."""

from datetime import date
from pathlib import Path

import pytest

from recapgen.intake.folder import survey
from recapgen.model.people import Coach
from recapgen.model.problem import Code, Severity
from tests.whole_folder import folder_of


def read(root: Path, name: str, today: date | None) -> list[Code]:
    folder = root / "Marta" / name
    folder.mkdir(parents=True)
    (folder / "notes.md").write_text("---\nintent: Hum\n---\n")
    (root / "Marta" / "student.yml").write_text("name: Marta\nagreed: {page: no}\n")
    found, _ = survey(root)
    assert found is not None
    read = folder_of(root, found.students[0], Coach("Ines"), today)
    assert [lesson.key for lesson in read.lessons] == [name]
    assert all(problem.severity is Severity.WARNING for problem in read.problems)
    return [problem.code for problem in read.problems]


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("2026-05-01", []),
        ("2027-10-01", []),
        ("2028-05-01", []),
        ("2028-05-10", [Code.LESSON_FAR_AHEAD]),
        ("2062-10-01", [Code.LESSON_FAR_AHEAD]),
    ],
)
def test_a_day_more_than_two_years_ahead_wants_a_look(
    tmp_path: Path, name: str, told: list[Code]
) -> None:
    assert read(tmp_path, name, date(2026, 5, 1)) == told


def test_without_a_today_no_day_is_ahead(tmp_path: Path) -> None:
    assert read(tmp_path, "2062-10-01", None) == []
