"""``recapgen new`` that ends at any moment: nothing is lost, and the next run goes on with it."""

from pathlib import Path

import pytest

from recapgen.model.question import ChangeFile, Question, WhoseFiles
from recapgen.model.taken_in import NotesState
from tests.desk.inbox import LESSON, SHOTS, Coach, MakeFolder, new


class Stopped(Coach):
    """Ctrl-C where a question about existing notes stands on the screen."""

    def __call__(self, question: Question) -> str | None:
        if isinstance(question, ChangeFile):
            raise KeyboardInterrupt
        return super().__call__(question)


def test_a_run_stopped_at_its_question_is_gone_on_with(lessons: MakeFolder) -> None:
    """The files are moved by then, so that nothing in the inbox tells of them any more."""
    mine = "---\nintent: Mine\n---\nMy words.\n"
    root = lessons({f"{LESSON}/notes.md": mine, "inbox/shots.csv": SHOTS})
    with pytest.raises(KeyboardInterrupt):
        new(root, Stopped(), "Marta")
    assert (root / LESSON / "shots.csv").is_file()
    assert new(root).open  # nobody sits there: it stays open
    coach = Coach("yes")
    (lesson,) = new(root, coach).lessons
    assert [type(asked) for asked in coach.asked] == [ChangeFile]
    assert (lesson.folder, lesson.notes) == (LESSON, NotesState.COMPLETED)
    notes = (root / LESSON / "notes.md").read_text(encoding="utf-8")
    assert "shots: {before: 1-8, after: 9-17}" in notes
    assert notes.endswith("---\nMy words.\n")
    again = Coach("-")
    new(root, again)
    assert [type(asked) for asked in again.asked] == [WhoseFiles]  # all is done


def test_after_a_no_nothing_is_asked_again(lessons: MakeFolder) -> None:
    mine = "---\nintent: Mine\n---\n"
    root = lessons({f"{LESSON}/notes.md": mine, "inbox/shots.csv": SHOTS})
    new(root, Coach("no"), "Marta")
    coach = Coach("-")
    new(root, coach)
    assert [type(asked) for asked in coach.asked] == [WhoseFiles]
    assert (root / LESSON / "notes.md").read_text() == mine


class StoppedError(Exception):
    """Killed here."""


@pytest.mark.parametrize("at", range(6))
def test_interrupted_anywhere_nothing_is_lost_and_it_can_be_run_again(
    lessons: MakeFolder, monkeypatch: pytest.MonkeyPatch, at: int
) -> None:
    root = lessons({"inbox/shots.csv": SHOTS, "inbox/a.mov": b"a", "inbox/b.mov": b"b"})
    steps = iter(range(100))
    real_link, real_unlink = Path.hardlink_to, Path.unlink

    def link(self: Path, target: Path) -> None:
        if next(steps) == at:
            raise StoppedError
        real_link(self, target)

    def unlink(self: Path, *, missing_ok: bool = False) -> None:
        if "inbox" in self.parts and next(steps) == at:
            raise StoppedError
        real_unlink(self, missing_ok=missing_ok)

    monkeypatch.setattr(Path, "hardlink_to", link)
    monkeypatch.setattr(Path, "unlink", unlink)
    with pytest.raises(StoppedError):
        new(root, student="Marta")
    contents = {file.read_bytes() for file in root.rglob("*") if file.is_file()}
    assert {SHOTS.encode(), b"a", b"b"} <= contents
    monkeypatch.setattr(Path, "hardlink_to", real_link)
    monkeypatch.setattr(Path, "unlink", real_unlink)
    new(root, student="Marta")
    there = {file.name for file in (root / LESSON).iterdir()}
    assert there == {"shots.csv", "a.mov", "b.mov", "notes.md"}
    assert list((root / "inbox").iterdir()) == []
