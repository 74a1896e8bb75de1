"""Each trigger of the safety rules at, just under and just over its bound."""

import json
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from msgspec.structs import replace

from recapgen.care.safety_notes import care_for
from recapgen.model.care import CareNote, Level, Load, NoteCode, NoteFacts
from recapgen.model.lesson import Conditions, DrillStep, IntentKind, Notes, Practice, Surface
from recapgen.model.people import AgeBand, Area
from recapgen.model.practice_log import LogEntry, PracticeLog
from recapgen.model.shots import Block
from recapgen.model.source import SourceRef
from tests.care.setting import (
    ALWAYS,
    NO_LOG,
    ON,
    OPEN,
    PLAIN,
    Setting,
    entry,
    log,
    plan,
    used_to,
)


def test_a_plan_that_fits_fires_only_what_everybody_gets() -> None:
    assert set(PLAIN.fired()) == ALWAYS


@pytest.mark.parametrize(
    ("balls", "biggest", "level"),
    [
        (110, 100, None),  # exactly 1.10 x
        (111, 100, Level.NOTE),
        (130, 100, Level.NOTE),  # exactly 1.30 x
        (131, 100, Level.CARE),
        (69, 60, None),  # 1.15 x, nine balls more
        (70, 60, Level.NOTE),  # 1.17 x, ten balls more
        (19, 10, None),  # 1.9 x, nine balls more
        (20, 10, Level.CARE),  # 2 x, ten balls more
        (10, 100, None),
    ],
)
def test_session_step(balls: int, biggest: int, level: Level | None) -> None:
    fired = replace(PLAIN, practice=plan(balls), log=used_to(biggest)).fired()
    found = fired.get(NoteCode.SESSION_STEP)
    assert (found.level if found else None) == level
    if found:
        assert found.facts == NoteFacts(balls=balls, biggest=biggest)


@pytest.mark.parametrize(
    ("days_ago", "fires"), [(1, True), (30, True), (31, False), (0, False), (-1, False)]
)
def test_session_step_looks_at_the_thirty_days_before_the_lesson(
    days_ago: int, fires: bool
) -> None:
    small = log(entry(days_ago, 20))
    fired = replace(PLAIN, practice=plan(40), log=small).fired()
    assert (NoteCode.SESSION_STEP in fired) is fires


@pytest.mark.parametrize(
    ("balls", "sessions", "weeks", "fires"),
    [
        (75, 2, (100, 100, 100, 100), False),  # exactly 1.5 x
        (76, 2, (100, 100, 100, 100), True),
        (65, 2, (81, 81, 81, 81), False),  # 1.6 x, 49 more
        (65, 2, (80, 80, 80, 80), True),  # 1.6 x, 50 more
        (80, 3, (120, 150, 130, 140), True),  # median 135
        (76, 2, (10, 100, 190, 100), True),  # the median, not the mean
        (76, 2, (10, 10), False),  # two known weeks are no usual week
        (76, 2, (90, 90, 90), True),  # three are
        (76, 2, (100, 100, 100, 100, 900, 900, 900), True),  # the last four only
    ],
)
def test_week_step(balls: int, sessions: int, weeks: tuple[int, ...], fires: bool) -> None:
    setting = replace(PLAIN, practice=plan(balls, sessions), log=used_to(200, weeks))
    found = setting.fired().get(NoteCode.WEEK_STEP)
    assert (found is not None) is fires
    if found:
        assert found.level is Level.CARE


def test_a_week_with_an_uncounted_session_is_not_known() -> None:
    counted = [entry(2, 50), entry(10, 90), entry(17, 90), entry(24, 90)]
    assert _usual(*counted) == 90
    assert _usual(*counted, entry(3, minutes=30)) == 90
    assert _usual(*counted[:3], entry(3, minutes=30)) is None
    assert _usual(*counted, entry(3, rounds=1)) == 90, "a round is no session"
    assert _usual(*counted[:3], entry(3, rounds=1)) == 90


def test_a_usual_week_needs_three_known_weeks_of_the_last_eight() -> None:
    assert _usual(entry(2, 50), entry(9, 70)) is None
    assert _usual(entry(2, 50), entry(9, 70), entry(16, 60)) == 60
    assert _usual(entry(2, 50), entry(9, 0), entry(16, 60)) == 50, "written down as none is known"
    assert _usual(entry(2, 50), entry(9, 70), entry(56, 60)) == 60
    assert _usual(entry(2, 50), entry(9, 70), entry(57, 60)) is None
    load = replace(PLAIN, log=log(entry(2, 50))).load()
    assert load is not None
    assert load.usual_week_open
    assert PLAIN.load() is not None
    assert not (PLAIN.load() or load).usual_week_open
    nothing = replace(PLAIN, log=NO_LOG).load()
    assert nothing is not None
    assert not nothing.usual_week_open, "without a log there is a note of its own"


def _usual(*entries: LogEntry) -> float | None:
    load = replace(PLAIN, log=log(*entries)).load()
    assert load is not None
    return load.usual_week


@pytest.mark.parametrize(
    ("balls", "sessions", "rounds", "fires"),
    [
        (50, 4, None, False),  # exactly 200
        (67, 3, None, True),  # 201
        (10, 1, 3, False),
        (10, 1, 4, True),
        (None, 4, 4, True),
        (300, None, None, False),  # a week of unknown sessions
    ],
)
def test_week_volume(
    balls: int | None, sessions: int | None, rounds: int | None, fires: bool
) -> None:
    practice = Practice(sessions_per_week=sessions, balls_per_session=balls, rounds_per_week=rounds)
    fired = replace(PLAIN, practice=practice).fired()
    assert (NoteCode.WEEK_VOLUME in fired) is fires
    if fires:
        assert fired[NoteCode.WEEK_VOLUME].level is Level.NOTE


@pytest.mark.parametrize(
    ("sessions", "band", "code", "level"),
    [
        (4, AgeBand.ADULT, None, None),
        (5, AgeBand.ADULT, NoteCode.FEW_REST_DAYS, Level.NOTE),
        (5, None, NoteCode.FEW_REST_DAYS, Level.NOTE),
        (5, AgeBand.SENIOR, NoteCode.FEW_REST_DAYS, Level.NOTE),
        (5, AgeBand.JUNIOR, NoteCode.FEW_REST_DAYS, Level.CARE),
        (6, AgeBand.ADULT, NoteCode.NO_REST_DAY, Level.CARE),
        (7, AgeBand.JUNIOR, NoteCode.NO_REST_DAY, Level.CARE),
    ],
)
def test_rest_days(
    sessions: int, band: AgeBand | None, code: NoteCode | None, level: Level | None
) -> None:
    student = replace(OPEN, age_band=band)
    fired = replace(PLAIN, student=student, practice=plan(5, sessions)).fired()
    rest = {c: n.level for c, n in fired.items() if c.name.endswith(("REST_DAY", "REST_DAYS"))}
    assert rest == ({} if code is None else {code: level})


@pytest.mark.parametrize(
    ("first", "balls", "fires"), [(True, 50, False), (True, 51, True), (False, 51, False)]
)
def test_first_year_above_a_hundred_balls_a_week(first: bool, balls: int, fires: bool) -> None:
    setting = replace(PLAIN, student=replace(OPEN, first_year=first), practice=plan(balls, 2))
    assert (NoteCode.FIRST_YEAR in setting.fired()) is fires


@pytest.mark.parametrize(
    ("entries", "code"),
    [
        ((), NoteCode.NO_HISTORY),
        ((entry(3, minutes=30),), NoteCode.NO_HISTORY),  # hit, but nobody counted
        ((entry(3, rounds=1),), NoteCode.NO_HISTORY),
        ((entry(3, 0),), None),  # nothing hit is known too
        ((entry(0, 60),), NoteCode.NO_HISTORY),  # the lesson's own day is not history
        ((entry(30, 60),), None),
        ((entry(31, 60),), NoteCode.NO_RECENT_SESSION),
        ((entry(31, 60), entry(5, rounds=1)), NoteCode.NO_RECENT_SESSION),
        ((entry(400, minutes=30),), NoteCode.NO_RECENT_SESSION),
    ],
)
def test_what_the_log_does_not_say(entries: tuple[LogEntry, ...], code: NoteCode | None) -> None:
    fired = replace(PLAIN, practice=plan(10, 1), log=log(*entries)).fired()
    both = {NoteCode.NO_HISTORY, NoteCode.NO_RECENT_SESSION}
    assert both & set(fired) == ({code} if code else set())


@pytest.mark.parametrize(
    ("days", "level"),
    [(13, None), (14, Level.NOTE), (27, Level.NOTE), (28, Level.CARE), (400, Level.CARE)],
)
def test_layoff(days: int, level: Level | None) -> None:
    found = replace(PLAIN, log=log(entry(days, 40))).fired().get(NoteCode.LAYOFF)
    assert (found.level if found else None) == level
    if found:
        assert found.facts == NoteFacts(days=days)


def test_a_layoff_is_cut_short_by_a_lesson_and_a_round_but_never_known_without_a_log() -> None:
    notes = Notes(where=SourceRef("a/l/notes.md"), words="")
    month_ago = log(entry(40, 40))
    week_ago = (ON - timedelta(days=7),)
    assert NoteCode.LAYOFF in _codes(care_for(OPEN, notes, month_ago, ON))
    assert NoteCode.LAYOFF not in _codes(care_for(OPEN, notes, month_ago, ON, week_ago))
    assert NoteCode.LAYOFF in _codes(care_for(OPEN, notes, month_ago, ON, (ON,)))
    round_since = log(entry(40, 40), entry(6, rounds=1))
    assert NoteCode.LAYOFF not in _codes(care_for(OPEN, notes, round_since, ON))
    long_ago = (ON - timedelta(days=90),)
    assert NoteCode.LAYOFF not in _codes(care_for(OPEN, notes, PracticeLog(), ON, long_ago))


def _codes(answer: tuple[Load | None, tuple[CareNote, ...]]) -> set[NoteCode]:
    return {note.code for note in answer[1]}


HEAT, SUN = NoteCode.HEAT, NoteCode.SUN
BEFORE_AND_AFTER = (
    (Block.BEFORE, Conditions(temperature_c=12.0)),
    (Block.AFTER, Conditions(temperature_c=19.0)),
)


@pytest.mark.parametrize(
    ("month", "conditions", "weather"),
    [
        (1, Conditions(), set()),
        (4, Conditions(), {SUN}),
        (7, Conditions(), {SUN, HEAT}),
        (7, Conditions(indoors=True), set()),
        (7, Conditions(indoors=True, temperature_c=27.9), set()),
        (1, Conditions(indoors=True, temperature_c=28.0), {HEAT}),
        (1, Conditions(indoors=False, temperature_c=28.0), {SUN, HEAT}),  # the southern half
        (7, Conditions(temperature_c=15.0), {SUN}),
        (10, Conditions(temperature_c=17.9), set()),
        (10, Conditions(temperature_c=12.0, blocks=BEFORE_AND_AFTER), {SUN}),
        (12, Conditions(temperature_c=2.0, altitude_m=1600.0), {SUN}),
    ],
)
def test_heat_and_sun_are_spoken_of_where_there_is_a_reason(
    month: int, conditions: Conditions, weather: set[NoteCode]
) -> None:
    notes = Notes(where=SourceRef("a/l/notes.md"), words="", conditions=conditions)
    fired = _codes(care_for(OPEN, notes, PLAIN.log, date(2027, month, 11)))
    assert fired & {HEAT, SUN} == weather
    assert {NoteCode.SPACE, NoteCode.LIGHTNING} <= fired


def test_the_plan_counts_stated_balls_else_the_steps() -> None:
    steps = (
        DrillStep("wall", balls=None, times=10),
        DrillStep("half", balls=12, times=None),
        DrillStep("full", balls=18, times=None),
    )
    loads = [
        replace(PLAIN, practice=practice).load()
        for practice in (
            Practice(sessions_per_week=3, balls_per_session=40, steps=steps),
            Practice(sessions_per_week=3, steps=steps),
            Practice(sessions_per_week=3, steps=steps[:1]),
            Practice(balls_per_session=40),
        )
    ]
    assert [(x.balls_per_session, x.balls_per_week) for x in loads if x] == [
        (40, 120),
        (30, 90),
        (None, None),
        (40, None),
    ]


@pytest.mark.parametrize(
    ("steps", "stated", "balls"),
    [
        ((DrillStep("a", 5, None, sets=4),), None, 20),
        (
            (DrillStep("a", 10, None, weeks=(1, 2)), DrillStep("b", 30, None, weeks=(3, 4))),
            None,
            30,
        ),
        ((DrillStep("a", 10, None), DrillStep("b", 30, None, weeks=(3, 4))), None, 40),
        (
            (DrillStep("a", 10, None, weeks=(1, 3)), DrillStep("b", 30, None, weeks=(3, 4))),
            None,
            40,
        ),
        ((DrillStep("a", 50, None),), 40, 50),  # the steps ask for more than was said
        ((DrillStep("a", None, 10, sets=3),), None, None),
    ],
)
def test_sets_count_and_the_fullest_week_decides(
    steps: tuple[DrillStep, ...], stated: int | None, balls: int | None
) -> None:
    load = replace(PLAIN, practice=Practice(balls_per_session=stated, steps=steps)).load()
    assert load is not None
    assert load.balls_per_session == balls


def test_no_load_where_nothing_is_planned_or_logged() -> None:
    assert replace(PLAIN, practice=None, log=NO_LOG).load() is None
    assert replace(PLAIN, practice=None).load() is not None


@pytest.mark.parametrize(
    "case",
    json.loads(Path(__file__).with_name("load_cases.json").read_text())["cases"],
    ids=lambda case: str(case["id"]),
)
def test_worked_cases(case: dict[str, Any]) -> None:
    given, expect = case["input"], case["expect"]
    weeks = given["last4_weeks"]
    setting = Setting(
        student=replace(
            OPEN, areas=tuple(Area(a.replace("_", " ")) for a in given.get("flagged", ()))
        ),
        kinds=tuple(IntentKind(k.replace("_", " ")) for k in given.get("intents", ())),
        practice=plan(given["balls_per_session"], given["sessions_per_week"]),
        conditions=Conditions(surface=Surface(given["surface"]) if "surface" in given else None),
        log=used_to(given["biggest_session_30d"], weeks) if weeks else NO_LOG,
    )
    load = setting.load()
    assert load is not None
    assert load.biggest_session_30d == given["biggest_session_30d"]
    fired = set(setting.fired())
    assert fired >= set(expect["must_fire"])
    assert not fired & set(expect["must_not_fire"])
