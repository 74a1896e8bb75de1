"""Whatever coach and student typed: no crash, no note without a trigger, stop signs always."""

from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from recapgen.care.load import balls_per_session, week_up_to
from recapgen.care.safety_notes import ORDER, care_for
from recapgen.model.care import CareNote, Level, NoteCode
from recapgen.model.lesson import Conditions, DrillStep, IntentKind, Notes, Practice, Surface
from recapgen.model.people import AgeBand, Agreed, Area, Condition, Hand, Student
from recapgen.model.practice_log import LogEntry, PracticeLog
from recapgen.model.source import SourceRef
from recapgen.words.care_sentences import tell_note, why_note
from recapgen.words.catalogue import words

ON = date(2027, 4, 11)
count = st.none() | st.integers(0, 2000)
days = st.integers(-40, 400).map(lambda back: ON - timedelta(days=back))
entries = st.builds(
    LogEntry,
    on=days,
    where=st.just(SourceRef("a/practice.csv", 2)),
    balls=count,
    minutes=count,
    effort=st.none() | st.floats(0, 10),
    rounds=st.none() | st.integers(0, 3),
    pain=st.none() | st.booleans(),
    score=count,
)
logs = st.lists(entries, max_size=25).map(lambda found: PracticeLog(tuple(found), kept=True))
weeks = st.tuples(st.integers(1, 8), st.integers(0, 50)).map(lambda w: (w[0], w[0] + w[1]))
steps = st.builds(
    DrillStep,
    what=st.just("swing"),
    balls=count,
    times=count,
    sets=st.none() | st.integers(1, 9),
    weeks=st.none() | weeks,
)
practices = st.builds(
    Practice,
    sessions_per_week=st.none() | st.integers(0, 14),
    balls_per_session=count,
    rounds_per_week=st.none() | st.integers(0, 9),
    minutes_per_session=count,
    weeks=count,
    steps=st.lists(steps, max_size=4).map(tuple),
)
conditions = st.builds(
    Conditions,
    surface=st.none() | st.sampled_from(Surface),
    indoors=st.none() | st.booleans(),
    temperature_c=st.none() | st.floats(-20, 50),
)
lesson_notes = st.builds(
    Notes,
    where=st.just(SourceRef("a/l/notes.md")),
    words=st.just(""),
    kinds=st.lists(st.sampled_from(IntentKind), max_size=4).map(tuple),
    conditions=conditions,
    practice=st.none() | practices,
)
students = st.builds(
    Student,
    key=st.just("a"),
    name=st.just("A"),
    hand=st.none() | st.sampled_from(Hand),
    age_band=st.none() | st.sampled_from(AgeBand),
    first_year=st.booleans(),
    areas=st.lists(st.sampled_from(Area), max_size=5).map(tuple),
    conditions=st.lists(st.sampled_from(Condition), max_size=4).map(tuple),
    agreed=st.builds(Agreed, body=st.booleans()),
)
EN = words("en")
LOADS = {
    NoteCode.SESSION_STEP,
    NoteCode.WEEK_STEP,
    NoteCode.NO_REST_DAY,
    NoteCode.FEW_REST_DAYS,
    NoteCode.LAYOFF,
}
SERIOUS_FIRST = (Level.ASK_FIRST, Level.CARE, Level.NOTE, Level.INFO)


def _never_cut(note: CareNote) -> bool:
    load = note.level is Level.CARE and note.code in LOADS
    return note.level is Level.ASK_FIRST or note.code is NoteCode.PAIN_LOGGED or load


@given(students, lesson_notes, logs, st.lists(days, max_size=3))
def test_any_plan_and_log(
    student: Student, notes: Notes, log: PracticeLog, earlier: list[date]
) -> None:
    load, fired = care_for(student, notes, log, ON, earlier)
    codes = [note.code for note in fired]
    assert len(codes) == len(set(codes))
    assert codes[-1] is NoteCode.STOP_SIGNS
    ranks = [(SERIOUS_FIRST.index(note.level), ORDER.index(note.code)) for note in fired]
    assert ranks == sorted(ranks)
    assert all(note.trigger for note in fired)
    above = [note for note in fired if note.level is not Level.INFO]
    for place, note in enumerate(above):
        if note.shown and not _never_cut(note):
            assert sum(other.shown for other in above[:place]) < 3
    if student.agreed.body:
        assert all(note.shown for note in above if _never_cut(note))
    assert all(note.shown for note in fired if note.level is Level.INFO)
    if not student.agreed.body:
        assert not any(note.body and note.shown for note in fired)
    assert (load is None) == (notes.practice is None and not any(e.on < ON for e in log.entries))
    for note in fired:
        assert tell_note(note, student.hand, EN)
        assert why_note(note, student.hand, EN).because


@given(practices)
def test_a_plan_never_counts_fewer_balls_than_any_of_its_weeks_has(practice: Practice) -> None:
    told = balls_per_session(practice)
    for week in range(1, 60):
        due = [
            step.balls * (step.sets or 1)
            for step in practice.steps
            if step.balls is not None
            and (step.weeks is None or step.weeks[0] <= week <= step.weeks[1])
        ]
        assert not due or (told is not None and told >= sum(due))
    assert practice.balls_per_session is None or (told or 0) >= practice.balls_per_session


@given(logs, days)
def test_any_logged_week(log: PracticeLog, today: date) -> None:
    week = week_up_to(log, today)
    later = PracticeLog(tuple(e for e in log.entries if e.on <= today), kept=True)
    assert week == week_up_to(later, today), "tomorrow changes nothing about today"
    if week is not None:
        assert week.balls >= week.biggest >= 0
        raised = {NoteCode.SESSION_STEP, NoteCode.WEEK_STEP}
        if week.usual_week is None and week.biggest_before is None:
            assert not raised & set(week.raised)


@given(students, lesson_notes, logs)
def test_lines_written_after_the_lesson_change_nothing(
    student: Student, notes: Notes, log: PracticeLog
) -> None:
    before = PracticeLog(
        tuple(
            e
            if e.on < ON
            else replace(e, balls=None, minutes=None, effort=None, rounds=None, score=None)
            for e in log.entries
            if e.on <= ON
        ),
        kept=True,
    )  # of the lesson's own day only the pain counts
    assert care_for(student, notes, log, ON) == care_for(student, notes, before, ON)


@given(students, lesson_notes, logs)
def test_what_a_page_shows_gives_away_neither_flag_nor_age_nor_condition_unless_agreed(
    student: Student, notes: Notes, log: PracticeLog
) -> None:
    if student.agreed.body:
        return
    shown = [note for note in care_for(student, notes, log, ON)[1] if note.shown]
    page = " ".join(
        tell_note(note, student.hand, EN) + why_note(note, student.hand, EN).because
        for note in shown
    ).lower()
    for word in ("told us", "osteoporosis", "joint replacement", "your heart", "pregnan"):
        assert word not in page
    for word in ("junior", "senior", "still growing", "defibrillator"):
        assert word not in page
