"""notes.md: the front matter as values, and the coach's words as they were typed."""

import re
from datetime import date, time, timedelta
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from recapgen.intake.case_keys import read_case, read_see_also
from recapgen.intake.clearing_lines import check_lines
from recapgen.intake.clip_list import read_clips
from recapgen.intake.clock_words import read_time
from recapgen.intake.conditions import read_conditions
from recapgen.intake.declaration import read_declaration, read_planned
from recapgen.intake.folder import LessonPaths
from recapgen.intake.form import NAME_LENGTH, Form
from recapgen.intake.front_matter import FrontMatter, in_place, split
from recapgen.intake.hand_readings import read_readings
from recapgen.intake.kept_drills import changed_since, drills_for
from recapgen.intake.last_time import with_last_time
from recapgen.intake.practice_plan import read_practice
from recapgen.intake.quantities import club_in
from recapgen.intake.questions_keys import without_a_questions_keys
from recapgen.intake.said_files import read_said_files
from recapgen.intake.shot_spans import read_left_out, read_marks, read_mishits, read_spans
from recapgen.intake.spelling import spelling
from recapgen.intake.swings import read_compare, read_swings
from recapgen.intake.text_file import file_of, read_text
from recapgen.intake.usual_words import read_kinds, read_moved
from recapgen.intake.usually import fill_in
from recapgen.intake.yaml_map import MapNode, Scalar, brief
from recapgen.model.drill import Drill
from recapgen.model.fix import Cut, Swap, one_of
from recapgen.model.lesson import ClipFile, Notes
from recapgen.model.people import Coach, Hand, Student
from recapgen.model.problem import Checked, Code, Cost, Problem
from recapgen.model.shots import ShotTable
from recapgen.model.source import SourceRef

KEYS = spelling(
    "intent", "feels like", "student says", "letting go of", "kind", "club", "number", "chosen",
    "want", "matters", "must not lose", "files", "shots", "left out", "mishits", "moved",
    "conditions", "clips", "practice", "care", "case", "see also", "planned",
    "swings", "compare", "short name", "readings", "usual miss", "next",
    "was called", "new address",
    file="files", the_intent="intent", feel="feels like", feeling="feels like", feels="feels like",
    student_said="student says", student_words="student says", let_go_of="letting go of",
    letting_go="letting go of", kinds="kind", measure="number", the_number="number",
    goal="want", guard="must not lose", blocks="shots", leave_out="left out", mishit="mishits",
    swing="swings", swung="swings", weather="conditions",
    miss="usual miss", the_miss="usual miss", next_lesson="next",
    folder_was="was called", called="was called", new_link="new address",
    reading="readings", counts="readings", counted="readings",
    clip="clips", films="clips", plan="practice", safety="care",
)  # fmt: skip
KNOWN = frozenset((*KEYS.keys, *KEYS.variants))
# Where not all could be read, what is missing may stand in what could not.
_OF_WHAT_IS_MISSING = frozenset({
    Code.WANT_MISSING, Code.NUMBER_MISSING, Code.KEY_MISSING, Code.CLIP_NOT_LISTED,
    Code.CLIP_NAME_UNCLEAR, Code.DRILL_CHANGED,
})  # fmt: skip
_WEEKS = re.compile(r"(?:in\s+)?(?:(\d{1,2})|(a|one|two|three|four|six|eight))\s+weeks?")
_AT = re.compile(
    r"(?:[t,\s]|\bat\b|\bum\b|\bà\b|\ba las\b)+(\d{1,2}[:：h]\d{2})(?:\s*uhr)?\s*$", re.IGNORECASE
)
_NUMBERS = {"two": 2, "three": 3, "four": 4, "six": 6, "eight": 8}
WORDS_LENGTH = 30_000
MOST_CARE_WORDS = 3


class NotesFile(Struct, frozen=True):
    """What notes.md says, clips and what was read by hand included.

    ``club_where`` is the place of ``club:``, ``readings_where`` that of ``readings:``.
    """

    notes: Notes
    clips: tuple[ClipFile, ...]
    club_where: SourceRef
    readings: ShotTable | None = None
    readings_where: SourceRef | None = None


def read_notes(
    root: Path, paths: LessonPaths, coach: Coach, student: Student | None = None
) -> Checked[NotesFile]:
    """The lesson's notes; None where the file cannot be read at all.

    ``student`` gives the hand, for a goal in the player's terms, and what is usual.
    """
    text, problems = read_text(root, paths.notes)
    return Checked(None, problems) if text is None else notes_in(text, root, paths, coach, student)


def notes_in(
    text: str, root: Path, paths: LessonPaths, coach: Coach, student: Student | None = None
) -> Checked[NotesFile]:
    """The same of a ``text`` that is, or is to be, the lesson's notes."""
    file = file_of(root, paths.notes)
    front, problems = split(text, file, KNOWN)
    if front is None:
        return Checked(None, problems)
    found: list[Problem] = []
    keyed, asked = without_a_questions_keys(front.keyed)
    found.extend(asked)
    taken = with_last_time(keyed, root, paths, KEYS, KNOWN)
    found.extend(taken.problems)
    form = Form(taken.keyed, KEYS, found)
    clips = read_clips(form, root, paths.clips, front.next_key, found)
    found.extend(check_lines(text, file, front.next_key.line or 1))
    drills = drills_for(root, paths, coach.drills)
    notes = _notes(form, front, file, (coach, student.hand if student else None), drills)
    form.text("was called")  # this and the next were taken by link_keys.py; faults are told here
    form.yes_no("new address")
    next_on, next_at = _next(form, paths.on)
    notes = replace(notes, next_on=next_on, next_at=next_at, filled=taken.filled)
    notes = fill_in(notes, form, paths.on, (coach, student), drills)
    read_off = read_readings(form, notes.declaration, coach)
    for name in changed_since(root, paths, notes.practice, coach.drills):
        form.report(Code.DRILL_CHANGED, form.place("practice"), name=name)
    if not front.whole:
        told = (problem for problem in found if problem.code not in _OF_WHAT_IS_MISSING)
        return Checked(None, (*problems, *in_place(tuple(told), front)))
    if not form.has("intent"):
        found = [_perhaps_the_intent(problem, taken.keyed) for problem in found]
    found[:0] = problems
    file_read = NotesFile(
        notes,
        clips,
        form.place("club"),
        read_off,
        form.place("readings") if form.node("readings") is not None else None,
    )
    return Checked(file_read, tuple(found))


def _perhaps_the_intent(problem: Problem, keyed: MapNode) -> Problem:
    """An unknown key, in notes without an intent, may be it in some other language."""
    if problem.code is not Code.KEY_UNKNOWN or problem.where.column != 1:
        return problem
    words = (
        Swap(entry.where, entry.key, "intent")
        for entry in keyed.entries
        if entry.where == problem.where and isinstance(entry.value, Scalar) and entry.value.text
    )
    return replace(problem, costs=Cost.STUDENT, offers=one_of([*words, Cut(problem.where)]))


def _notes(
    form: Form,
    front: FrontMatter,
    file: str,
    people: tuple[Coach, Hand | None],
    drills: tuple[Drill, ...],
) -> Notes:
    coach, hand = people
    if len(front.words) > WORDS_LENGTH:
        facts = {"length": str(len(front.words)), "most": str(WORDS_LENGTH)}
        form.report(Code.TEXT_TOO_LONG, front.next_key, key="notes.md", **facts)
    club = form.words("club")
    spans, timed = read_spans(form)
    return Notes(
        where=SourceRef(file, 1, 1),
        words=front.words,
        intent=form.text("intent"),
        short_name=form.text("short name", NAME_LENGTH),
        feels_like=form.text("feels like"),
        student_says=form.text("student says"),
        letting_go_of=form.text("letting go of"),
        kinds=read_kinds(form),
        club=club_in(form, "club", club) if club else None,
        declaration=read_declaration(form, coach, hand),
        planned=read_planned(form),
        swings=read_swings(form),
        compare=read_compare(form),
        files=read_said_files(form),
        spans=spans,
        timed=timed,
        marks=read_marks(form),
        left_out=read_left_out(form),
        mishits=read_mishits(form),
        moved=read_moved(form),
        conditions=read_conditions(form, coach),
        practice=read_practice(form, drills),
        care_words=_care_words(form),
        case=read_case(form),
        see_also=read_see_also(form),
        usual_miss=form.text("usual miss"),
    )


def _care_words(form: Form) -> tuple[str, ...]:
    """What the coach adds to the safety notes: a few lines, never in place of any of them."""
    several = list(form.several("care")) if form.listed("care") else []
    lines = several or [words for words in (form.words("care"),) if words is not None]
    if len(lines) > MOST_CARE_WORDS:
        facts = {"length": str(len(lines)), "most": str(MOST_CARE_WORDS)}
        form.report(Code.TOO_MANY, form.place("care"), key="care", **facts)
    told = [form.line("care", words) for words in lines[:MOST_CARE_WORDS]]
    return tuple(line for line in told if line is not None)


def _next(form: Form, on: date) -> tuple[date | None, time | None]:
    """``next: 2027-05-02``, or ``in 3 weeks`` from the lesson's day, either with a time of day.

    A day that is not after the lesson's is a slip, and so is a time that no clock shows.
    """
    words = form.words("next")
    if words is None:
        return form.day("next"), None
    clock = _AT.search(words.text)
    said = words.text if clock is None else words.text[: clock.start()]
    at = None if clock is None else read_time(clock[1])
    if clock is not None and at is None:
        form.report(Code.DATE_IMPOSSIBLE, words.where, key="next", found=brief(words.text))
        return None, None
    weeks = _WEEKS.fullmatch(said.strip().casefold())
    if weeks is not None:
        return on + timedelta(weeks=int(weeks[1] or _NUMBERS.get(weeks[2], 1))), at
    day = form.day_in("next", replace(words, text=said))
    if day is not None and day <= on:
        form.report(Code.NEXT_DAY_PAST, words.where, found=day.isoformat(), on=on.isoformat())
        return None, None
    return day, at
