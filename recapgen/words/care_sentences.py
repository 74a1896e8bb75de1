"""Sentences of safety notes: calm, short, and deferring to licensed practice."""

from collections.abc import Iterable, Iterator

from msgspec import Struct
from msgspec.structs import asdict

from recapgen.model.care import CareNote, Level, NoteCode
from recapgen.model.people import Area, Hand
from recapgen.words.amounts import day, number
from recapgen.words.catalogue import Words, key_of

_NAMED_AT_MOST = 3


class Why(Struct, frozen=True):
    """For the fold below a note: what made it fire, and what it rests on."""

    name: str
    because: str
    source: str


def tell_note(note: CareNote, hand: Hand | None, words: Words, emergency: str | None = None) -> str:
    """The note in the words of the page.

    ``emergency`` is the number the coach set for the place; without it the student is
    sent to "your local emergency number". Lead and trail become left and right for ``hand``,
    or are named by the target where the hand is not known.
    """
    key = f"care.{note.code}.text"
    if words.has(f"{key}.{note.level}"):
        key = f"{key}.{note.level}"
    if note.facts.general:
        key = f"care.{note.code}.text.general"
    places = _places(note, hand, words, emergency)
    if note.facts.areas:
        return words.count(key, len(note.facts.areas), **places)
    told = words.say(key, **places)
    if note.code is NoteCode.PAIN_LOGGED:
        return words.together((told, *_beside_pain(note, words, places)))
    return told


def why_note(note: CareNote, hand: Hand | None, words: Words) -> Why:
    """The trigger in a sentence, and the source; gives away no more than the note does."""
    places = _places(note, hand, words, None)
    general = ".general" if note.facts.general else ""
    return Why(
        name=words.say(f"care.{note.code}.name{general}"),
        because=words.say(f"care.{note.code}.because{general}", **places),
        source=words.say(f"care.{note.code}.source"),
    )


def remind_coach(note: CareNote, hand: Hand | None, words: Words) -> str:
    """A serious note in a few words for the coach's own book ("right wrist, and this feel")."""
    return words.say(f"care.{note.code}.coach", **_places(note, hand, words, None))


def standing_advice(words: Words) -> str:
    """What every page says below the notes.

    It is also how a student who did not agree to notes about body, age or health is told
    to ask a clinician first, without the page giving anything away.
    """
    return words.together(words.say(f"care.always.{part}") for part in ("general", "ask"))


def tell_always(notes: Iterable[CareNote], words: Words) -> str:
    """The notes that everybody gets, in one line."""
    things = words.listed(words.say(f"care.{note.code}.short") for note in notes)
    return words.say("care.always.line", things=things)


def tell_level(level: Level, words: Words) -> str:
    return words.say(f"care.level.{level}")


def tell_area(area: Area, hand: Hand | None, words: Words) -> str:
    """A part of the body, with its side as the student feels it ("left wrist")."""
    side, _, part = area.partition(" ")
    if side not in ("lead", "trail"):
        return words.say(f"care.area.{key_of(area.value)}")
    # A right-hander leads with the left side.
    sides = {
        Hand.RIGHT: {"lead": "left", "trail": "right"},
        Hand.LEFT: {"lead": "right", "trail": "left"},
    }
    if hand is not None:
        return words.say(f"care.area.{sides[hand][side]}-{part}")
    return words.say(f"care.side.{side}", part=words.say(f"care.area.{part}"))


def tell_part(area: Area, words: Words) -> str:
    """A part of the body without its side ("wrist")."""
    _, _, part = area.rpartition(" ")
    whole = f"care.area.{key_of(area.value)}"
    return words.say(whole if words.has(whole) else f"care.area.{part}")


def _beside_pain(note: CareNote, words: Words, places: dict[str, object]) -> Iterator[str]:
    """What this plan asks and what is usual; where it is the chest, whom to call and no more."""
    if note.facts.chest:
        yield words.say("care.PAIN_LOGGED.chest", **places)
        return
    if note.facts.balls_per_week is not None:
        yield words.count("care.PAIN_LOGGED.plan.week", note.facts.balls_per_week)
    elif note.facts.balls_per_session is not None:
        yield words.count("care.PAIN_LOGGED.plan.session", note.facts.balls_per_session)
    if note.facts.usual is not None:
        balls = number(note.facts.usual, 0, words)
        yield words.say("page.practice.usual-week", balls=balls)


def tell_chest(words: Words, emergency: str | None) -> str:
    """What to do at once about chest pain; ``emergency`` as for ``tell_note``."""
    return words.say("care.PAIN_LOGGED.chest", emergency=_whom_to_call(words, emergency))


def _whom_to_call(words: Words, emergency: str | None) -> str:
    return emergency or words.say("care.emergency.local")


def _places(
    note: CareNote, hand: Hand | None, words: Words, emergency: str | None
) -> dict[str, object]:
    facts = note.facts
    places: dict[str, object] = {
        name: fact for name, fact in asdict(facts).items() if fact is not None
    }
    places["emergency"] = _whom_to_call(words, emergency)
    if facts.areas:
        named = [tell_area(area, hand, words) for area in facts.areas]
        if len(named) > _NAMED_AT_MOST:
            named = [*named[: _NAMED_AT_MOST - 1], words.say("care.areas.more")]
        places["areas"] = words.enumerated(named)
    if facts.day is not None:
        told, where = day(facts.day, words), "care.PAIN_LOGGED.where"
        places["when"] = words.say(where, day=told, place=facts.place) if facts.place else told
    if facts.surface is not None:
        places["surface"] = words.say(f"care.surface.{key_of(facts.surface.value)}")
    return places
