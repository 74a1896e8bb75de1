"""Words that a language needs for itself, though people are named by them."""

import re
import unicodedata

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
    """Words that our own sentences write with a capital though no sentence begins, folded.

    In German these are the nouns: "Winkel" on a page need not be anybody's name.
    """
    keys = [key for key in words.keys() if not key.startswith((*_NEVER_ON_A_PAGE, "ordinary."))]  # noqa: SIM118  (a catalogue, not a mapping)
    return frozenset(
        _folded(word)
        for key in keys
        if not key.endswith(_CITES)
        for text in words.forms(key)
        for word in re.findall(r"(?<=[a-zäöüß}] )[A-ZÄÖÜ][^\W\d_]+", text)
    )


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
