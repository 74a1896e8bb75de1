"""Students told and published by helpers come out as they do one after another."""

from datetime import date
from pathlib import Path

import pytest

from recapgen.app.building import Options, build
from recapgen.console import Console, Outcome
from recapgen.tools.side_by_side import Crew
from recapgen.words.catalogue import words
from tests.end_to_end.small_lessons import add_student, tree

DAY = date(2027, 6, 1)


@pytest.fixture
def lessons(tmp_path: Path) -> Path:
    """Four students; one links to another's case, one cannot be read."""
    folder = tmp_path / "lessons"
    notes = add_student(folder, "Brida", cases="yes") / "notes.md"
    case = "case: {name: the-wall, title: The driver that started right}\nintent:"
    notes.write_text(notes.read_text("utf-8").replace("intent:", case), encoding="utf-8")
    notes = add_student(folder, "Corvin") / "notes.md"
    link = notes.read_text("utf-8").replace("intent:", "see also: the-wall\nintent:")
    notes.write_text(link, encoding="utf-8")
    add_student(folder, "Dorrit")
    (add_student(folder, "Edwin").parent / "student.yml").write_text("name: [", encoding="utf-8")
    coach = "coach: Ada Quill\npublished at: https://example.org/lessons\n"
    (folder / "coach.yml").write_text(coach, encoding="utf-8")
    return folder


def run(lessons: Path, out: Path, jobs: int) -> Outcome:
    return build(lessons, Options(out=out, today=DAY, jobs=jobs), Console(words("en")))


def test_the_same_bytes_and_problems(
    lessons: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("recapgen.app.crew_work._WORTH_HELP", 1)
    asked: list[int] = []
    each = Crew.each

    def counted(self: Crew, work: object, given: list[object]) -> object:
        asked.append(len(given))
        return each(self, work, given)  # type: ignore[arg-type]

    monkeypatch.setattr(Crew, "each", counted)
    alone = run(lessons, tmp_path / "alone", jobs=1)
    assert asked == []
    helped = run(lessons, tmp_path / "helped", jobs=2)
    assert asked == [4, 3]
    assert [p.code for p in helped.problems] == [p.code for p in alone.problems]
    assert helped.written == alone.written == 3
    for folder in ("site", "coach_book"):
        assert tree(tmp_path / "helped" / folder) == tree(tmp_path / "alone" / folder)


def test_what_helpers_cannot_do_is_done_here(
    lessons: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("recapgen.app.crew_work._WORTH_HELP", 1)
    alone = run(lessons, tmp_path / "alone", jobs=1)
    monkeypatch.setattr("recapgen.tools.side_by_side.sys.executable", "/bin/false")
    helped = run(lessons, tmp_path / "helped", jobs=2)
    assert helped.problems == alone.problems
    assert tree(tmp_path / "helped" / "site") == tree(tmp_path / "alone" / "site")
