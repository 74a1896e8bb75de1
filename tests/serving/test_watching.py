"""Whatever happens to the lessons while they are watched, it is told, and the watching goes on."""

import errno
import shutil
from pathlib import Path

import pytest
from msgspec.structs import replace

from recapgen.app import watching
from recapgen.app.watching import TRY_AGAIN_S, Watched, newest, watch
from recapgen.console import Console, Outcome
from recapgen.model.notes_sent import NotesKept, NotesSent, SheetDesk
from recapgen.model.problem import Code, Problem
from recapgen.model.source import SourceRef
from recapgen.serving.page_host import hosting
from recapgen.words.catalogue import words
from tests.serving.asking import ask

HERE = "127.0.0.1"
NOTES = SourceRef("marta/2027-04-11/notes.md", 7, 1)
MISSPELT = Problem(
    Code.KEY_MISSPELT, NOTES, {"found": "maters", "near": "matters", "known": "matters"}
)
STRAY = Problem(Code.STRAY_FILE, SourceRef("marta/x.txt"), {"found": "x.txt"})
BUILT = Outcome(ran=True, problems=())

Builds = list[Outcome | Exception]


def nobody(_: NotesSent) -> NotesKept:
    """Saves for nobody: these tests send no notes."""
    raise AssertionError


NOBODY = SheetDesk(nobody, lambda _: None)


@pytest.fixture
def lessons(tmp_path: Path) -> Path:
    folder = tmp_path / "less"
    folder.mkdir()
    return folder


@pytest.fixture
def builds(monkeypatch: pytest.MonkeyPatch) -> Builds:
    """What the builds to come come to, the next one first; the last one stays."""
    coming: Builds = [BUILT]

    def build(*_: object) -> Outcome:
        answer = coming.pop(0) if len(coming) > 1 else coming[0]
        if isinstance(answer, Exception):
            raise answer
        return answer

    monkeypatch.setattr(watching, "build", build)
    monkeypatch.setattr(watching, "sleep", lambda _: None)
    return coming


@pytest.fixture
def watched(lessons: Path, builds: Builds, monkeypatch: pytest.MonkeyPatch) -> Watched:
    """Lessons that were built once, all well."""
    assert builds == [BUILT]
    began = Watched(lessons, lessons.with_name("out"), Console(words("en")))
    passing = iter(range(-1000, 0))
    monkeypatch.setattr(watching, "monotonic", lambda: float(next(passing)))
    began.begin()
    return began


def change(lessons: Path) -> None:
    file = lessons / "notes.md"
    file.write_text((file.read_text("utf-8") if file.exists() else "") + "x", encoding="utf-8")


def built_after(watched: Watched, now_s: float) -> None:
    """Two looks, so far apart that all has come to rest."""
    watched.look(now_s)
    watched.look(now_s + 2)


def test_a_change_is_built_once_it_has_come_to_rest(watched: Watched, lessons: Path) -> None:
    host = watched.shown_on(HERE, book=True)
    first = host.news.build
    for second in range(4):
        change(lessons)
        watched.look(float(second))
        assert host.news.state.startswith("Waiting")
    watched.look(4.0)
    assert host.news.build == first
    watched.look(5.0)
    assert host.news.build == first + 1
    assert host.news.state.startswith("Built at")
    built_after(watched, 10.0)
    assert host.news.build == first + 1
    host.server_close()


def test_what_changes_during_a_build_is_built_next(
    watched: Watched, lessons: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    built: list[int] = []

    def build(*_: object) -> Outcome:
        built.append(len(built))
        if len(built) == 1:
            change(lessons)
        return BUILT

    monkeypatch.setattr(watching, "build", build)
    change(lessons)
    for second in range(0, 20, 2):
        watched.look(float(second))
    assert built == [0, 1]


@pytest.mark.parametrize(
    ("fault", "said"),
    [
        (OSError(errno.ENOSPC, "No space left on device"), "No space left on device"),
        (Outcome(ran=False, problems=(MISSPELT,)), "notes.md:7"),
    ],
)
def test_a_build_that_fails_is_told_once_and_tried_again(
    watched: Watched,
    builds: Builds,
    capsys: pytest.CaptureFixture[str],
    fault: Exception | Outcome,
    said: str,
) -> None:
    host = watched.shown_on(HERE, book=True)
    builds[:] = [fault, fault, replace(BUILT, lessons=7)]
    change(watched.lessons)
    built_after(watched, 0.0)
    assert said in " ".join(host.news.problem)
    assert host.news.state.startswith("Nothing was built at")
    assert said in capsys.readouterr().err
    watched.look(2 + TRY_AGAIN_S - 1)
    assert len(builds) == 2
    watched.look(2 + TRY_AGAIN_S)
    assert len(builds) == 1
    assert said not in capsys.readouterr().err
    watched.look(2 + 2 * TRY_AGAIN_S)
    assert host.news.state.startswith("Built at")
    assert host.news.problem == ()
    host.server_close()


def test_a_fault_of_ours_is_told_and_the_next_change_is_built(
    watched: Watched, lessons: Path, builds: Builds
) -> None:
    host = watched.shown_on(HERE, book=True)
    builds[:] = [ZeroDivisionError("a bug"), BUILT]
    change(lessons)
    built_after(watched, 0.0)
    said = " ".join(host.news.problem)
    assert "Please send" in said
    assert "a bug" not in said
    watched.look(3 * TRY_AGAIN_S)
    assert list(host.news.problem) == [said]  # another report of the same would help nobody
    change(lessons)
    built_after(watched, 4 * TRY_AGAIN_S)
    assert list(host.news.problem) == []
    host.server_close()


def test_a_new_day_is_a_change(
    watched: Watched, monkeypatch: pytest.MonkeyPatch, builds: Builds
) -> None:
    builds[:] = [replace(BUILT, lessons=1), replace(BUILT, lessons=2)]
    monkeypatch.setattr(watching, "today", lambda _: "tomorrow")
    built_after(watched, 0.0)
    assert len(builds) == 1


def test_a_phone_is_told_no_word_of_a_problem(
    watched: Watched, lessons: Path, builds: Builds
) -> None:
    here, phone = watched.shown_on(HERE, book=True), watched.shown_on(HERE, book=False)
    builds[:] = [replace(BUILT, problems=(MISSPELT, STRAY))]
    change(lessons)
    built_after(watched, 0.0)
    assert "marta" in " ".join(here.news.problem)
    assert "1 more" in here.news.more
    assert (phone.news.problem, phone.news.lines, phone.news.more) == ((), (), "")
    assert "marta" not in str(phone.news)
    assert "check the computer" in phone.news.state
    assert "coach_book" not in phone.folders
    assert phone.address != here.address
    for host in (here, phone):
        host.server_close()


@pytest.mark.parametrize(
    ("problems", "before", "first"),
    [
        ((STRAY, MISSPELT), (), MISSPELT),  # what holds something back
        ((STRAY, MISSPELT), (MISSPELT,), STRAY),  # what is new
        ((STRAY,), (STRAY,), STRAY),
        ((), (STRAY,), None),
    ],
)
def test_the_newest_problem_is_told_first(
    problems: tuple[Problem, ...], before: tuple[Problem, ...], first: Problem | None
) -> None:
    assert newest(problems, before) == first


@pytest.mark.parametrize("given", ["nowhere", "less/marta"])
def test_what_is_no_folder_of_lessons_is_not_watched(
    tmp_path: Path, given: str, capsys: pytest.CaptureFixture[str], lessons: Path
) -> None:
    (lessons / "coach.yml").write_text("coach: Ada Quill\n", encoding="utf-8")
    (lessons / "marta").mkdir()
    (lessons / "marta" / "student.yml").write_text("name: Marta\n", encoding="utf-8")
    watch(tmp_path / given, None, Console(words("en")), sheets=NOBODY, phone=False)
    assert "Nothing was built." in capsys.readouterr().err


@pytest.mark.parametrize(
    ("broken", "mended"),
    [
        ({"coach.yml": "coach: Ada Quill\nunits: {speed: furlongs}\n"}, "coach: Ada Quill\n"),
        ({"coach.yml": "coach: [Ada\n"}, "coach: Ada Quill\n"),
        ({"coach.yml": None}, "coach: Ada Quill\n"),  # nothing there at all
    ],
)
def test_a_first_build_that_is_not_possible_is_told_and_watched_until_it_is(
    lessons: Path,
    broken: dict[str, str | None],
    mended: str,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """What lies where the output goes is not shown before it is known to be ours."""
    out = lessons.with_name("out")
    for path, text in broken.items():
        if text is not None:
            (lessons / path).write_text(text, encoding="utf-8")
        else:
            (out / "site").mkdir(parents=True)  # as a drive that is not there leaves it
            (out / "site" / "index.html").write_text("old", encoding="utf-8")
    monkeypatch.setattr(watching, "sleep", lambda _: None)
    passing = iter(range(-1000, 0))
    monkeypatch.setattr(watching, "monotonic", lambda: float(next(passing)))
    watched = Watched(lessons, out, Console(words("en")))
    watched.begin()
    host = watched.shown_on(HERE, book=True)
    with hosting(host):
        assert not watched.wants_another_place
        assert host.news.build == 0
        assert "no pages to show yet" in host.news.state
        assert host.news.problem
        assert host.news.problem[1].strip() in capsys.readouterr().err
        assert ask(host, "site/").status == ask(host, "site/index.html").status == 404
        if broken["coach.yml"] is None:
            shutil.rmtree(out)
        (lessons / "coach.yml").write_text(mended, encoding="utf-8")
        built_after(watched, 0.0)
        assert host.news.build == 1
        assert "Built at" in host.news.state
        assert ask(host, "site/").status == 200


def test_a_folder_of_somebody_elses_is_never_shown(
    lessons: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(watching, "sleep", lambda _: None)
    passing = iter(range(100))
    monkeypatch.setattr(watching, "monotonic", lambda: float(next(passing)))
    (lessons / "coach.yml").write_text("coach: Ada Quill\n", encoding="utf-8")
    taxes = lessons.with_name("taxes") / "site"
    taxes.mkdir(parents=True)
    (taxes / "index.html").write_text("mine", encoding="utf-8")
    watch(lessons, taxes.parent, Console(words("en")), sheets=NOBODY, phone=True)
    told = capsys.readouterr()
    assert "output-not-ours" in told.err
    assert "http://" not in told.out
