"""``check --fix``: only what cannot be wrong, shown, asked, and the old file kept."""

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from recapgen.app.building import check
from recapgen.desk.mending import Mending
from recapgen.model.problem import Code, Problem
from recapgen.model.question import ChangeFile, Question
from tests.end_to_end.small_lessons import recapgen, tree

MakeFolder = Callable[[Mapping[str, str | bytes | None]], Path]
NOTES = "Marta/2027-04-11/notes.md"
GLUED = "---\nintent: Hum   # mine\nclub:7 iron\nshots: {before:1-6, after:7-12}\n---\nWell done.\n"
MENDED = GLUED.replace("club:7", "club: 7").replace("before:1", "before: 1").replace(
    "after:7", "after: 7"
)  # fmt: skip


def problems(root: Path) -> tuple[Problem, ...]:
    return check(root, None).problems


def mend(root: Path, answer: Callable[[Question], str | None]) -> Mending:
    mending = Mending(root, answer)
    while mending.go_round(problems(root)):
        pass
    return mending


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_what_is_certain_is_changed_and_every_other_byte_stays(
    lessons: MakeFolder, encoding: str, end: str
) -> None:
    typed = GLUED.replace("\n", end).encode(encoding)
    root = lessons({NOTES: typed})
    asked: list[Question] = []

    def yes(question: Question) -> str:
        asked.append(question)
        return "yes"

    mending = mend(root, yes)
    assert set(mending.changed) == {NOTES}
    assert (root / NOTES).read_bytes() == MENDED.replace("\n", end).encode(encoding)
    assert all(isinstance(each, ChangeFile) and each.file == NOTES for each in asked)
    kept = {each.read_bytes() for each in (root / ".recapgen/before/Marta/2027-04-11").iterdir()}
    assert typed in kept
    assert not {Code.NO_SPACE_AFTER_COLON} & {p.code for p in problems(root)}


@pytest.mark.parametrize("answer", ["no", "", "maybe", None])
def test_without_a_yes_nothing_is_touched_and_nothing_is_asked_twice(
    lessons: MakeFolder, answer: str | None
) -> None:
    root = lessons({NOTES: GLUED})
    before = tree(root)
    asked: list[Question] = []

    def other(question: Question) -> str | None:
        asked.append(question)
        return answer

    assert mend(root, other).changed == []
    assert len(asked) == 1
    assert tree(root) == before


def test_a_file_changed_while_it_is_shown_is_left_alone(lessons: MakeFolder) -> None:
    root = lessons({NOTES: GLUED})

    def meanwhile(question: Question) -> str:
        assert isinstance(question, ChangeFile)
        (root / NOTES).write_text(question.before.replace("Well", "Very well"))
        return "yes"

    mending = Mending(root, meanwhile)
    assert not mending.go_round(problems(root))
    assert mending.meanwhile == [NOTES]
    assert (root / NOTES).read_text() == GLUED.replace("Well", "Very well")


def test_what_has_several_answers_is_never_offered(lessons: MakeFolder) -> None:
    root = lessons({NOTES: "---\nintnt: Hum\nnumber: carry\n---\n"})

    def never(question: Question) -> str:
        raise AssertionError(question)

    assert mend(root, never).changed == []


def test_what_lies_outside_is_not_reached_through_a_link(
    lessons: MakeFolder, tmp_path_factory: pytest.TempPathFactory
) -> None:
    elsewhere = tmp_path_factory.mktemp("other") / "notes.md"
    elsewhere.write_text(GLUED)
    root = lessons({NOTES: None})
    (root / NOTES).symlink_to(elsewhere)
    mend(root, lambda _: "yes")
    assert elsewhere.read_text() == GLUED


def test_what_is_kept_is_no_lesson_and_the_command_asks_nobody_who_is_not_there(
    lessons: MakeFolder,
) -> None:
    root = lessons({NOTES: GLUED})
    ran = recapgen("check", root, "--fix")
    assert "-club:7 iron\n" in ran.err
    assert "+club: 7 iron\n" in ran.err
    assert "We didn't change anything." in ran.err
    assert (root / NOTES).read_text() == GLUED
    mend(root, lambda _: "yes")
    assert [p.where.file for p in problems(root) if ".recapgen" in p.where.file] == []
