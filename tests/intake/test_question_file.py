"""question.md: two halves below the keys, and what is asked where they cannot be told apart."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from recapgen.intake.clearing_lines import speaks_of_pain
from recapgen.intake.folder import survey
from recapgen.intake.question_file import read_question
from recapgen.model.between_lessons import AskedBy, StudentQuestion
from recapgen.model.problem import Code, Problem
from recapgen.words.languages import LANGUAGES

Read = Callable[..., tuple[StudentQuestion | None, tuple[Problem, ...]]]
WHOLE = "---\nanswered: 2027-02-04\n---\nWhy?\n---\nBecause.\n"


@pytest.fixture
def read(tmp_path: Path) -> Read:
    def write(
        text: str, *clips: str, key: str = "2027-02-03 asked"
    ) -> tuple[StudentQuestion | None, tuple[Problem, ...]]:
        folder = tmp_path / "marta" / key
        folder.mkdir(parents=True)
        (folder / "question.md").write_text(text, "utf-8")
        for name in clips:
            (folder / name).touch()
        found = survey(tmp_path).value
        assert found is not None
        (student,) = found.students
        (paths,) = student.questions
        assert student.lessons == ()
        assert student.problems == ()
        question, problems = read_question(tmp_path, paths)
        return question, problems

    return write


def codes(problems: tuple[Problem, ...]) -> list[Code]:
    return [problem.code for problem in problems]


def test_the_halves_are_told_apart_by_one_line(read: Read) -> None:
    question, problems = read(
        "---\nasked by: parent\nanswered: 4 Feb 2027\n---\n"
        "Why does it start right?\n\nNot in May.\n\n—\n\nCount nine.\n\n- first\n---\n- last\n"
    )
    assert problems == ()
    assert question is not None
    assert question.on == date(2027, 2, 3)
    words = question.words
    assert words.asked_by is AskedBy.GUARDIAN
    assert words.asked == "Why does it start right?\n\nNot in May."
    assert words.answer == "Count nine.\n\n- first\n---\n- last"
    assert words.settled


def test_a_clip_alone_may_be_answered(read: Read) -> None:
    question, problems = read(
        "---\nanswered: 2027-02-04\n---\n---\nStand taller.\n", "IMG_1.mov", "before shot 3.mov"
    )
    assert problems == ()
    assert question is not None
    assert (question.words.asked, question.words.answer) == ("", "Stand taller.")
    assert [(clip.block, clip.shot) for clip in question.footage.clips] == [(None, None)] * 2


def test_while_it_waits_no_film_is_made(read: Read) -> None:
    question, problems = read("Why?\n", "IMG_1.mov")
    assert codes(problems) == [Code.QUESTION_OPEN]
    assert question is not None
    assert question.clips
    assert question.footage.clips == ()


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (WHOLE, []),
        (WHOLE.replace("\n---\nBecause", "\n--\nBecause"), [Code.ANSWER_MISSING]),
        (WHOLE.replace("Because.", ""), [Code.ANSWER_MISSING]),
        (WHOLE.replace("answered: 2027-02-04\n", "answered:\n"), [Code.QUESTION_OPEN]),
        (WHOLE.replace("02-04", "02-02"), [Code.ANSWERED_BEFORE_ASKED]),
        (WHOLE.replace("02-04", "02-30"), [Code.DATE_IMPOSSIBLE]),
        (WHOLE.replace("answered", "asked by: Tom\nanswered"), [Code.WORD_UNKNOWN]),
        ("\n", [Code.QUESTION_EMPTY]),
        (WHOLE.replace("Because.", "Push through the pain."), [Code.LINE_CLEARS_A_BODY]),
        (WHOLE.replace("Why?", "Should I push through the pain?"), []),  # the student's own words
        (WHOLE.replace("Why", "w" * 30_001), [Code.TEXT_TOO_LONG]),
    ],
)
def test_what_cannot_be_published_is_asked_about(
    text: str, expected: list[Code], read: Read
) -> None:
    _, problems = read(text)
    assert codes(problems) == expected


def test_a_line_that_clears_a_body_is_found_at_its_place(read: Read) -> None:
    _, (problem,) = read(WHOLE.replace("Because.", "Because.\nPush through the pain."))
    assert (problem.where.line, problem.where.column) == (7, 1)


_HURTS = {
    "en": "My wrist hurts since Sunday.",
    "de": "Mir tut das Handgelenk weh.",
    "es": "Me duele la muñeca.",
    "fr": "J'ai mal au poignet.",
    "ja": "手首が痛いです。",
    "ko": "손목이 아파요.",
}
_WELL = {
    "en": "It no longer hurts, why does it slice?",
    "de": "Jetzt ohne Schmerzen, warum der Slice?",
    "es": "Ya sin dolor. ¿Por qué el slice?",
    "fr": "J'ai mal compris la leçon, pourquoi ce slice ?",
    "ja": "痛くないです。なぜスライスですか。",
    "ko": "아프지 않아요. 왜 슬라이스가 나요?",
}


@pytest.mark.parametrize("language", LANGUAGES)
def test_pain_is_heard_in_every_language(language: str) -> None:
    assert speaks_of_pain(_HURTS[language])
    assert not speaks_of_pain(_WELL[language])
