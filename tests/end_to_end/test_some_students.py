"""A build of some students leaves all else as it is; shares that are joined are one build."""

import json
import shutil
from datetime import date
from pathlib import Path

import pytest

from recapgen.app.building import Options, build
from recapgen.app.chosen_students import Scope, Shard
from recapgen.app.joining import join
from recapgen.console import Console, Outcome
from recapgen.model.problem import Code
from recapgen.words.catalogue import words
from tests.end_to_end.small_lessons import add_student, sites, tree

DAY = date(2027, 6, 1)
EVERYTHING = Scope()


@pytest.fixture
def lessons(tmp_path: Path) -> Path:
    """Three students; the last links to the first one's case."""
    folder = tmp_path / "lessons"
    notes = add_student(folder, "Brida", cases="yes") / "notes.md"
    case = "case: {name: the-wall, title: The driver that started right}\nintent:"
    notes.write_text(notes.read_text("utf-8").replace("intent:", case), encoding="utf-8")
    add_student(folder, "Corvin")
    notes = add_student(folder, "Dorn") / "notes.md"
    link = notes.read_text("utf-8").replace("intent:", "see also: the-wall\nintent:")
    notes.write_text(link, encoding="utf-8")
    coach = "coach: Ada Quill\npublished at: https://example.org/lessons\n"
    (folder / "coach.yml").write_text(coach, encoding="utf-8")
    return folder


def run(lessons: Path, out: Path, scope: Scope = EVERYTHING) -> Outcome:
    return build(lessons, Options(out=out, today=DAY, scope=scope), Console(words("en")))


def joined(folders: list[Path], out: Path) -> Outcome:
    return join(folders, Options(out=out, today=DAY), Console(words("en")))


def say_more(lessons: Path, name: str) -> None:
    notes = lessons / f"{name}-folder" / "2027-04-11" / "notes.md"
    notes.write_text(notes.read_text("utf-8") + "\nKeep your weight where it is.\n", "utf-8")


@pytest.mark.parametrize("name", ["dorn-folder", "DORN"])
def test_only_one_is_made_and_the_next_build_makes_the_rest(
    lessons: Path, tmp_path: Path, name: str
) -> None:
    out = tmp_path / "out"
    run(lessons, out)
    before = tree(out / "site")
    for each in ("brida", "dorn"):
        say_more(lessons, each)
    outcome = run(lessons, out, Scope(only=(name,)))
    assert (outcome.written, [who for who, _ in outcome.pages]) == (1, ["Dorn"])
    changed = {path for path, bytes_ in tree(out / "site").items() if before.get(path) != bytes_}
    dorn = sites(out)["Dorn"].name
    assert changed
    assert all(path.startswith(f"{dorn}/") for path in changed)
    (lesson,) = (out / "site" / dorn).glob("2*.html")
    assert "/cases/" in lesson.read_text("utf-8")
    assert run(lessons, out).written == 1
    run(lessons, tmp_path / "anew")
    assert tree(out / "site") == tree(tmp_path / "anew" / "site")
    book, anew = tree(out / "coach_book"), tree(tmp_path / "anew" / "coach_book")
    speak_of_this_run = {"index.html", "problems.html", "assets/book_index.js"}
    assert {at for at in {*book, *anew} if book.get(at) != anew.get(at)} <= speak_of_this_run


def test_consent_holds_for_everybody_and_names_are_kept_out(lessons: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    run(lessons, out)
    student = lessons / "brida-folder" / "student.yml"
    agreed = "{page: yes, clips: yes, body: yes, cases: yes}"
    student.write_text(student.read_text("utf-8").replace(agreed, "{page: no}"), "utf-8")
    notes = lessons / "dorn-folder" / "2027-04-11" / "notes.md"
    notes.write_text(notes.read_text("utf-8") + "\nCorvin does it better.\n", "utf-8")
    outcome = run(lessons, out, Scope(only=("Dorn",)))
    assert "Brida" not in sites(out)
    assert not (out / "site" / "cases").exists()
    assert Code.OTHER_STUDENT_NAMED in [problem.code for problem in outcome.problems]
    assert outcome.written == 0


def test_an_unknown_name_builds_nothing(lessons: Path, tmp_path: Path) -> None:
    outcome = run(lessons, tmp_path / "out", Scope(only=("Dorm", "Corvin")))
    assert not outcome.ran
    (problem,) = outcome.problems
    assert (problem.code, problem.facts["found"]) == (Code.STUDENT_NOT_KNOWN, "Dorm")
    assert "dorn-folder" in problem.facts["near"]
    assert not sites(tmp_path / "out")


@pytest.mark.parametrize("of", [2, 4])
def test_shares_are_one_build(lessons: Path, tmp_path: Path, of: int) -> None:
    parts = [tmp_path / f"part {number}" for number in range(1, of + 1)]
    run(lessons, tmp_path / "whole")
    for number, part in enumerate(parts, 1):
        assert run(lessons, part, Scope(shard=Shard(number, of))).ran
        assert not (part / "coach_book").exists()
    outcome = joined(parts, tmp_path / "joined")
    assert outcome.ran
    assert outcome.written <= 1  # whose link leads to a case of another share
    for folder in ("site", "coach_book"):
        assert tree(tmp_path / "joined" / folder) == tree(tmp_path / "whole" / folder)


def test_what_is_no_whole_is_not_joined(lessons: Path, tmp_path: Path) -> None:
    one, two, odd = (tmp_path / name for name in ("one", "two", "odd"))
    run(lessons, one, Scope(shard=Shard(1, 2)))
    run(lessons, two, Scope(shard=Shard(2, 2)))
    shutil.copytree(two, odd)
    told = json.loads((odd / ".recapgen/share.json").read_text("utf-8"))
    (odd / ".recapgen/share.json").write_text(json.dumps(told | {"secret": "x"}), "utf-8")
    for folders, code in (
        ([one], Code.SHARE_MISSING),
        ([one, one, two], Code.SHARE_MISSING),
        ([one, odd], Code.SHARES_DIFFER),
        ([one, lessons], Code.SHARE_NOT_ONE),
    ):
        outcome = joined(folders, tmp_path / "joined")
        assert [problem.code for problem in outcome.problems] == [code]
        assert not (tmp_path / "joined").exists()
