"""What stands in notes that were begun for the coach, beside their lines."""

from recapgen.model.notes_line import Said
from recapgen.words.catalogue import Words


def remark(said: Said, words: Words) -> str:
    return words.say(f"begun.{said.remark.value}", **said.facts)
