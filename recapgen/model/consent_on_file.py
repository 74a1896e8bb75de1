"""Which answer counts on a day, whose word it is, and until when that word counts.

A birth year is all that is known of a birthday. So somebody is taken for a junior until the last
day of the year in which they turn 18, their own answer is asked for from its first day, and what a
guardian agreed to ends with its last.
"""

from collections.abc import Iterator
from datetime import date, timedelta

from msgspec.structs import replace

from recapgen.model.people import AgeBand, Agreed, GivenBy, Guardian, Student

OF_AGE_YEARS = 18
SENIOR_YEARS = 60
_GROWN = frozenset({AgeBand.ADULT, AgeBand.SENIOR})


def as_it_counts(student: Student, day: date) -> Student:
    """``student`` with the answer that counts on ``day``, and the age band of a birth year."""
    band = band_on(student, day)
    by_year = student.band_by_year or band is not student.age_band
    return replace(student, agreed=counting(student, day), age_band=band, band_by_year=by_year)


def counting(student: Student, day: date) -> Agreed:
    """The newest answer that has begun by ``day``; the oldest where none has.

    Each stands whole: a newer one leaves nothing of those before it. Taken back counts for every
    answer given before that day, on whichever of them it was written down.
    """
    if not student.answers:
        return student.agreed
    begun = [each for each in student.answers if _given(each) <= day]
    answer = max(begun, key=_given) if begun else min(student.answers, key=_given)
    back = [
        each.withdrawn
        for each in student.answers
        if each.withdrawn is not None and (each is answer or each.withdrawn > _given(answer))
    ]
    return replace(answer, withdrawn=min(back, default=None))


def turning_days(student: Student) -> list[date]:
    """The days on which something begins, ends, is taken back, or an age is another, in order."""
    days = {day for answer in student.answers or (student.agreed,) for day in _days_of(answer)}
    if student.born is not None:
        days.add(date(student.born + OF_AGE_YEARS, 1, 1))
        days.add(date(student.born + OF_AGE_YEARS + 1, 1, 1))
        days.add(date(student.born + SENIOR_YEARS, 1, 1))
    return sorted(days)


def band_on(student: Student, day: date) -> AgeBand | None:
    """What the coach wrote; else what the birth year says."""
    if student.age_band is not None or student.born is None:
        return student.age_band
    years = day.year - student.born
    if years <= OF_AGE_YEARS:
        return AgeBand.JUNIOR
    return AgeBand.SENIOR if years >= SENIOR_YEARS else AgeBand.ADULT


def bands_by_year(born: int, day: date) -> tuple[AgeBand, ...]:
    """The bands that somebody born in that year may be in on ``day``."""
    oldest = day.year - born
    youngest = oldest - 1
    found = []
    if youngest < OF_AGE_YEARS:
        found.append(AgeBand.JUNIOR)
    if oldest >= OF_AGE_YEARS and youngest < SENIOR_YEARS:
        found.append(AgeBand.ADULT)
    if oldest >= SENIOR_YEARS:
        found.append(AgeBand.SENIOR)
    return tuple(found)


def child_in_doubt(student: Student, day: date) -> bool:
    """Whether the birth year says a child and the age band none, or the other way round."""
    if student.born is None or student.age_band is None:
        return False
    fitting = bands_by_year(student.born, day)
    if student.age_band is AgeBand.JUNIOR:
        return AgeBand.JUNIOR not in fitting
    return fitting == (AgeBand.JUNIOR,)


def junior_on(student: Student, day: date) -> bool:
    """Whether somebody has to agree for them. In the year they turn 18 the age band tells."""
    if student.born is None or student.age_band is not None:
        return student.age_band is AgeBand.JUNIOR
    return day <= last_day_of_childhood(student.born)


def last_day_of_childhood(born: int) -> date:
    """The last day on which somebody born in that year may be 17."""
    return date(born + OF_AGE_YEARS, 12, 31)


def asked_themselves_from(born: int) -> date:
    """The first day on which they may be 18, and are asked for their own answer."""
    return date(born + OF_AGE_YEARS, 1, 1)


def guardian_of(student: Student, day: date) -> Guardian | None:
    """Who agreed for the student in the answer that counts on ``day``.

    What somebody who turns 18 this year agreed to stands beside what was agreed for them before.
    """
    answer = counting(student, day)
    if answer.by is not GivenBy.STUDENT:
        return answer.guardian
    if student.born is None or _given(answer) < asked_themselves_from(student.born):
        return None
    named = [each.guardian for each in (answer, *reversed(student.answers))]
    return next((each for each in named if each is not None), None)


def lacks_guardian(student: Student, day: date) -> bool:
    """Whether a junior has nobody who agreed for them."""
    guardian = guardian_of(student, day)
    named = guardian is not None and guardian.name.strip() != ""
    return junior_on(student, day) and not named


def word_ends(student: Student, day: date) -> date | None:
    """The last day of the answer that counts on ``day``, where it was given for a child."""
    answer = counting(student, day)
    if student.born is None or not _for_a_child(student, answer, student.born):
        return None
    return last_day_of_childhood(student.born)


def _for_a_child(student: Student, answer: Agreed, born: int) -> bool:
    if answer.since is None:
        return answer.guardian is not None or student.age_band not in _GROWN
    if answer.since < asked_themselves_from(born):
        return True
    theirs = answer.by is GivenBy.STUDENT or answer.guardian is None
    return answer.since <= last_day_of_childhood(born) and not theirs


def _given(answer: Agreed) -> date:
    return answer.since or date.min


def _days_of(answer: Agreed) -> Iterator[date]:
    if answer.since is not None:
        yield answer.since
    if answer.withdrawn is not None:
        yield answer.withdrawn
    if answer.until is not None and answer.until < date.max:
        yield answer.until + timedelta(days=1)
