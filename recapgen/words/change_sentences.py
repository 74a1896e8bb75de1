"""Whose pages were put up, changed or came down."""

from recapgen.model.public import CASES, PublicChange
from recapgen.words.catalogue import Words


def told_whose(change: PublicChange, words: Words) -> str:
    """The student's name, or in words what the folder is."""
    if change.folder == CASES:
        return words.say("public.cases")
    return change.name or words.say("public.nobody-known")
