"""The short note: "as last time" in the notes, and what is usual for the student or the coach."""

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from recapgen.intake.folder import survey
from recapgen.intake.kept_readings import KeptReadings
from recapgen.intake.reading import StudentFolder
from recapgen.intake.settings import read_coach
from recapgen.model.filled import FilledFrom, FilledKey
from recapgen.model.lesson import IntentKind, Lesson, Surface
from recapgen.model.problem import Code, Problem
from recapgen.tools.cache import Cache
from tests.intake.test_notes import FILE, FOLDER, front
from tests.whole_folder import folder_of

MakeFolder = Callable[[Mapping[str, str | bytes | None]], Path]
LATER = "Marta/2027-04-18/notes.md"
LAST = "Marta/2027-04-25/notes.md"
COACH = "coach: Ines Falk\nunits: {speed: mph, length: m, temperature: C}\n"
STUDENT = "name: Marta\nhand: right\nagreed: {page: yes, since: 2027-01-03}\n"
NO_FILE: Mapping[str, str | bytes | None] = {f"{FOLDER}/shots.csv": None}


def whole(root: Path) -> StudentFolder:
    found, _ = survey(root)
    coach, problems = read_coach(root)
    assert problems == ()
    assert found is not None
    assert coach is not None
    return folder_of(found.root, found.students[0], coach)


def newest(
    lessons: MakeFolder, changes: Mapping[str, str | bytes | None]
) -> tuple[Lesson, tuple[Problem, ...]]:
    read = whole(lessons({**NO_FILE, **changes}))
    return read.lessons[-1], read.problems


def test_any_key_is_as_last_time(lessons: MakeFolder) -> None:
    lesson, problems = newest(lessons, {
        FILE: front("intent: Hum", "kind: [putting]", "conditions: {ball: range, surface: mat}",
                    "practice: {sessions a week: 3, balls: 40}"),
        LATER: front("intent: as last time", "kind: As last time",
                     "conditions: {ball: as last time, temperature: 14 C}",
                     "practice: wie letztes Mal"),
    })  # fmt: skip
    assert problems == ()
    notes = lesson.notes
    assert (notes.intent, notes.kinds) == ("Hum", (IntentKind.PUTTING,))
    assert (notes.conditions.ball, notes.conditions.surface) == ("range", None)
    assert notes.practice is not None
    assert notes.practice.balls_per_session == 40
    assert [(each.key, each.source, str(each.on)) for each in notes.filled] == [
        (key, FilledFrom.LAST_TIME, "2027-04-11")
        for key in ("intent", "kind", "conditions ball", "practice")
    ]


def test_last_time_may_have_been_as_the_time_before(lessons: MakeFolder) -> None:
    lesson, problems = newest(lessons, {
        FILE: front("club: 7 iron"), LATER: front("club: as last time"),
        LAST: front("club: as last time"),
    })  # fmt: skip
    assert problems == ()
    assert lesson.notes.club == "7 iron"
    assert str(lesson.notes.filled[0].on) == "2027-04-11"


@pytest.mark.parametrize(
    ("first", "later", "code"),
    [
        ("club: 7 iron", "moved: as last time", Code.LAST_TIME_UNSAID),
        ("club:", "club: as last time", Code.LAST_TIME_UNSAID),
        ("conditions: {ball: range}", "conditions: {surface: as last time}", Code.LAST_TIME_UNSAID),
        ("chosen: before", "chosen: as last time", Code.LAST_TIME_UNFIT),
        (None, "club: as last time", Code.LAST_TIME_NONE),
    ],
)
def test_what_nobody_said_is_told(
    lessons: MakeFolder, first: str | None, later: str, code: Code
) -> None:
    changes = {LATER: front(later), FILE: None if first is None else front(first)}
    _, problems = newest(lessons, changes)
    assert [p.code for p in problems] == [code]
    assert (problems[0].where.file, problems[0].where.line) == (LATER, 2)


def test_a_fault_taken_over_is_told_here_too(lessons: MakeFolder) -> None:
    _, problems = newest(lessons, {FILE: front("kind: puttin"), LATER: front("kind: as last time")})
    assert [(p.code, p.where.file) for p in problems] == [
        (Code.WORD_MISSPELT, FILE), (Code.WORD_MISSPELT, LATER),
    ]  # fmt: skip


USUALLY = (
    "usually: {ball: range, surface: mat, moved: nothing, kind: [putting], "
    "matters: {carry: 2 m}, practice: {sessions a week: 2, balls: 30}}\n"
)


def test_what_is_usual_need_not_be_said(lessons: MakeFolder) -> None:
    lesson, problems = newest(lessons, {
        "coach.yml": COACH + USUALLY,
        "Marta/student.yml": STUDENT + "usually: {ball: foam}\n",
        FILE: front("number: carry", "want: higher", "readings: {before: [90], after: [95]}"),
    })  # fmt: skip
    assert problems == ()
    notes = lesson.notes
    assert (notes.conditions.ball, notes.conditions.surface) == ("foam", Surface.MAT)
    assert notes.kinds == (IntentKind.PUTTING,)
    assert notes.declaration is not None
    assert notes.declaration.smallest_change == 2.0
    assert notes.practice is not None
    assert notes.practice.balls_per_session == 30
    assert notes.filled == (
        FilledKey("ball", FilledFrom.STUDENT),
        *(
            FilledKey(key, FilledFrom.COACH)
            for key in ("surface", "moved", "kind", "practice", "matters")
        ),
    )


def test_what_is_said_is_never_filled_in(lessons: MakeFolder) -> None:
    lesson, problems = newest(lessons, {
        "coach.yml": COACH + USUALLY,
        FILE: front("number: carry", "want: higher", "readings: {before: [90], after: [95]}",
                    "conditions: {ball: {before: foam, after: foam}, surface: grass}",
                    "moved: ball", "kind: posture", "practice: none", "matters: 3 m"),
    })  # fmt: skip
    assert problems == ()
    notes = lesson.notes
    assert notes.filled == ()
    assert (notes.conditions.ball, notes.conditions.surface) == (None, Surface.GRASS)
    assert (notes.moved, notes.practice) == (("ball",), None)


@pytest.mark.parametrize(("since", "ball"), [("2027-04-11", "range"), ("2027-04-12", None)])
def test_what_is_usual_since_a_day_leaves_earlier_lessons_alone(
    lessons: MakeFolder, since: str, ball: str | None
) -> None:
    usually = f"usually: {{ball: range, since: {since}}}\n"
    lesson, problems = newest(lessons, {"coach.yml": COACH + usually})
    assert problems == ()
    assert lesson.notes.conditions.ball == ball


def test_a_smallest_change_belongs_to_a_number(lessons: MakeFolder) -> None:
    student = {"Marta/student.yml": STUDENT + "usually: {matters: 2 m}\n"}
    _, problems = newest(lessons, student)
    assert [p.code for p in problems] == [Code.KEYS_EXPECTED]


def test_what_was_kept_knows_what_it_rests_on(
    lessons: MakeFolder, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """A change of the lesson before, or of what is usual, is a change of this one."""
    kept = KeptReadings(Cache(tmp_path_factory.mktemp("cache")), "recipe")

    def told(changes: Mapping[str, str | bytes | None]) -> Lesson:
        root = lessons({**NO_FILE, LATER: front("club: as last time"), **changes})
        found, _ = survey(root)
        coach = kept.read_coach(root).value
        assert found is not None
        assert coach is not None
        student = kept.read_student(found.root, found.students[0], coach).value
        assert student is not None
        lesson, problems = kept.read_lesson(
            found.root, found.students[0].lessons[-1], coach, student
        )
        assert problems == ()
        assert lesson is not None
        return lesson

    assert told({FILE: front("club: 7 iron")}).notes.club == "7 iron"
    assert told({FILE: front("club: 8 iron")}).notes.club == "8 iron"
    changed = {
        FILE: front("club: 8 iron"),
        "Marta/student.yml": STUDENT + "usually: {ball: foam}\n",
    }
    assert told(changed).notes.conditions.ball == "foam"
    changed |= {"coach.yml": COACH + "usually: {surface: mat}\n"}
    assert told(changed).notes.conditions.surface is Surface.MAT
