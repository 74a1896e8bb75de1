"""Cases name nobody; the ledger counts and never ranks too few students."""

from datetime import date
from typing import Any

import pytest
from msgspec.structs import replace

from recapgen.book.binding import bind_book
from recapgen.book.cases import case_of
from recapgen.book.tried_intents import count_tried_intents
from recapgen.model.carry import FairCarry, Withheld
from recapgen.model.evidence import Declared, Interval, Kept, MishitKind, Shift, Verdict
from recapgen.model.problem import Code, Problem
from recapgen.model.quantity import Quantity
from recapgen.model.recap import StudentRecap
from recapgen.model.source import SourceRef
from tests.book.told import CASE, FIRST, SECOND, comparison, recap, retained, student

WITHHELD = FairCarry(140.0, 142.0, None, None, 0.0, (), Withheld.TOO_WINDY)


@pytest.mark.parametrize("with_clips", [True, False])
def test_a_case_holds_nothing_that_names_the_student_or_the_day(with_clips: bool) -> None:
    compared = replace(comparison(), mishit_kinds=(MishitKind("Anna's heel", 1, 0),))
    told = recap(compared=compared, retention=retained(), private="she cried", case=CASE)
    case = case_of(student(told), told, "even-note-x7.html", with_clips)
    everything = repr(case)
    for secret in ("marta", "Marta", "cried", "lazy", "You stood up", "q7w2e9", "k3f9", "Anna"):
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
        case_of(student(told), told, "x.html", with_clips=False)


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
    kept = count_tried_intents(
        [keen, *_tried("B", 0.0, 1.0, -2.0), *_tried("C", 5.0, 6.0, 4.0), *_tried("a b", 9.0, 9.0)]
    )
    lines, ranked = kept.lines, kept.ranked
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
    line = count_tried_intents(told).lines[0]
    assert line.verdicts == (
        (Verdict.CHANGED, 1),
        (Verdict.NO_CHANGE, 2),
    )


def test_lessons_without_an_interval_are_counted_but_never_ranked() -> None:
    bare = replace(comparison(verdict=Verdict.TOO_EARLY), as_read=None, good=None)
    kept = count_tried_intents([student(recap(compared=bare), key=key) for key in "abc"])
    (line,) = kept.lines
    assert (line.lessons, line.students, line.pooled, kept.ranked) == (3, 3, None, 0)


@pytest.mark.parametrize("intents", [(), [("a", ("A", "a."))]])
def test_a_number_chosen_afterwards_stands_apart_and_is_never_ranked(
    intents: list[tuple[str, tuple[str, ...]]],
) -> None:
    """The best of four moves as wanted nearly always, where nothing works."""
    late = replace(comparison(), declared=Declared.AFTERWARDS)
    told = [student(recap(intent="A", compared=late), key=key) for key in "abcd"]
    kept = count_tried_intents([*told, student(recap(intent="A", compared=comparison()))], intents)
    (line,), (apart,) = kept.lines, kept.afterwards
    assert (line.lessons, line.students, kept.ranked) == (1, 1, 0)
    assert (apart.lessons, apart.students, apart.pooled) == (4, 4, None)


@pytest.mark.parametrize(
    "refused",
    [
        {"air": WITHHELD},
        {"setup_sd": 10.0, "setup_moved": True},  # more than the change that matters
    ],
)
def test_a_lesson_that_nothing_may_rest_on_is_not_counted(refused: dict[str, Any]) -> None:
    windy = replace(comparison(), **refused)
    told = [student(recap(intent="A", compared=windy), key=key) for key in "abc"]
    kept = count_tried_intents([*told, student(recap(intent=None, compared=windy), key="d")])
    assert (kept.lines, kept.afterwards, kept.uncounted) == ((), (), 3)


def test_whether_a_lesson_counts_never_hangs_on_what_came_out() -> None:
    """Else the lessons that showed nothing would be missing, and every intent would look good."""
    for gain in (-8.0, 0.0, 0.4, 9.0):
        moved = replace(comparison(), good=_good(gain), setup_sd=10.0, setup_moved=True)
        assert count_tried_intents([student(recap(compared=moved))]).uncounted == 1


def test_spellings_of_one_intent_are_one_line_and_numbers_are_not() -> None:
    told = [
        recap("l1", intent="Hum one even note.", compared=comparison()),
        recap("l2", intent="hum  one even NOTE", compared=comparison()),
        recap("l3", intent="Hum one even note", compared=comparison(Quantity.CLUB_PATH)),
        recap("l4", intent=None, compared=comparison()),
        recap("l5", intent="Hum one even note"),
    ]
    lines = count_tried_intents([student(*told)]).lines
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
    kept = count_tried_intents(told, intents)
    assert [(line.intent, line.lessons, line.students) for line in kept.lines] == [
        ("bar stool", 3, 3),
        ("Hum", 1, 1),
    ]
    assert kept.ranked == 1
    assert bind_book(told, [], SECOND, intents=intents).tried_intents == kept


def test_what_stuck_belongs_to_the_lesson_it_came_from() -> None:
    told = student(
        recap(intent="First", compared=comparison()),
        recap("l2", SECOND, "Second", comparison(), retention=retained(kept=Kept.SOME)),
    )
    first, second = count_tried_intents([told]).lines
    assert first.kept == ((Kept.SOME, 1),)
    assert second.kept == ()


def test_what_stuck_of_another_number_is_not_counted() -> None:
    told = student(
        recap(intent="First", compared=comparison()),
        recap("l2", SECOND, "Second", comparison(), retention=retained(Quantity.CLUB_PATH)),
    )
    assert [line.kept for line in count_tried_intents([told]).lines] == [(), ()]


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
