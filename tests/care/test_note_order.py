"""Which notes come first, and which of them the page shows."""

from collections.abc import Callable
from itertools import permutations

import pytest
from msgspec.structs import replace

from recapgen.care.safety_notes import ORDER
from recapgen.model.care import Level, NoteCode
from recapgen.model.lesson import IntentKind, Practice, Surface
from recapgen.model.people import AgeBand, Agreed, Area, Condition
from recapgen.model.practice_log import LogEntry
from tests.care.setting import INDOORS, OPEN, PLAIN, Setting, entry, log, plan, sore


def test_the_order_names_every_note_once() -> None:
    assert sorted(ORDER) == sorted(NoteCode)


def _student(
    areas: tuple[Area, ...] = (),
    condition: Condition | None = None,
    age_band: AgeBand | None = None,
    first_year: bool = False,
) -> Callable[[Setting], Setting]:
    def told(setting: Setting) -> Setting:
        was = setting.student
        student = replace(
            was,
            areas=(*was.areas, *areas),
            conditions=(*was.conditions, *((condition,) if condition else ())),
            age_band=age_band or was.age_band,
            first_year=first_year or was.first_year,
        )
        return replace(setting, student=student)

    return told


def _practice(balls: int = 0, sessions: int = 0, rounds: int = 0) -> Callable[[Setting], Setting]:
    """Raise the plan to at least these."""

    def planned(setting: Setting) -> Setting:
        was = setting.practice or Practice()
        practice = Practice(
            sessions_per_week=max(sessions, was.sessions_per_week or 0),
            balls_per_session=max(balls, was.balls_per_session or 0),
            rounds_per_week=max(rounds, was.rounds_per_week or 0),
        )
        return replace(setting, practice=practice)

    return planned


def _lesson(kind: IntentKind, surface: Surface | None = None) -> Callable[[Setting], Setting]:
    return lambda setting: replace(
        setting,
        kinds=(*setting.kinds, kind),
        conditions=replace(INDOORS, surface=surface or setting.conditions.surface),
    )


def _log(*entries: LogEntry) -> Callable[[Setting], Setting]:
    """These lines alone, beside those that tell of pain."""
    return lambda setting: replace(
        setting, log=log(*entries, *(line for line in setting.log.entries if line.pain))
    )


# What makes each trigger above info fire, on top of any other.
MAKES = {
    NoteCode.PAIN_LOGGED: lambda s: replace(
        s, log=log(*s.log.entries, *(sore(9 - day) for day in range(3)))
    ),
    NoteCode.SESSION_STEP: _practice(balls=60),
    NoteCode.WEEK_STEP: _practice(balls=45, sessions=3),
    NoteCode.WEEK_VOLUME: _practice(rounds=4),
    NoteCode.NO_REST_DAY: _practice(sessions=6),
    NoteCode.FEW_REST_DAYS: _practice(sessions=5),
    NoteCode.FIRST_YEAR: lambda s: _practice(balls=60)(_student(first_year=True)(s)),
    NoteCode.NO_HISTORY: _log(),
    NoteCode.LAYOFF: _log(entry(20, 40)),
    NoteCode.NO_RECENT_SESSION: _log(entry(40, 40), entry(2, rounds=1)),
    NoteCode.SPEED_WORK: _lesson(IntentKind.SPEED),
    NoteCode.FIRM_SURFACE: _lesson(IntentKind.GRIP, Surface.MAT),
    NoteCode.INTENT_MEETS_FLAG: lambda s: _lesson(IntentKind.PUTTING)(
        _student(areas=(Area.NECK,))(s)
    ),
    NoteCode.FLAGGED_AREA: _student(areas=(Area.NECK, Area.LEAD_ANKLE)),
    NoteCode.JUNIOR: _student(age_band=AgeBand.JUNIOR),
    NoteCode.SENIOR: _student(age_band=AgeBand.SENIOR),
    NoteCode.CONDITION_HEART: _student(condition=Condition.HEART),
    NoteCode.CONDITION_PREGNANCY: _student(condition=Condition.PREGNANCY),
    NoteCode.CONDITION_OSTEOPOROSIS: _student(condition=Condition.BONES),
    NoteCode.CONDITION_JOINT_REPLACEMENT: _student(condition=Condition.JOINT_REPLACEMENT),
}
# Pairs that say opposite things of one fact: two age bands, two states of one log.
HISTORY = {NoteCode.NO_HISTORY, NoteCode.LAYOFF, NoteCode.NO_RECENT_SESSION}
NEEDS_HISTORY = {NoteCode.SESSION_STEP, NoteCode.WEEK_STEP}
APART = (
    {NoteCode.JUNIOR, NoteCode.SENIOR},
    {NoteCode.NO_REST_DAY, NoteCode.FEW_REST_DAYS},
    HISTORY,
)
PAIRS = [
    (one, other)
    for one, other in permutations(MAKES, 2)
    if not any({one, other} <= group for group in APART)
    and not ({one, other} & NEEDS_HISTORY and {one, other} & HISTORY)
]


@pytest.mark.parametrize(("one", "other"), PAIRS)
def test_pairs_come_most_serious_first(one: NoteCode, other: NoteCode) -> None:
    fired = MAKES[other](MAKES[one](PLAIN)).fired()
    assert {one, other} <= set(fired)
    rank = [Level.ASK_FIRST, Level.CARE, Level.NOTE, Level.INFO]
    places = [(rank.index(note.level), ORDER.index(note.code)) for note in fired.values()]
    assert places == sorted(places)


@pytest.mark.parametrize("code", MAKES)
def test_each_of_the_pairs_fires_alone(code: NoteCode) -> None:
    assert code in MAKES[code](PLAIN).fired()


def test_what_asks_somebody_first_is_never_cut_however_much_of_it_there_is() -> None:
    student = replace(
        OPEN, conditions=tuple(Condition), areas=(Area.NECK,), age_band=AgeBand.SENIOR
    )
    fired = replace(PLAIN, student=student, kinds=(IntentKind.PUTTING,)).fired()
    shown = [code for code, note in fired.items() if note.shown]
    assert shown == [
        NoteCode.CONDITION_HEART,
        NoteCode.CONDITION_PREGNANCY,
        NoteCode.CONDITION_OSTEOPOROSIS,
        NoteCode.CONDITION_JOINT_REPLACEMENT,
        NoteCode.INTENT_MEETS_FLAG,
        NoteCode.WARM_UP,
        NoteCode.SPACE,
        NoteCode.LIGHTNING,
        NoteCode.STOP_SIGNS,
    ]


def test_pain_and_a_load_at_care_are_never_cut_but_other_notes_are() -> None:
    student = replace(OPEN, conditions=tuple(Condition), areas=(Area.NECK, Area.LEAD_ANKLE))
    setting = replace(
        PLAIN,
        student=replace(student, first_year=True),
        practice=replace(plan(90, 6), rounds_per_week=4),
        log=log(*PLAIN.log.entries, sore(3)),
    )
    fired = setting.fired()
    shown = [(code, note.level) for code, note in fired.items() if note.shown]
    assert shown[4:8] == [
        (NoteCode.PAIN_LOGGED, Level.CARE),
        (NoteCode.SESSION_STEP, Level.CARE),
        (NoteCode.WEEK_STEP, Level.CARE),
        (NoteCode.NO_REST_DAY, Level.CARE),
    ]
    cut = {code for code, note in fired.items() if not note.shown}
    assert cut == {NoteCode.FLAGGED_AREA, NoteCode.FIRST_YEAR, NoteCode.WEEK_VOLUME}


def test_without_agreement_the_places_go_to_notes_that_give_nothing_away() -> None:
    student = replace(
        OPEN,
        agreed=Agreed(page=True),
        areas=(Area.LEAD_WRIST,),
        age_band=AgeBand.SENIOR,
        conditions=(Condition.HEART,),
    )
    setting = replace(
        PLAIN,
        student=student,
        kinds=(IntentKind.STEEPER, IntentKind.SPEED),
        conditions=replace(INDOORS, surface=Surface.MAT),
        practice=plan(90, 3),
    )
    fired = setting.fired()
    assert {c for c, note in fired.items() if note.body} == {
        NoteCode.CONDITION_HEART,
        NoteCode.INTENT_MEETS_FLAG,
        NoteCode.FLAGGED_AREA,
        NoteCode.SENIOR,
    }
    shown = [code for code, note in fired.items() if note.shown and note.level is not Level.INFO]
    assert shown == [NoteCode.SPEED_WORK, NoteCode.SESSION_STEP, NoteCode.WEEK_STEP]
