"""Words that a language needs for itself, though people are named by them."""

import re
import unicodedata
from importlib.resources import files

from recapgen.words.catalogue import Words

_NEVER_ON_A_PAGE = ("problem.", "cli.", "console.")
_CITES = ".source"


def ordinary_words(words: Words) -> frozenset[str]:
    """Ordinary words that are also names, and every word of our own pages.

    Folded: no case, no accents. Authors, cited in a source with a capital, stay out.
    """
    keys = [key for key in words.keys() if not key.startswith(_NEVER_ON_A_PAGE)]  # noqa: SIM118  (a catalogue, not a mapping)
    return frozenset(
        _folded(word)
        for key in keys
        for text in words.forms(key)
        for word in re.findall(r"[^\W_]+", re.sub(r"\{[^}]*\}", " ", text))
        if word == word.lower() or not key.endswith(_CITES)
    )


def capital_words(words: Words) -> frozenset[str]:
    """Words written with a capital though no sentence begins, by us or as the lists say, folded.

    In German these are the nouns: "Winkel" on a page need not be anybody's name.
    """
    keys = [key for key in words.keys() if not key.startswith((*_NEVER_ON_A_PAGE, "ordinary."))]  # noqa: SIM118  (a catalogue, not a mapping)
    ours = (
        word
        for key in keys
        if not key.endswith(_CITES)
        for text in words.forms(key)
        for word in re.findall(r"(?<=[a-zäöüß}] )[A-ZÄÖÜ][^\W\d_]+", text)
    )
    listed = (*words.say("ordinary.names").split(), *_kept(words, "common_words.txt"))
    return frozenset(map(_folded, (*ours, *(word for word in listed if word[0].isupper()))))


def _kept(words: Words, name: str) -> list[str]:
    file = files("recapgen.words").joinpath(words.language, name)
    return file.read_text("utf-8").split() if file.is_file() else []


def common_words(words: Words) -> frozenset[str]:
    """Everyday words of the language that a coach may write and people are named by, folded.

    Drawn from a list by how often films say them in small letters, less what is hardly ever
    more than a name; elsewhere than in English those alone that people are named by.
    """
    return frozenset(map(_folded, _kept(words, "common_words.txt")))


def seldom_words(words: Words) -> frozenset[str]:
    """Words of the language that are known but hardly said, folded."""
    return frozenset(map(_folded, _kept(words, "seldom_words.txt")))


def source_sentences(words: Words) -> tuple[str, ...]:
    """The sentences of our own pages that cite somebody by name."""
    keys = [key for key in words.keys() if key.endswith(_CITES)]  # noqa: SIM118  (a catalogue, not a mapping)
    return tuple(text for key in keys for text in words.forms(key))


def calendar_words(words: Words) -> frozenset[str]:
    """The months and the days of the week, long and short, folded."""
    forms = [
        forms
        for named in (words.locale.months, words.locale.days)
        for context in ("format", "stand-alone")
        for width in ("wide", "abbreviated")
        for forms in named[context][width].values()
    ]
    return frozenset(_folded(form.strip(".")) for form in forms)


def _folded(word: str) -> str:
    parts = unicodedata.normalize("NFKD", word.casefold())
    return "".join(sign for sign in parts if not unicodedata.combining(sign))
