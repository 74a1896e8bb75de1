"""A colon or keys that were left out: the line that was meant is offered."""

from pathlib import Path

import pytest

from recapgen.app.building import check
from recapgen.model.problem import Code
from tests.intake.conftest import MakeFolder

NOTES = "Marta/2027-04-11/notes.md"


def offered(root: Path, code: Code) -> list[tuple[str, int, tuple[str, ...]]]:
    (problem,) = (p for p in check(root, None).problems if p.code is code)
    return [(e.file, e.first_line, e.lines) for fix in problem.fixes for e in fix.edits]


@pytest.mark.parametrize(
    ("file", "text", "line", "meant"),
    [
        ("coach.yml", "Coach Nora Quist\nunits: {speed: mph, length: m}\n", 1, "coach: Nora Quist"),
        ("coach.yml", "units: {speed: mph, length: m}\nCoach Nora\n", 2, "coach: Nora"),
        ("Marta/student.yml", "name: Marta\nhand right\nagreed: {page: yes}\n", 2, "hand: right"),
        (NOTES, "---\nintent: Hum\nfeels like a song\n---\nHi\n", 3, "feels like: a song"),
    ],
)
def test_a_key_without_its_colon(
    lessons: MakeFolder, file: str, text: str, line: int, meant: str
) -> None:
    assert offered(lessons({file: text}), Code.NOT_KEYS) == [(file, line, (meant,))]


def test_words_that_begin_with_no_key_are_offered_nothing(lessons: MakeFolder) -> None:
    root = lessons({"coach.yml": "coach: Ines\nWell then, so be it\n"})
    assert offered(root, Code.NOT_KEYS) == []


@pytest.mark.parametrize(
    ("said", "keys"),
    [
        ("3x a week, 40 balls", "{sessions a week: 3, balls: 40}"),
        ("2 sessions per week and 50 balls each", "{sessions a week: 2, balls: 50}"),
        ("3 mal pro Woche, 40 Bälle", "{sessions a week: 3, balls: 40}"),
        ("2 fois par semaine, 30 balles, 45 min", "{sessions a week: 2, balls: 30, minutes: 45}"),
        ("3 veces por semana y 40 bolas", "{sessions a week: 3, balls: 40}"),
        ("週3回、40球", "{sessions a week: 3, balls: 40}"),
        ("주 3회, 40개", "{sessions a week: 3, balls: 40}"),
    ],
)
def test_a_plan_in_words_is_offered_as_keys(lessons: MakeFolder, said: str, keys: str) -> None:
    root = lessons({NOTES: f"---\nintent: Hum\npractice: {said}\n---\nHi\n"})
    assert offered(root, Code.KEYS_EXPECTED) == [(NOTES, 3, (f"practice: {keys}",))]


@pytest.mark.parametrize("said", ["often", "3x a week, slowly", "40 balls, 50 balls", "3 of them"])
def test_a_plan_that_is_not_all_clear_is_offered_nothing(lessons: MakeFolder, said: str) -> None:
    root = lessons({NOTES: f"---\nintent: Hum\npractice: {said}\n---\nHi\n"})
    assert offered(root, Code.KEYS_EXPECTED) == []


@pytest.mark.parametrize("between", ["", "\n"])
def test_a_first_mark_that_stands_twice_hides_no_key(lessons: MakeFolder, between: str) -> None:
    root = lessons({NOTES: f"---\n{between}---\nintent: Hum\nclubb: 7 iron\n---\nWell done.\n"})
    assert Code.KEY_MISSPELT in {problem.code for problem in check(root, None).problems}


def test_a_ruled_line_among_the_words_is_no_front_matter(lessons: MakeFolder) -> None:
    root = lessons({NOTES: "---\n---\nWell done.\n\n---\nMore of it.\n"})
    assert not {Code.KEY_UNKNOWN, Code.NOT_KEYS} & {p.code for p in check(root, None).problems}
