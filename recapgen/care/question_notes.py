"""Safety notes of a question between lessons: none, but where somebody speaks of pain."""

from recapgen.care.areas import is_chest
from recapgen.model.between_lessons import QuestionWords
from recapgen.model.care import CareNote, Level, NoteCode, NoteFact


def care_for_question(words: QuestionWords) -> tuple[CareNote, ...]:
    """What holds for anybody in pain, and when to stop; words that could stand on any page."""
    if not words.pain:
        return ()
    facts: dict[str, NoteFact] = {"general": 1}
    if is_chest(f"{words.asked} {words.answer}"):
        facts["chest"] = 1
    told = "words of pain in a question"
    return (
        CareNote(NoteCode.PAIN_LOGGED, Level.CARE, facts, told, body=False, shown=True),
        CareNote(NoteCode.STOP_SIGNS, Level.INFO, {}, told, body=False, shown=True),
    )
