"""A folder that is gone takes its pages along at once, and what is kept of it after thirty days."""

import json
from collections.abc import Callable
from pathlib import Path

from tests.end_to_end.small_lessons import Ran, add_student, sites, tree

Build = Callable[..., Ran]
DRILL = "---\ndo: Polish the brass doorknob\ntimes: 8\nright when: it shines\n---\nSlowly.\n"
PRACTICE = "practice:\n  sessions a week: 2\n  steps:\n    - {drill: doorknob, times: 8}\n---\nKeep"


def _prepare(lessons: Path, out: Path) -> Path:
    """A lesson of Brida's with a drill that is kept, stills, and a film nobody else uses."""
    (lessons / "drills").mkdir()
    (lessons / "drills" / "doorknob.md").write_text(DRILL, "utf-8")
    lesson = lessons / "brida-folder" / "2027-04-11"
    notes = (lesson / "notes.md").read_text("utf-8")
    (lesson / "notes.md").write_text(notes.replace("---\nKeep", PRACTICE), "utf-8")
    before = lessons / ".recapgen" / "before" / "brida-folder"
    (before / "2027-04-11").mkdir(parents=True)
    (before / "2027-04-11" / "notes.a1b2c3.md").write_bytes(b"Brida, as it was")
    (before / "student.a1b2c3.yml").write_bytes(b"name: Brida")
    asked = "corvin-folder/2027-04-11\nbrida-folder/2027-04-11\n"
    (lessons / ".recapgen" / "worksheets.txt").write_text(asked, "utf-8")
    sheet = out / "stills" / "brida-folder" / "2027-04-11" / "face on.png"
    sheet.parent.mkdir(parents=True)
    sheet.write_bytes(b"Brida")
    film = out / ".recapgen" / "cache" / "a1b2" / "film.mp4"
    film.parent.mkdir(parents=True)
    film.write_bytes(b"Brida swings")
    (film.parent / "entry.json").write_text("{}", "utf-8")
    return film


def _left(lessons: Path, out: Path) -> set[str]:
    """Files of ours, beside the lessons or put out, in which something of Brida's can be read."""
    ours = tree(lessons / ".recapgen") | tree(out)
    return {
        path
        for path, held in ours.items()
        if any(word in (path.encode() + held).lower() for word in (b"brida", b"brass", b"count 5"))
    }


def _gone_in(ran: Ran) -> list[str]:
    return [
        line
        for line in ran.err.splitlines()
        if "from the lessons" in line or "no longer in the lessons" in line
    ]


def test_what_is_kept_of_a_student_who_is_gone_waits_thirty_days(
    lessons: Path, build: Build, out: Path, tmp_path: Path
) -> None:
    assert build().code == 0
    film = _prepare(lessons, out)
    assert build().code == 0
    kept = lessons / ".recapgen/drills/brida-folder/2027-04-11.json"
    assert b"doorknob" in kept.read_bytes()
    up = {name: tree(site) for name, site in sites(out).items()}
    address = sites(out)["Brida"].name

    (lessons / "brida-folder").rename(tmp_path / "away")
    (lessons / "drills" / "doorknob.md").unlink()
    for _ in range(2):
        ran = build()
        assert set(sites(out)) == {"Corvin"}
        (line,) = _gone_in(ran)
        assert line.startswith("brida-folder is no longer in the lessons")
        assert "30 days" in line
    assert kept.exists()
    assert film.exists()
    (line,) = _gone_in(build("--today", "2027-06-30"))
    assert "In 1 day " in line

    (tmp_path / "away").rename(lessons / "brida-folder")
    (lessons / "drills" / "doorknob.md").write_text(DRILL, "utf-8")
    back = build()
    assert _gone_in(back) == []
    assert {name: tree(site) for name, site in sites(out).items()} == up
    assert not (out / ".recapgen" / "gone.json").exists()

    (lessons / "brida-folder").rename(tmp_path / "away")
    (lessons / "drills" / "doorknob.md").unlink()
    notes = lessons / "corvin-folder/2027-04-11/notes.md"
    notes.write_text(
        notes.read_text("utf-8").replace("want: 2 left to 2 right", "want: ["), "utf-8"
    )
    build()
    assert _left(lessons, out)
    (line,) = _gone_in(build("--today", "2027-07-01"))
    assert line.startswith("brida-folder has been missing")
    assert _left(lessons, out) == set()
    assert not film.exists()
    assert (out / "site" / address / "sw.js").exists()
    assert _gone_in(build("--today", "2027-07-01")) == []


def test_a_lesson_that_is_gone_waits_by_itself(lessons: Path, build: Build, out: Path) -> None:
    again = add_student(lessons, "Dorn")
    (again.with_name("2027-04-20")).mkdir()
    (again.with_name("2027-04-20") / "notes.md").write_text("---\nintent: Hum\n---\n", "utf-8")
    assert build().code == 0
    again.rename(again.with_name("_2027-04-11"))
    (line,) = _gone_in(build())
    assert line.startswith("dorn-folder/2027-04-11 is no longer")
    (out / ".recapgen" / "ledger.json").unlink()
    assert len(_gone_in(build("--today", "2027-06-20"))) == 1
    assert set(json.loads((out / ".recapgen/gone.json").read_text("utf-8"))) == {
        "dorn-folder/2027-04-11"
    }
