"""Pain in the practice log: when it is told on the page, how seriously, and in which words."""

from datetime import date, timedelta

import pytest
from msgspec.structs import replace

from recapgen.care.pain import next_change
from recapgen.care.safety_notes import care_for
from recapgen.model.care import CareNote, Level, NoteCode
from recapgen.model.lesson import Notes
from recapgen.model.people import Agreed, Condition
from recapgen.model.practice_log import LogEntry, PracticeLog
from recapgen.model.source import SourceRef
from recapgen.words.care_sentences import tell_note, why_note
from recapgen.words.catalogue import words
from recapgen.words.languages import LANGUAGES
from tests.care.setting import NO_LOG, ON, OPEN, PLAIN, SMALL_PLAN, log, plan, sore, used_to

NOTES = Notes(where=SourceRef("a/l/notes.md"), words="", practice=SMALL_PLAN)


def pain(*entries: LogEntry, read_on: date | None = None) -> CareNote | None:
    fired = care_for(OPEN, NOTES, log(*entries), ON, read_on=read_on)[1]
    found = [note for note in fired if note.code is NoteCode.PAIN_LOGGED]
    return found[0] if found else None


@pytest.mark.parametrize("place", [None, "lower back"])
@pytest.mark.parametrize(
    ("days_ago", "told"), [(0, True), (1, True), (14, True), (15, False), (-1, False)]
)
def test_pain_within_two_weeks_of_the_lesson_is_told(
    days_ago: int, place: str | None, told: bool
) -> None:
    note = pain(sore(days_ago, place))
    assert (note is not None) is told
    if note:
        assert (note.level, note.shown) == (Level.CARE, True)
        assert note.facts.place == place


def test_a_no_and_a_blank_are_no_pain() -> None:
    assert pain(replace(sore(2), pain=False), replace(sore(3), pain=None)) is None


@pytest.mark.parametrize(
    ("days", "level"),
    [
        ((1, 5), Level.CARE),
        ((1, 1, 1), Level.CARE),  # three lines of one day
        ((1, 5, 14), Level.ASK_FIRST),
        ((1, 5, 15), Level.CARE),
    ],
)
def test_three_days_with_pain_ask_somebody_first(days: tuple[int, ...], level: Level) -> None:
    note = pain(*(sore(day) for day in days))
    assert note is not None
    assert note.level is level


def test_pain_since_the_lesson_is_told_with_the_plan_that_is_practised() -> None:
    since = sore(-20, "elbow")
    days = [14, 19, 20, 34, 35]
    told = {day: pain(since, read_on=ON + timedelta(days=day)) is not None for day in days}
    assert told == {14: False, 19: False, 20: True, 34: True, 35: False}
    assert pain(since) is None, "a plan of the past is judged on its own day"
    assert pain(sore(3), read_on=ON + timedelta(days=100)) is not None, "what was told stays"
    assert pain(sore(3), read_on=ON - timedelta(days=100)) is not None, "a lesson to come"


def test_it_stands_first_of_its_level() -> None:
    student = replace(OPEN, conditions=(Condition.HEART,), first_year=True)
    setting = replace(PLAIN, student=student, practice=plan(90, 6))
    fired = list(replace(setting, log=log(*PLAIN.log.entries, sore(2))).fired())
    assert fired[:2] == [NoteCode.CONDITION_HEART, NoteCode.PAIN_LOGGED]
    often = log(*PLAIN.log.entries, sore(2), sore(3), sore(4))
    assert next(iter(replace(setting, log=often).fired())) is NoteCode.PAIN_LOGGED


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("days", [1, 3])
def test_without_agreement_it_is_told_in_words_for_anybody(language: str, days: int) -> None:
    entries = [sore(2 + day, "cuore, chest") for day in range(days)]
    student = replace(OPEN, agreed=Agreed(page=True))
    note = replace(PLAIN, student=student, log=log(*entries)).fired()[NoteCode.PAIN_LOGGED]
    assert (note.shown, note.body) == (True, False)
    told, why = tell_note(note, None, words(language), "112"), why_note(note, None, words(language))
    assert "112" in told
    for text in (told, why.name, why.because):
        assert "2027" not in text
        assert "cuore" not in text
    agreed = pain(*entries)
    assert agreed is not None
    assert agreed.body
    assert "cuore" in tell_note(agreed, None, words(language))


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("days", [1, 3])
def test_the_words_tell_the_day_the_place_and_what_the_plan_asks(language: str, days: int) -> None:
    spoken = words(language)
    entries = (*used_to(40, (80, 80, 80)).entries, *(sore(day + 2, "hip") for day in range(days)))
    note = pain(*sorted(entries, key=lambda line: line.on))
    assert note is not None
    told = tell_note(note, None, spoken, "112")
    assert "2027" in told
    assert "hip" in told
    for balls in (80, 80):  # twice forty planned; a usual week
        assert spoken.count("care.PAIN_LOGGED.plan.week", balls) in told
    assert spoken.say("page.practice.usual-week", balls="80") in told
    assert "{" not in told + why_note(note, None, spoken).because
    assert "112" not in told, "a hip is no emergency"


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize(
    "place",
    ["chest", "left side of my Chest", "Brust", "pecho", "la poitrine", "le cœur", "胸", "가슴"],
)
def test_pain_in_the_chest_points_to_the_emergency_number(language: str, place: str) -> None:
    note = pain(sore(9, place), sore(2))
    assert note is not None
    assert "112" in tell_note(note, None, words(language), "112")


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_note_that_speaks_of_the_chest_points_to_the_emergency_number(language: str) -> None:
    chest = {
        "en": "chest",
        "de": "brust",
        "es": "pecho",
        "fr": "poitrine",
        "ja": "胸",
        "ko": "가슴",
    }
    spoken = words(language)
    texts = {
        key: text
        for key in spoken.keys()  # noqa: SIM118  not a dict
        if key.startswith("care.") and ".text" in key
        for text in spoken.forms(key)
    }
    speaking = {key for key, text in texts.items() if chest[language] in text.casefold()}
    assert "care.CONDITION_PREGNANCY.text" in speaking
    assert {key for key in speaking if "{emergency}" not in texts[key]} == set()


def test_a_page_is_made_again_when_pain_begins_or_ceases_to_count() -> None:
    kept = log(sore(10), sore(-3), replace(sore(-1), pain=False))
    assert next_change(kept, ON) == ON + timedelta(days=3)
    assert next_change(kept, ON + timedelta(days=3)) == ON + timedelta(days=5)
    assert next_change(kept, ON + timedelta(days=5)) == ON + timedelta(days=18)
    assert next_change(kept, ON + timedelta(days=18)) is None
    assert next_change(NO_LOG, ON) is None
    last = PracticeLog((LogEntry(date.max, sore(0).where, pain=True),))
    assert next_change(last, ON) == date.max


def test_the_usual_week_is_rounded_as_on_the_rest_of_the_page() -> None:
    """The middle of 80 and 85 balls is told as 83 by the plan, and so it is here."""
    weeks = used_to(40, (80, 80, 85, 85))
    note = pain(sore(1), *weeks.entries)
    load, _ = care_for(OPEN, NOTES, log(sore(1), *weeks.entries), ON)
    assert load is not None
    assert load.usual_week == 82.5
    assert note is not None
    assert note.facts.usual == 83
