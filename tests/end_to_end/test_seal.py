"""``recapgen seal``: five seconds on the range, and what it refuses."""

import json
from collections.abc import Callable
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
from click.testing import CliRunner

from recapgen.cli import cli
from tests.end_to_end.small_lessons import NOTES, STUDENT, Ran, recapgen, shots_csv, sites, tree

GUARDED = "must not lose: {carry spread: 3 yd}\nplanned: {before: 10, after: 12}\nmatters:"


@pytest.fixture
def lesson(tmp_path: Path) -> Path:
    """A lesson that is still to be given, tomorrow, so that no midnight comes between."""
    tomorrow = date.today() + timedelta(days=1)  # noqa: DTZ011  the day on this computer
    folder = tmp_path / "lessons" / "brida" / f"{tomorrow} driver"
    folder.mkdir(parents=True)
    (tmp_path / "lessons/coach.yml").write_text(
        "coach: Ada Quill\nunits: {speed: mph, length: yd}\n", encoding="utf-8"
    )
    (folder.parent / "student.yml").write_text(
        STUDENT.format(name="Brida", cases="no"), encoding="utf-8"
    )
    notes = NOTES.format(intent="Slide along the wall").replace("matters:", GUARDED)
    notes = notes.replace("chosen: before the after-shots\n", "")
    (folder / "notes.md").write_text(notes, encoding="utf-8")
    return folder


def _here(*words: str | Path) -> Ran:
    """The command in this very process: most of these runs need none of their own."""
    done = CliRunner().invoke(cli, [str(word) for word in words])
    assert done.exception is None or isinstance(done.exception, SystemExit)
    return Ran(done.exit_code, done.stdout, done.stderr)


@pytest.fixture
def seal(lesson: Path) -> Callable[..., Ran]:
    return lambda *more: _here("seal", lesson, *more)


def _sealed(lesson: Path) -> dict[str, object]:
    told: dict[str, object] = json.loads((lesson / "seal.json").read_text("utf-8"))
    return told


def _edit(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new), "utf-8")


def test_the_plan_is_written_with_its_time_and_read_back(lesson: Path) -> None:
    ran = recapgen("seal", lesson)
    assert (ran.code, ran.err) == (0, "")
    told = _sealed(lesson)
    at = datetime.fromisoformat(str(told.pop("sealed at")))
    assert at.utcoffset() is not None
    assert abs(datetime.now().astimezone() - at) < timedelta(minutes=5)
    assert told == {
        "number": "club path",
        "want": "-2 to 2 deg",
        "matters": "1 deg",
        "must not lose": {"carry spread": "3 yd"},
        "planned": {"before": 10, "after": 12},
    }
    assert f"brida/{lesson.name}" in ran.out
    for said in ("club path", "2.0° left to 2.0° right", "3.0 yd", "10 before, 12 after"):
        assert said in ran.out
    assert len(ran.out.splitlines()) <= 8
    assert [path.name for path in lesson.iterdir()].count("seal.json") == 1


def test_counts_given_with_the_command_go_before_the_notes(
    lesson: Path, seal: Callable[..., Ran]
) -> None:
    assert seal("--after", "15").code == 0
    assert _sealed(lesson)["planned"] == {"before": 10, "after": 15}


def test_the_same_plan_keeps_its_first_time(lesson: Path, seal: Callable[..., Ran]) -> None:
    assert seal().code == 0
    _edit(lesson / "seal.json", str(_sealed(lesson)["sealed at"]), "2026-01-02T10:12:00+01:00")
    before = tree(lesson)
    for more in ((), ("--again",)):
        ran = seal(*more)
        assert ran.code == 0
        assert "10:12" in ran.out
        assert tree(lesson) == before


def test_another_plan_asks_first_and_keeps_the_old_one_inside(
    lesson: Path, seal: Callable[..., Ran]
) -> None:
    assert seal().code == 0
    first = _sealed(lesson)
    _edit(lesson / "notes.md", "want: 2 left to 2 right", "want: lower")
    ran = seal()
    assert ran.code == 2
    assert "sealed-already" in ran.err
    assert "--again" in ran.err
    assert _sealed(lesson) == first
    assert seal("--again").code == 0
    second = _sealed(lesson)
    assert second["want"] == "lower"
    assert second["earlier"] == [first]
    _edit(lesson / "notes.md", "want: lower", "want: higher")
    assert seal("--again").code == 0
    assert [each["want"] for each in _sealed(lesson)["earlier"]] == ["-2 to 2 deg", "lower"]  # type: ignore[attr-defined]


def test_after_shots_that_are_there_already_are_refused(
    lesson: Path, seal: Callable[..., Ran]
) -> None:
    (lesson / "shots.csv").write_text(shots_csv(), "utf-8")
    ran = seal()
    assert ran.code == 2
    assert "seal-too-late" in ran.err
    assert "backdated" in ran.err
    assert not (lesson / "seal.json").exists()


def test_shots_in_no_block_may_be_after_shots(lesson: Path, seal: Callable[..., Ran]) -> None:
    rows = "".join(f"{n},{n}.5\n" for n in range(1, 11))
    (lesson / "shots.csv").write_text(f"Shot,Club Path [deg]\n{rows}", "utf-8")
    assert "seal-shots-unplaced" in seal().err
    _edit(lesson / "notes.md", "matters:", "shots: {before: 1-10}\nmatters:")
    assert seal().code == 0


def test_a_lesson_that_is_over_is_refused(lesson: Path) -> None:
    over = lesson.rename(lesson.with_name("2020-04-11 driver"))
    ran = _here("seal", over)
    assert ran.code == 2
    assert "seal-day-past" in ran.err
    assert not (over / "seal.json").exists()


def test_notes_without_a_number_and_notes_with_faults_are_refused(
    lesson: Path, seal: Callable[..., Ran]
) -> None:
    _edit(lesson / "notes.md", "want: 2 left to 2 right", "want: sideways")
    ran = seal()
    assert ran.code == 2
    assert "want-unreadable" in ran.err
    (lesson / "notes.md").write_text("Just words.\n", "utf-8")
    assert "seal-no-number" in seal().err
    assert not (lesson / "seal.json").exists()


@pytest.mark.parametrize("where", ["brida", "nobody/2027-01-01", "."])
def test_what_is_no_lesson_is_said(lesson: Path, where: str) -> None:
    ran = _here("seal", lesson.parents[1] / where)
    assert ran.code == 2
    assert "seal-no-lesson" in ran.err
    assert "Traceback" not in ran.err


@pytest.mark.parametrize(("change", "said"), [
    ("", "sealed at"),
    ("want", "changed after it was sealed"),
])  # fmt: skip
def test_the_page_says_what_was_sealed_and_when(
    lesson: Path, seal: Callable[..., Ran], tmp_path: Path, change: str, said: str
) -> None:
    _edit(lesson / "notes.md", "must not lose: {carry spread: 3 yd}\n", "")
    assert seal().code == 0
    (lesson / "shots.csv").write_text(shots_csv(), "utf-8")
    if change:
        _edit(lesson / "notes.md", "want: 2 left to 2 right", "want: 3 left to 3 right")
    ran = _here("build", lesson.parents[1], "--out", tmp_path / "out")
    assert ran.code == 0, ran.err
    (page,) = sites(tmp_path / "out")["Brida"].glob("20*.html")
    assert said in page.read_text("utf-8")
    (data,) = (tmp_path / "out/coach_book/data/brida").glob("*.json")
    record = json.loads(data.read_text("utf-8"))
    assert record["declared"] == ("afterwards" if change else "sealed")
    assert record["verdict"] == ("probably changed" if change else "changed")
    assert record["verdict_uncapped"] == "changed"
