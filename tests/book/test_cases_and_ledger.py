"""Cases name nobody; the ledger counts and never ranks too few students."""

from dataclasses import replace
from datetime import date

import pytest

from recapgen.book.binding import bind_book
from recapgen.book.cases import tell_case
from recapgen.book.ledger import keep_ledger
from recapgen.model.evidence import Interval, Kept, Shift, Verdict
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


def _tried(intent: str, *gains: float) -> list[StudentRecap]:
    """One student a gain, who tried ``intent`` for the carry."""
    return [
        student(
            recap(intent=intent, compared=replace(comparison(), good=_good(gain))),
            key=f"{intent}-{i}",
        )
        for i, gain in enumerate(gains)
    ]


def _good(gain: float) -> Shift:
    return Shift(gain, Interval(gain - 2, gain + 2), Interval(gain - 1.5, gain + 1.5))


def test_only_lines_with_three_students_are_ranked() -> None:
    keen = student(
        *(
            recap(key=f"l{i}", on=date(2027, 4, i + 1), intent="A", compared=comparison())
            for i in range(9)
        )
    )
    lines, ranked = keep_ledger(
        [keen, *_tried("B", 0.0, 1.0, -2.0), *_tried("C", 5.0, 6.0, 4.0), *_tried("a b", 9.0, 9.0)]
    )
    assert [(line.intent, line.students, line.lessons) for line in lines] == [
        ("C", 3, 3),
        ("B", 3, 3),
        ("A", 1, 9),
        ("a b", 2, 2),
    ]
    assert ranked == 2
    assert [line.pooled is not None and line.pooled.ranked for line in lines] == [
        True,
        True,
        False,
        False,
    ]


def test_verdicts_are_counted_in_their_own_order() -> None:
    told = [
        student(recap(compared=comparison(verdict=verdict)), key=verdict)
        for verdict in (Verdict.NO_CHANGE, Verdict.CHANGED, Verdict.NO_CHANGE)
    ]
    assert keep_ledger(told)[0][0].verdicts == ((Verdict.CHANGED, 1), (Verdict.NO_CHANGE, 2))


def test_lessons_without_an_interval_are_counted_but_never_ranked() -> None:
    bare = replace(comparison(verdict=Verdict.TOO_EARLY), as_read=None, good=None)
    lines, ranked = keep_ledger([student(recap(compared=bare), key=key) for key in "abc"])
    assert (lines[0].lessons, lines[0].students, lines[0].pooled, ranked) == (3, 3, None, 0)


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


def test_wordings_that_the_coach_calls_one_are_one_line() -> None:
    stool = "Sit back onto a bar stool"
    told = [
        student(recap(intent=stool, compared=comparison()), key="a"),
        student(recap(intent="Lean on the stool.", compared=comparison()), key="b"),
        student(recap(intent="Perch", compared=comparison(), short_name="Bar Stool"), key="c"),
        student(recap(intent="Hum", compared=comparison()), key="d"),
    ]
    intents = [("bar stool", (stool, "lean on the stool"))]
    lines, ranked = keep_ledger(told, intents)
    assert [(line.intent, line.lessons, line.students) for line in lines] == [
        ("bar stool", 3, 3),
        ("Hum", 1, 1),
    ]
    assert ranked == 1
    assert bind_book(told, [], SECOND, intents=intents).ledger == lines


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
