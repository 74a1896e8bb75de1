"""Cases name nobody; the ledger counts and never ranks too few students."""

from datetime import date

import pytest

from recapgen.book.binding import bind_book
from recapgen.book.cases import tell_case
from recapgen.book.ledger import keep_ledger
from recapgen.model.evidence import Kept, Verdict
from recapgen.model.problem import Code, Problem
from recapgen.model.quantity import Quantity
from recapgen.model.recap import StudentRecap
from recapgen.model.source import SourceRef
from tests.book.told import CASE, FIRST, SECOND, comparison, recap, retained, student


@pytest.mark.parametrize("with_clips", [True, False])
def test_a_case_holds_nothing_that_names_the_student_or_the_day(with_clips: bool) -> None:
    told = recap(compared=comparison(), retention=retained(), private="she cried", case=CASE)
    case = tell_case(student(told), told, "even-note-x7.html", with_clips)
    everything = repr(case)
    for secret in ("marta", "Marta", "cried", "lazy", "You stood up", "q7w2e9", "k3f9"):
        assert secret not in everything
    for day in (repr(FIRST), repr(SECOND), FIRST.isoformat(), SECOND.isoformat()):
        assert day not in everything
    assert (case.page, case.title) == ("even-note-x7.html", "The even note")
    assert case.story == "A story for strangers."
    assert case.month == date(2027, 4, 1)
    assert case.comparison is not None
    assert case.comparison.verdict is Verdict.CHANGED
    assert len(case.films) == with_clips
    assert [side.shot for film in case.films for side in film.sides] == [2, 5] * with_clips


def test_a_lesson_without_a_case_is_never_told() -> None:
    told = recap(compared=comparison())
    with pytest.raises(ValueError, match="no case"):
        tell_case(student(told), told, "x.html", with_clips=False)


def _tried(intent: str, *verdicts: Verdict) -> list[StudentRecap]:
    """One student a verdict, who tried ``intent`` for the carry."""
    return [
        student(recap(intent=intent, compared=comparison(verdict=verdict)), key=f"{intent}-{i}")
        for i, verdict in enumerate(verdicts)
    ]


def test_only_lines_with_three_students_are_ranked() -> None:
    keen = student(
        *(
            recap(key=f"l{i}", on=date(2027, 4, i + 1), intent="A", compared=comparison())
            for i in range(9)
        )
    )
    lines, ranked = keep_ledger(
        [
            keen,
            *_tried("B", Verdict.NO_CHANGE, Verdict.CHANGED, Verdict.TOO_EARLY),
            *_tried("C", Verdict.CHANGED, Verdict.PROBABLY, Verdict.OTHER_WAY),
            *_tried("a later one", Verdict.CHANGED, Verdict.CHANGED),
        ]
    )
    assert [(line.intent, line.students, line.lessons, line.moved) for line in lines] == [
        ("C", 3, 3, 2),
        ("B", 3, 3, 1),
        ("A", 1, 9, 9),
        ("a later one", 2, 2, 2),
    ]
    assert ranked == 2
    assert lines[1].verdicts == (
        (Verdict.CHANGED, 1),
        (Verdict.TOO_EARLY, 1),
        (Verdict.NO_CHANGE, 1),
    )


def test_spellings_of_one_intent_are_one_line_and_numbers_are_not() -> None:
    told = [
        recap("l1", intent="Hum one even note.", compared=comparison()),
        recap("l2", intent="hum  one even NOTE", compared=comparison()),
        recap("l3", intent="Hum one even note", compared=comparison(Quantity.CLUB_PATH)),
        recap("l4", intent=None, compared=comparison()),
        recap("l5", intent="Hum one even note"),
    ]
    lines, _ = keep_ledger([student(*told)])
    assert [(line.intent, line.quantity, line.lessons) for line in lines] == [
        ("Hum one even note.", Quantity.CARRY, 2),
        ("Hum one even note", Quantity.CLUB_PATH, 1),
    ]


def test_what_stuck_belongs_to_the_lesson_it_came_from() -> None:
    told = student(
        recap(intent="First", compared=comparison()),
        recap("l2", SECOND, "Second", comparison(), retention=retained(kept=Kept.SOME)),
    )
    first, second = keep_ledger([told])[0]
    assert first.kept == ((Kept.SOME, 1),)
    assert second.kept == ()


def test_what_stuck_of_another_number_is_not_counted() -> None:
    told = student(
        recap(intent="First", compared=comparison()),
        recap("l2", SECOND, "Second", comparison(), retention=retained(Quantity.CLUB_PATH)),
    )
    assert [line.kept for line in keep_ledger([told])[0]] == [(), ()]


def test_a_book_keeps_the_coach_s_order_and_sorts_problems_by_place() -> None:
    a, b = student(key="b"), student(key="a")
    found = [
        Problem(Code.FOLDER_MISSING, SourceRef("b.md", 12)),
        Problem(Code.FOLDER_MISSING, SourceRef("b.md", 3, 9)),
        Problem(Code.FOLDER_MISSING, SourceRef("b.md", 3, 2)),
        Problem(Code.FOLDER_MISSING, SourceRef("b.md")),
        Problem(Code.FOLDER_MISSING, SourceRef("a.md", 99)),
    ]
    book = bind_book([a, b], found, SECOND)
    assert book.students == (a, b)
    assert [str(p.where) for p in book.problems] == [
        "a.md:99",
        "b.md",
        "b.md:3:2",
        "b.md:3:9",
        "b.md:12",
    ]
