"""Safety notes of a question between lessons: none, but where somebody speaks of pain."""

from recapgen.care.areas import is_chest
from recapgen.model.between_lessons import QuestionWords
from recapgen.model.care import CareNote, Level, NoteCode, NoteFacts


def care_for_question(words: QuestionWords) -> tuple[CareNote, ...]:
    """What holds for anybody in pain, and when to stop; words that could stand on any page."""
    if not words.pain:
        return ()
    facts = NoteFacts(general=True, chest=is_chest(f"{words.asked} {words.answer}"))
    told = "words of pain in a question"
    return (
        CareNote(NoteCode.PAIN_LOGGED, Level.CARE, facts, told, body=False, shown=True),
        CareNote(NoteCode.STOP_SIGNS, Level.INFO, NoteFacts(), told, body=False, shown=True),
    )
