"""Looking after yourself: the shown notes, the quiet ones, when to stop."""

from collections.abc import Sequence

from msgspec import Struct

from recapgen.model.care import CareNote, Level, NoteCode
from recapgen.model.public import FRONT_PAGE
from recapgen.model.recap import Recap
from recapgen.render.reader import Reader
from recapgen.words.amounts import day
from recapgen.words.care_sentences import standing_advice, tell_always, tell_note, why_note

STOP_SIGNS = f"{FRONT_PAGE}#stop"  # where a page that has none of its own finds them
_ICONS = {
    NoteCode.WARM_UP: "clock",
    NoteCode.SPACE: "space",
    NoteCode.SUN: "sun",
    NoteCode.HEAT: "sun",
    NoteCode.LIGHTNING: "bolt",
}


class NoteView(Struct, frozen=True):
    """``icon`` names a drawing of ours; ``serious`` ones come first and are marked."""

    icon: str
    serious: bool
    text: str


class WhyView(Struct, frozen=True):
    name: str
    told: str


class CareView(Struct, frozen=True):
    """``notes`` are for this student and plan; ``always`` holds for everyone.

    ``line`` says the latter in one sentence, ``rules`` whose rules come first.

    ``coach`` is what the coach adds, ``adult`` what is said to the adult responsible for a junior,
    ``reviewed`` who read the notes through; the last two are empty where there is nothing.
    """

    notes: tuple[NoteView, ...]
    line: str
    always: tuple[NoteView, ...]
    rules: str
    stop_signs: tuple[str, ...]
    why: tuple[WhyView, ...]
    standing: str
    coach: tuple[str, ...]
    adult: str
    reviewed: str


def care_view(recap: Recap, reader: Reader) -> CareView:
    """A lesson's notes."""
    return care_beside(recap.care, recap.notes.care_words, reader)


def care_beside(
    notes: Sequence[CareNote], coach_lines: tuple[str, ...], reader: Reader
) -> CareView:
    """Only the shown notes, in the order given: the choice was made where they were found.

    ``coach_lines`` are what the coach adds.
    """
    shown = [note for note in notes if note.shown and note.code is not NoteCode.STOP_SIGNS]
    stop = [note for note in notes if note.shown and note.code is NoteCode.STOP_SIGNS]
    quiet = [note for note in shown if note.level is Level.INFO]
    return CareView(
        notes=tuple(_view(note, reader) for note in shown if note.level is not Level.INFO),
        line=tell_always(quiet, reader.words) if quiet else "",
        always=tuple(_view(note, reader) for note in quiet),
        rules=reader.words.say("care.always.rules"),
        stop_signs=tuple(line for note in stop for line in _told(note, reader).split("\n")),
        why=tuple(_why(note, reader) for note in (*shown, *stop)),
        standing=standing_advice(reader.words),
        coach=coach_lines,
        adult=reader.words.say("page.care.adult") if reader.junior else "",
        reviewed=_reviewed(reader),
    )


def _reviewed(reader: Reader) -> str:
    review = reader.coach.reviewed
    if review is None:
        return ""
    return reader.words.say(
        "page.care.reviewed",
        name=review.name,
        role=review.role,
        day=day(review.on, reader.words),
    )


def _view(note: CareNote, reader: Reader) -> NoteView:
    serious = note.level in (Level.CARE, Level.ASK_FIRST)
    icon = "caution" if serious else _ICONS.get(note.code, "leaf")
    return NoteView(icon, serious, _told(note, reader))


def _told(note: CareNote, reader: Reader) -> str:
    return tell_note(note, reader.hand, reader.words, reader.coach.emergency_number)


def _why(note: CareNote, reader: Reader) -> WhyView:
    why = why_note(note, reader.hand, reader.words)
    name = reader.words.say("page.sentence", text=why.name)
    return WhyView(name, reader.words.together((why.because, why.source)))
