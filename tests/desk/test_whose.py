"""Whose each file of an inbox is, by players, clocks and who is awaited."""

from datetime import date, datetime, timedelta
from pathlib import Path

from recapgen.desk.inbox import Dropped
from recapgen.desk.whose import Person, sort_out

TODAY = date(2027, 4, 18)
AT = datetime(2027, 4, 18, 10, 0)  # noqa: DTZ001  as on the wall
PEOPLE = (Person("Marta", ("Marta",)), Person("Jonas", ("Jonas Berg", "Jonas")))


def dropped(name: str, minutes: float, lasts: float = 0, player: str = "") -> Dropped:
    first = AT + timedelta(minutes=minutes)
    return Dropped(
        Path(name), name, TODAY, TODAY, first, first + timedelta(minutes=lasts),
        (player,) if player else (),
    )  # fmt: skip


def test_clips_are_whose_shots_were_hit_while_they_were_filmed() -> None:
    hers, his = dropped("a.csv", 0, 40, "Marta"), dropped("b.csv", 60, 40, "Berg, Jonas")
    clips = [dropped(f"{minutes}.mov", minutes) for minutes in (5, 38, 70, 52)]
    result = sort_out((hers, his, *clips), PEOPLE)
    assert result.theirs == {"Marta": (hers, *clips[:2]), "Jonas": (his, clips[2])}
    assert [group.files for group in result.unclaimed] == [(clips[3],)]


def test_what_belongs_together_is_asked_once() -> None:
    table, early, late = dropped("a.csv", 0, 40), dropped("5.mov", 5), dropped("90.mov", 90)
    again = dropped("95.mov", 95)
    groups = sort_out((late, early, table, again), PEOPLE).unclaimed
    assert [group.files for group in groups] == [(table, early), (late, again)]


def test_who_is_awaited_that_day_comes_first_and_is_said_to_be_likely() -> None:
    people = (*PEOPLE, Person("Pia", ("Pia",), frozenset({date(2027, 1, 1)}), TODAY))
    (group,) = sort_out((dropped("a.csv", 0, 40),), people).unclaimed
    assert (group.people[0], group.likely) == ("Pia", True)
    (group,) = sort_out((dropped("a.csv", 0, 40),), PEOPLE).unclaimed
    assert not group.likely


def test_who_has_shots_of_that_day_beside_it_comes_first() -> None:
    hers, late = dropped("a.csv", 0, 40, "Jonas"), dropped("90.mov", 90)
    (group,) = sort_out((hers, late), PEOPLE).unclaimed
    assert (group.people, group.likely) == (("Jonas", "Marta"), True)
