"""What is not agreed comes down, whatever else is broken, lost or gone."""

import json
import shutil
from collections.abc import Callable, Iterator
from datetime import date
from itertools import product
from pathlib import Path

import pytest

from recapgen.app.building import Options, build
from recapgen.console import Console, Outcome
from recapgen.model.problem import Code
from recapgen.words.catalogue import words
from tests.end_to_end.small_lessons import add_student, sites, tree

DAY = date(2027, 6, 1)
BRIDA = "brida-folder"


def run(lessons: Path, out: Path) -> Outcome:
    return build(lessons, Options(out=out, today=DAY), Console(words("en")))


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two students' sites, Brida's case among them, as they were before anything went wrong."""
    folder = tmp_path_factory.mktemp("built")
    lessons = folder / "lessons"
    lessons.mkdir()
    (lessons / "coach.yml").write_text("coach: Ada Quill\n", encoding="utf-8")
    lesson = add_student(lessons, "Brida", cases="yes")
    notes = lesson / "notes.md"
    case = "case: {name: the-wall, title: The driver that started right}\nintent:"
    notes.write_text(notes.read_text("utf-8").replace("intent:", case), encoding="utf-8")
    add_student(lessons, "Corvin")
    assert run(lessons, folder / "out").ran
    assert set(sites(folder / "out")) == {"Brida", "Corvin"}
    assert (folder / "out" / "site" / "cases").is_dir()
    return folder


@pytest.fixture
def standing(built: Path, tmp_path: Path) -> Iterator[tuple[Path, Path]]:
    """The lessons and their output, to be spoilt."""
    copied = tmp_path / "copy"
    shutil.copytree(built, copied)
    yield copied / "lessons", copied / "out"
    shutil.rmtree(copied)


def edited(lessons: Path, old: str, new: str) -> None:
    file = lessons / BRIDA / "student.yml"
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new), encoding="utf-8")


NOT_AGREED: dict[str, Callable[[Path], object]] = {
    "withdrawn": lambda at: edited(at, "page: yes", "page: yes, withdrawn: 2027-05-30"),
    "withdrawn at the top": lambda at: edited(at, "hand:", "withdrawn: 2027-05-30\nhand:"),
    "ended": lambda at: edited(at, "page: yes", "page: yes, until: 2027-05-30"),
    "no more": lambda at: edited(
        at, "{page: yes, clips: yes, body: yes, cases: yes}", "{page: no}"
    ),
    "a child": lambda at: edited(at, "hand:", "age band: junoir\nhand:"),
    "unreadable": lambda at: (at / BRIDA / "student.yml").write_text("name: [", encoding="utf-8"),
    "folder gone": lambda at: shutil.rmtree(at / BRIDA),
    "folder hidden": lambda at: (at / BRIDA).rename(at / f"_{BRIDA}"),
}
COACH: dict[str, Callable[[Path], object]] = {
    "coach.yml whole": Path.exists,
    "coach.yml broken": lambda at: (at / "coach.yml").write_text("coach: [", encoding="utf-8"),
}
SECRET: dict[str, Callable[[Path], object]] = {
    "secret kept": Path.exists,
    "secret lost": lambda at: (at / ".recapgen/secret").unlink(),
    "secret spoilt": lambda at: (at / ".recapgen/secret").write_text("?", encoding="utf-8"),
}
LEDGER: dict[str, Callable[[Path], object]] = {
    "ledger kept": Path.exists,
    "ledger lost": lambda out: (out / ".recapgen/ledger.json").unlink(),
}
EVERY = tuple(product(NOT_AGREED, COACH, SECRET, LEDGER))
STOPS = tuple(
    state for state in EVERY if state[1:3] != ("coach.yml whole", "secret kept")
)  # quick, since nothing is built


def takes_down(state: tuple[str, str, str, str], lessons: Path, out: Path) -> None:
    consent, coach, key, ledger = state
    NOT_AGREED[consent](lessons)
    COACH[coach](lessons)
    SECRET[key](lessons)
    LEDGER[ledger](out)
    before = tree(out / "site")
    run(lessons, out)
    up = sites(out)
    assert "Brida" not in up
    assert not any(b"The driver that started right" in page for page in tree(out / "site").values())
    if key != "secret kept" and ledger == "ledger lost":
        return  # nobody knows whose the other address is
    assert set(up) == {"Corvin"}
    kept = {path for path in before if path.startswith(up["Corvin"].name)}
    assert kept <= set(tree(out / "site"))


@pytest.mark.parametrize("state", STOPS, ids=", ".join)
def test_nothing_is_up_that_is_not_agreed(
    standing: tuple[Path, Path], state: tuple[str, str, str, str]
) -> None:
    takes_down(state, *standing)


@pytest.mark.campaign
@pytest.mark.parametrize("state", [s for s in EVERY if s not in STOPS], ids=", ".join)
def test_nothing_is_up_that_is_not_agreed_where_all_is_built(
    standing: tuple[Path, Path], state: tuple[str, str, str, str]
) -> None:
    takes_down(state, *standing)


@pytest.mark.parametrize("cases", [True, False])
def test_films_that_hide_as_of_old_come_down_where_they_are_not_made_anew(
    standing: tuple[Path, Path], *, cases: bool
) -> None:
    """Neither stays as it was while Brida is held back; made anew they are up again."""
    lessons, out = standing
    notes = lessons / BRIDA / "2027-04-11" / "notes.md"
    was = notes.read_text("utf-8")
    folder = out / "site/cases" if cases else sites(out)["Brida"]
    (folder / "film.mp4").write_bytes(b"made by an older version")
    ledger = out / ".recapgen/ledger.json"
    kept = json.loads(ledger.read_text("utf-8"))
    for line in kept["parts"].values():
        line["hidden_by"] = ""
    kept["parts"][f"student {BRIDA}"]["made"][f"site/{sites(out)['Brida'].name}/film.mp4"] = [24, 0]
    ledger.write_text(json.dumps(kept), "utf-8")
    notes.write_text(was.replace("want:", "want: [").replace("intent", "# blur:\nintent"), "utf-8")
    run(lessons, out)
    if cases:
        assert not (out / "site/cases").exists()
    else:
        assert set(sites(out)) == {"Corvin"}
    notes.write_text(was, "utf-8")
    run(lessons, out)
    assert set(sites(out)) == {"Brida", "Corvin"}
    assert (out / "site/cases").is_dir()


def test_a_lost_secret_is_refused_before_another_is_made(standing: tuple[Path, Path]) -> None:
    lessons, out = standing
    (lessons / ".recapgen/secret").unlink()
    before = tree(out / "site")
    outcome = run(lessons, out)
    assert not outcome.ran
    assert [problem.code for problem in outcome.problems] == [Code.SECRET_LOST]
    assert not (lessons / ".recapgen/secret").exists()
    assert tree(out / "site") == before


def test_a_drive_that_is_not_there_changes_nothing(standing: tuple[Path, Path]) -> None:
    lessons, out = standing
    before = tree(out)
    shutil.rmtree(lessons)
    lessons.mkdir()
    outcome = run(lessons, out)
    assert not outcome.ran
    assert [problem.code for problem in outcome.problems] == [Code.LESSONS_NOT_THERE]
    assert tree(out) == before


def test_all_students_gone_with_the_coach_still_there_are_gone(standing: tuple[Path, Path]) -> None:
    lessons, out = standing
    for folder in ("brida-folder", "corvin-folder"):
        shutil.rmtree(lessons / folder)
    assert run(lessons, out).ran
    assert sites(out) == {}
    assert not (out / "site" / "cases").exists()
