"""The notes as they are read: complete, calm, short, with sides that fit the hand."""

import re
from datetime import date
from itertools import combinations
from pathlib import Path

import pytest
import yaml
from msgspec.structs import replace

from recapgen.model.care import CareNote, Level, NoteCode, NoteFacts
from recapgen.model.lesson import Surface
from recapgen.model.people import Area, Hand
from recapgen.words.care_sentences import (
    remind_coach,
    standing_advice,
    tell_always,
    tell_area,
    tell_level,
    tell_note,
    why_note,
)
from recapgen.words.catalogue import words
from recapgen.words.languages import LANGUAGES

EN = words("en")
HANDS = (None, Hand.RIGHT, Hand.LEFT)

NEVER_USED = Path(__file__).parents[1] / "words" / "never_used.yml"
FORBIDDEN = tuple(
    word
    for group in yaml.safe_load(NEVER_USED.read_text(encoding="utf-8"))["care"].values()
    for word in group["en"]["words"]
)
FACTS: dict[NoteCode, NoteFacts] = {
    NoteCode.PAIN_LOGGED: NoteFacts(
        days=14,
        day=date(2027, 4, 1),
        place="lower back",
        chest=True,
        balls_per_week=1200,
        usual=700,
    ),
    NoteCode.SESSION_STEP: NoteFacts(balls=1200, biggest=1000),
    NoteCode.WEEK_STEP: NoteFacts(balls=1200, usual=700),
    NoteCode.NO_REST_DAY: NoteFacts(sessions=14),
    NoteCode.LAYOFF: NoteFacts(days=400),
    NoteCode.INTENT_MEETS_FLAG: NoteFacts(
        areas=(Area.LOW_BACK, Area.LEAD_WRIST, Area.TRAIL_SHOULDER)
    ),
    NoteCode.FLAGGED_AREA: NoteFacts(areas=(Area.LOW_BACK, Area.LEAD_WRIST, Area.TRAIL_SHOULDER)),
    NoteCode.FIRM_SURFACE: NoteFacts(surface=Surface.FIRM),
}


def forbidden(text: str) -> list[str]:
    return [word for word in FORBIDDEN if re.search(word, text, re.IGNORECASE)]


def note(code: NoteCode, level: Level = Level.NOTE) -> CareNote:
    return CareNote(code, level, FACTS.get(code, NoteFacts()), "", body=False, shown=True)


ALL = [note(code, level) for code in NoteCode for level in Level]


@pytest.mark.parametrize("hand", HANDS)
def test_every_note_is_short_and_free_of_forbidden_words(hand: Hand | None) -> None:
    for each in ALL:
        told = tell_note(each, hand, EN)
        why = why_note(each, hand, EN)
        for text in (told, why.because, why.source):
            assert text
            assert "{" not in text
            assert not forbidden(text), text
        if EN.has(f"care.{each.code}.coach"):
            reminder = remind_coach(each, hand, EN)
            assert not forbidden(reminder)
            assert "{" not in reminder
        if each.code is not NoteCode.STOP_SIGNS:
            assert len(told.split()) <= 45, told


def test_pain_in_the_chest_is_told_as_short() -> None:
    for level in Level:
        pain = note(NoteCode.PAIN_LOGGED, level)
        told = tell_note(replace(pain, facts=replace(pain.facts, chest=True)), None, EN)
        assert told.endswith("stop and call your local emergency number.")
        assert len(told.split()) <= 45


def test_no_flagged_areas_make_a_note_long() -> None:
    for count in (1, 2, 3, 4, 12):
        for areas in combinations(Area, count):
            for hand in HANDS:
                flagged = replace(note(NoteCode.INTENT_MEETS_FLAG), facts=NoteFacts(areas=areas))
                assert len(tell_note(flagged, hand, EN).split()) <= 45


def test_nothing_else_beside_the_notes_uses_a_forbidden_word() -> None:
    texts = [*standing_advice(EN), *(tell_level(level, EN) for level in Level)]
    texts += [tell_area(area, hand, EN) for area in Area for hand in HANDS]
    assert not [(t, found) for t in texts if (found := forbidden(t))]


def test_no_sentence_of_plan_log_load_sheet_or_book_uses_a_forbidden_word_or_raises_its_voice() -> (
    None
):
    families = ("care.", "page.care", "page.practice", "page.load", "page.log", "page.diary",
                "page.calendar", "page.rounds", "chart.load", "chart.diary", "sheet.",
                "book.look", "book.agreed", "book.reading.care")  # fmt: skip
    keys = [key for key in EN.keys() if key.startswith(families)]  # noqa: SIM118  not a dict
    assert len(keys) > 200
    texts = [text for key in keys for text in EN.forms(key)]
    assert not [(t, found) for t in texts if (found := forbidden(t))]


def test_the_stop_signs_say_the_emergency_first_and_on_a_line_of_its_own() -> None:
    first, second = tell_note(note(NoteCode.STOP_SIGNS), None, EN, "112").split("\n")
    assert first.startswith("This is an emergency, so call 112:")
    assert second.startswith("Stop and get medical help")
    for sign in ("chest pressure", "fainting", "headache", "blow to the head", "between the legs"):
        assert sign in first
    for sign in ("sharp", "night", "numbness", "locks or swells", "crack", "ribs", "fever"):
        assert sign in second


@pytest.mark.parametrize("code", NoteCode)
def test_every_note_has_a_short_name(code: NoteCode) -> None:
    assert 0 < len(EN.say(f"care.{code}.name").split()) <= 5


@pytest.mark.parametrize(
    ("area", "right", "left", "unknown"),
    [
        (Area.LEAD_WRIST, "left wrist", "right wrist", "wrist nearer the target"),
        (Area.TRAIL_WRIST, "right wrist", "left wrist", "wrist further from the target"),
        (Area.LEAD_KNEE, "left knee", "right knee", "knee nearer the target"),
        (Area.LOW_BACK, "lower back", "lower back", "lower back"),
    ],
)
def test_sides_are_told_for_the_hand(area: Area, right: str, left: str, unknown: str) -> None:
    told = [tell_area(area, hand, EN) for hand in (Hand.RIGHT, Hand.LEFT, None)]
    assert told == [right, left, unknown]


def test_no_side_is_called_lead_or_trail() -> None:
    for area in Area:
        for hand in HANDS:
            assert not {"lead", "trail"} & set(tell_area(area, hand, EN).split())


def test_one_area_is_it_and_several_are_them() -> None:
    one = replace(note(NoteCode.INTENT_MEETS_FLAG), facts=NoteFacts(areas=(Area.LEAD_KNEE,)))
    two = replace(
        note(NoteCode.INTENT_MEETS_FLAG), facts=NoteFacts(areas=(Area.LEAD_KNEE, Area.NECK))
    )
    assert "your left knee. This feel can ask a bit more of it." in tell_note(one, Hand.RIGHT, EN)
    assert "your left knee and neck. This feel can ask a bit more of them." in tell_note(
        two, Hand.RIGHT, EN
    )
    many = replace(note(NoteCode.FLAGGED_AREA), facts=NoteFacts(areas=tuple(Area)))
    assert "lower back, neck and other areas" in tell_note(many, Hand.LEFT, EN)


@pytest.mark.parametrize(
    "code", [NoteCode.STOP_SIGNS, NoteCode.HEAT, NoteCode.CONDITION_HEART], ids=str
)
def test_the_emergency_number_is_the_place_s_own(code: NoteCode) -> None:
    assert "call 112" in tell_note(note(code), None, EN, "112")
    assert "call your local emergency number" in tell_note(note(code), None, EN)


def test_speed_work_asks_first_only_at_that_level() -> None:
    asks = {level: "ask your doctor" in tell_note(note(NoteCode.SPEED_WORK, level), None, EN)
            for level in (Level.CARE, Level.ASK_FIRST)}  # fmt: skip
    assert asks == {Level.CARE: False, Level.ASK_FIRST: True}


def test_the_standing_advice_defers_to_clinicians_and_local_rules() -> None:
    advice = standing_advice(EN)
    assert "not medical advice" in advice
    assert "licensed health professional" in advice
    assert "rules of the range" in EN.say("care.always.rules")


@pytest.mark.parametrize("language", LANGUAGES)
def test_what_everybody_gets_is_one_line_that_holds_room_and_lightning(language: str) -> None:
    spoken = words(language)
    codes = (NoteCode.WARM_UP, NoteCode.SPACE, NoteCode.LIGHTNING, NoteCode.HEAT, NoteCode.SUN)
    line = tell_always([note(code) for code in codes], spoken)
    assert all(spoken.say(f"care.{code}.short") in line for code in codes)
    assert line.count(spoken.say("page.sentence", text="").strip()) == 1


def test_every_note_that_may_wait_in_the_book_has_a_reminder() -> None:
    waits = {code for code in NoteCode if code.startswith("CONDITION_")} | {
        NoteCode.PAIN_LOGGED,
        NoteCode.INTENT_MEETS_FLAG,
        NoteCode.SPEED_WORK,
        NoteCode.SESSION_STEP,
        NoteCode.WEEK_STEP,
        NoteCode.WEEK_VOLUME,
        NoteCode.NO_REST_DAY,
    }
    assert {code for code in NoteCode if EN.has(f"care.{code}.coach")} == waits
