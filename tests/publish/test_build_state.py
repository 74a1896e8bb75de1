"""Nothing new, nothing done; anything in doubt, made again."""

import os
import time
from datetime import date, timedelta
from pathlib import Path

import pytest
from msgspec.structs import replace

from recapgen.model.problem import Code, Cost, Problem
from recapgen.model.source import SourceRef
from recapgen.publish.build_state import (
    PartState,
    in_doubt,
    made,
    read_states,
    recipe,
    see,
    write_states,
)

DAY = date(2027, 4, 11)
PROBLEMS = (
    Problem(Code.CONSENT_ENDED, SourceRef("ö/student.yml", 3, 1), {"day": "2027-04-01"}),
    Problem(Code.LINK_DEAD, SourceRef(""), {"page": "index.html", "link": "x"}, Cost.CASE),
)


@pytest.fixture
def lessons(tmp_path: Path) -> Path:
    folder = tmp_path / "lessons" / "ö"
    folder.mkdir(parents=True)
    for name in ("student.yml", "notes.md"):
        (folder / name).write_text(name)
        os.utime(folder / name, (1_700_000_000, 1_700_000_000))
    return tmp_path / "lessons"


@pytest.fixture
def out(tmp_path: Path) -> Path:
    folder = tmp_path / "out" / "site" / "bcdf"
    folder.mkdir(parents=True)
    (folder / "index.html").write_text("page")
    return tmp_path / "out"


def inputs(lessons: Path) -> list[Path]:
    return [file for file in lessons.rglob("*") if file.is_file()]


def line(lessons: Path, out: Path, changes_on: date | None = None) -> PartState:
    return PartState(
        recipe="r",
        inputs=see(inputs(lessons), lessons, None),
        made=made([out / "site" / "bcdf"], out),
        made_on=DAY,
        changes_on=changes_on,
        problems=PROBLEMS,
    )


def stands(kept: PartState, lessons: Path, out: Path, today: date = DAY, how: str = "r") -> bool:
    return kept.stands(how, see(inputs(lessons), lessons, kept), today, out)


def test_a_ledger_is_read_as_it_was_written(lessons: Path, out: Path) -> None:
    kept = {"ö": line(lessons, out, DAY + timedelta(days=3)), "cases": line(lessons, out)}
    write_states(out / "ledger.json", kept)
    assert read_states(out / "ledger.json") == kept


@pytest.mark.parametrize(
    "text",
    ["", "{", "[]", "{}", '{"format": 0, "parts": {}}', '{"format": 1, "parts": {"a": {}}}', "\0"],
)
def test_a_ledger_in_doubt_is_empty(tmp_path: Path, text: str) -> None:
    assert read_states(tmp_path / "none.json") == {}
    (tmp_path / "ledger.json").write_text(text)
    assert read_states(tmp_path / "ledger.json") == {}


def test_nothing_new_stands(lessons: Path, out: Path) -> None:
    kept = line(lessons, out)
    assert stands(kept, lessons, out)
    assert stands(kept, lessons, out, DAY + timedelta(days=900))


def test_a_touched_file_with_the_same_words_stands(lessons: Path, out: Path) -> None:
    kept = line(lessons, out)
    os.utime(lessons / "ö" / "notes.md")
    assert stands(kept, lessons, out)


@pytest.mark.parametrize("change", ["edit", "add", "remove", "rename"])
def test_any_change_of_an_input_is_seen(lessons: Path, out: Path, change: str) -> None:
    kept = line(lessons, out)
    file = lessons / "ö" / "notes.md"
    if change == "edit":
        file.write_text("Notes.md")
        os.utime(file, (1_700_000_000, 1_700_000_000))  # same size, same time
    elif change == "add":
        (file.parent / "shots.csv").touch()
    elif change == "remove":
        file.unlink()
    else:
        file.rename(file.with_name("private.md"))
    assert not stands(kept, lessons, out)


def test_a_file_changed_in_the_instant_it_was_read_is_read_again(
    lessons: Path, out: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    young = lessons / "ö" / "notes.md"
    young.write_text("a")
    kept = line(lessons, out)
    assert not kept.inputs["ö/notes.md"].settled
    same_stamp = replace(kept.inputs["ö/notes.md"], digest="of older words")
    kept = replace(kept, inputs={**kept.inputs, "ö/notes.md": same_stamp})
    assert not stands(kept, lessons, out)
    monkeypatch.setattr(time, "time_ns", lambda: young.stat().st_mtime_ns + 3_000_000_000)
    assert see(inputs(lessons), lessons, kept)["ö/notes.md"].settled


def test_what_is_settled_is_not_read_again(
    lessons: Path, out: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(time, "time_ns", lambda: 4_000_000_000 * 10**9)
    kept = line(lessons, out)

    def refuse(*_: object, **__: object) -> None:
        raise AssertionError("read again")

    monkeypatch.setattr(Path, "open", refuse)
    assert stands(kept, lessons, out)


@pytest.mark.parametrize("change", ["edit", "remove", "folder"])
def test_output_that_is_not_as_it_was_left_is_made_again(
    lessons: Path, out: Path, change: str
) -> None:
    kept = line(lessons, out)
    page = out / "site" / "bcdf" / "index.html"
    if change == "edit":
        page.write_text("longer page")
    else:
        page.unlink()
        if change == "folder":
            page.parent.rmdir()
    assert not stands(kept, lessons, out)


@pytest.mark.parametrize(
    ("days", "expected"), [(-1, False), (0, True), (2, True), (3, False), (9, False)]
)
def test_the_day_counts(lessons: Path, out: Path, days: int, *, expected: bool) -> None:
    kept = line(lessons, out, DAY + timedelta(days=3))
    assert stands(kept, lessons, out, DAY + timedelta(days=days)) is expected


def test_another_recipe_is_seen(lessons: Path, out: Path, tmp_path: Path) -> None:
    assert not stands(line(lessons, out), lessons, out, how="another")
    one, two = tmp_path / "one", tmp_path / "two"
    for folder, text in ((one, "a"), (two, "b")):
        folder.mkdir()
        (folder / "main.html").write_text(text)
    assert recipe(one, "x") == recipe(one, "x")
    assert len({recipe(one, "x"), recipe(two, "x"), recipe(one, "y"), recipe(one, "x", "")}) == 4


def test_a_part_in_doubt_is_made_again_and_forgets_no_consent(lessons: Path, out: Path) -> None:
    kept = in_doubt(replace(line(lessons, out), granted=("body", "page")), ("clips", "page"))
    assert kept.granted == ("body", "clips", "page")
    assert not stands(kept, lessons, out)


def test_a_file_that_cannot_be_read_is_seen_and_told_from_one_that_can(
    lessons: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    read = see(inputs(lessons), lessons, None)
    notes = lessons / "ö" / "notes.md"

    def all_but_the_notes(file: Path) -> str:
        if file == notes:
            raise PermissionError(13, "Permission denied", str(file))
        return "read"

    monkeypatch.setattr("recapgen.publish.build_state.sha256_of_file", all_but_the_notes)
    shut = see(inputs(lessons), lessons, None)
    assert shut["ö/student.yml"].digest == "read"
    assert shut["ö/notes.md"].digest not in {"read", read["ö/notes.md"].digest}
