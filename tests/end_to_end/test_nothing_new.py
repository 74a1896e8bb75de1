"""A run in which nothing is new answers as the last one did; whatever is other is met."""

import shutil
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from recapgen.app.building import Options, build, check
from recapgen.app.checking import check_anew
from recapgen.console import Console, Outcome
from recapgen.publish.output import OutputPlaces
from recapgen.words.catalogue import words
from tests.end_to_end.small_lessons import add_student, tree

DAY, NEXT = date(2027, 6, 1), date(2027, 6, 2)


class ReadAgainError(Exception):
    """The run did not answer as the last one did."""


def run(folder: Path, day: date = DAY) -> Outcome:
    return build(folder / "lessons", Options(today=day), Console(words("en")))


def read_again(*_: object, **__: object) -> Outcome:
    raise ReadAgainError


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two students' sites; one has a column that nobody knows."""
    folder = tmp_path_factory.mktemp("nothing new")
    lesson = add_student(folder / "lessons", "Brida")
    heading, *rows = (lesson / "shots.csv").read_text("utf-8").splitlines()
    lines = [f"{heading},Zork", *(f"{row},7" for row in rows)]
    (lesson / "shots.csv").write_text("\n".join(lines), encoding="utf-8")
    (folder / "lessons" / "coach.yml").write_text("coach: Ada Quill\n", encoding="utf-8")
    add_student(folder / "lessons", "Corvin")
    assert run(folder).ran
    return folder


def without_reading(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("recapgen.app.build_run.build_anew", read_again)
    monkeypatch.setattr("recapgen.app.checking.check_anew", read_again)


def test_the_next_run_answers_the_same_and_touches_nothing(
    built: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    up = tree(built / "lessons_out" / "site")
    first = check_anew(built / "lessons", DAY, OutputPlaces(built / "lessons_out"))
    without_reading(monkeypatch)
    again, checked = run(built), check(built / "lessons", DAY)
    assert (again.written, again.kept, again.lessons) == (0, 2, 2)
    assert [name for name, page in again.pages if page.is_file()] == ["Brida", "Corvin"]
    assert any("Zork" in problem.facts.values() for problem in again.problems)
    assert checked.problems == first.problems != ()
    assert all(problem in again.problems for problem in checked.problems)
    assert tree(built / "lessons_out" / "site") == up


OTHER: dict[str, Callable[[Path], object]] = {
    "a note": lambda at: (at / "lessons/brida-folder/student.yml").write_text("name: Bo", "utf-8"),
    "an empty folder": lambda at: (at / "lessons/corvin-folder/2027-05-30").mkdir(),
    "a lost secret": lambda at: (at / "lessons/.recapgen/secret").unlink(),
    "a page gone": lambda at: next((at / "lessons_out/site").glob("*/measured.html")).unlink(),
    "a page of somebody's own": lambda at: (at / "lessons_out/site/mine.html").touch(),
    "the book": lambda at: shutil.rmtree(at / "lessons_out/coach_book"),
    "what was kept": lambda at: (at / "lessons_out/.recapgen/last_run.json").write_text("{"),
}


@pytest.mark.parametrize("change", OTHER.values(), ids=OTHER)
def test_whatever_is_other_is_met(
    built: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, change: Callable[[Path], object]
) -> None:
    shutil.copytree(built, tmp_path / "copy")
    run(tmp_path / "copy")  # of another place
    change(tmp_path / "copy")
    without_reading(monkeypatch)
    with pytest.raises(ReadAgainError):
        run(tmp_path / "copy")


def test_another_day_is_another_run(built: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    without_reading(monkeypatch)
    with pytest.raises(ReadAgainError):
        run(built, NEXT)
    with pytest.raises(ReadAgainError):
        check(built / "lessons", NEXT)
