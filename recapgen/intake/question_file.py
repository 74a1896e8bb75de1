"""question.md: who asked and when it was answered, the question, and below a "---" the answer."""

from collections.abc import Iterator, Sequence
from pathlib import Path

from msgspec.structs import replace

from recapgen.intake.clearing_lines import check_lines, speaks_of_pain
from recapgen.intake.clip_list import read_clips
from recapgen.intake.folder import LessonPaths
from recapgen.intake.form import Form, meanings_of
from recapgen.intake.front_matter import in_place, split
from recapgen.intake.notes import WORDS_LENGTH
from recapgen.intake.phone_typing import opens_or_closes
from recapgen.intake.spelling import spelling
from recapgen.intake.text_file import file_of, read_text
from recapgen.model.between_lessons import AskedBy, QuestionWords, StudentQuestion
from recapgen.model.fix import Edit, Put, one_of
from recapgen.model.lesson import ClipFile
from recapgen.model.problem import Checked, Code, Problem
from recapgen.model.source import SourceRef

KEYS = spelling(
    "asked by", "answered", "clips", "was called", "new address",
    asked="asked by", by="asked by", answer="answered", answered_on="answered",
    clip="clips", films="clips",
)  # fmt: skip
KNOWN = frozenset((*KEYS.keys, *KEYS.variants))
_ASKED_BY = meanings_of({
    AskedBy.STUDENT: ("student", "the student", "pupil", "player"),
    AskedBy.GUARDIAN: ("guardian", "parent", "parents", "mother", "father", "family"),
    AskedBy.COACH: ("coach", "me", "the coach"),
})  # fmt: skip


def read_question(root: Path, paths: LessonPaths) -> Checked[StudentQuestion]:
    """The question; None where its file cannot be read. Every problem at once."""
    file = file_of(root, paths.notes)
    text, problems = read_text(root, paths.notes)
    private = None
    if paths.private is not None:
        private, found_private = read_text(root, paths.private)
        problems = (*problems, *found_private)
    if text is None:
        return Checked(None, problems)
    front, faults = split(text, file, KNOWN)
    problems = (*problems, *faults)
    if front is None:
        return Checked(None, problems)
    found: list[Problem] = []
    form = Form(front.keyed, KEYS, found)
    form.text("was called")  # this and the next were taken by link_keys.py; faults are told here
    form.yes_no("new address")
    clips = read_clips(form, root, paths.clips, front.next_key, found, in_blocks=False)
    body = _Body(text, front.words)
    question = StudentQuestion(
        key=paths.key,
        on=paths.on,
        folder=paths.folder,
        where=SourceRef(file, 1, 1),
        words=QuestionWords(
            asked_by=form.choice("asked by", _ASKED_BY) or AskedBy.STUDENT,
            asked=body.asked,
            answer=body.answer,
            answered=form.day("answered"),
            pain=speaks_of_pain(front.words),
        ),
        clips=tuple(map(_of_no_block, clips)),
        private=private,
    )
    found += check_lines(body.answer_alone, file, 1)
    found += _amiss(root, paths, form, question, body)
    if not front.whole:
        return Checked(None, (*problems, *in_place(tuple(found), front)))
    return Checked(question, (*problems, *found))


def _of_no_block(clip: ClipFile) -> ClipFile:
    """A question has no before and after, and no shots that a clip could be one of."""
    return replace(clip, block=None, shot=None, chosen=False)


class _Body:
    """What stands below the keys, in two: the first line of "---" parts the answer off."""

    def __init__(self, text: str, words: str) -> None:
        self._above = text.rstrip("\n").removesuffix(words).count("\n")
        self._lines = words.split("\n") if words.strip() else []
        self._parting = next((n for n, e in enumerate(self._lines) if opens_or_closes(e)), None)

    @property
    def asked(self) -> str:
        return _joined(self._lines[: self._parting])

    @property
    def answer(self) -> str:
        return "" if self._parting is None else _joined(self._lines[self._parting + 1 :])

    @property
    def answer_alone(self) -> str:
        """The answer at its own lines of the file, with nothing above it."""
        at = len(self._lines) if self._parting is None else self._parting + 1
        return "\n" * (self._above + at) + "\n".join(self._lines[at:])

    def parted(self, file: str, *, all_of_it: bool) -> Iterator[Edit]:
        """The line of "---" where it may have been meant: after a paragraph, or above all."""
        if self._parting is not None or not self._lines:
            return
        paragraphs = [n for n, line in enumerate(self._lines) if not line.strip()]
        ends = [n for n in paragraphs if _joined(self._lines[n:])][:1]
        for after in (*ends, *([0] if all_of_it else ())):
            line = self._above + after + 1
            yield Edit(file, line, line - 1, ("---",))


def _joined(lines: Sequence[str]) -> str:
    return "\n".join(lines).strip("\n") if any(line.strip() for line in lines) else ""


def _amiss(
    root: Path, paths: LessonPaths, form: Form, question: StudentQuestion, body: _Body
) -> Iterator[Problem]:
    """What keeps the question from having a page, and what is not part of one."""
    file, on, words = question.where.file, question.on.isoformat(), question.words
    length = len(words.asked) + len(words.answer)
    if length > WORDS_LENGTH:
        facts = {"key": "question.md", "length": str(length), "most": str(WORDS_LENGTH)}
        yield Problem(Code.TEXT_TOO_LONG, question.where, facts)
    if paths.tables:
        facts = {"file": paths.tables[0].name}
        yield Problem(Code.QUESTION_WITH_SHOTS, SourceRef(file_of(root, paths.tables[0])), facts)
    if not (words.asked or words.answer or paths.clips):
        yield Problem(Code.QUESTION_EMPTY, question.where)
    elif words.answered is not None and not words.answer:
        offers = one_of(body.parted(file, all_of_it=bool(paths.clips)))
        yield Problem(Code.ANSWER_MISSING, form.place("answered"), {}, offers=offers)
    elif form.node("answered") is None:
        there = (Put(SourceRef(file), ("answered",), on),) if words.answer else ()
        yield Problem(Code.QUESTION_OPEN, question.where, {"day": on}, offers=one_of(there))
    if words.answered is not None and words.answered < question.on:
        facts = {"answered": words.answered.isoformat(), "day": on}
        offers = one_of([Put(SourceRef(file), ("answered",), on)])
        yield Problem(Code.ANSWERED_BEFORE_ASKED, form.place("answered"), facts, offers=offers)
