"""A secret as words on paper: 27 of our list, which hold its 256 bits and 14 to check them by.

The check is the beginning of the secret's SHA-256 and fills the last word and a half: of slips
with a wrong word one in 16,000 would pass. Of a lock that was made anew, a line says which it is.
"""

import hashlib
import re
import unicodedata
from difflib import get_close_matches

from msgspec import Struct

from recapgen.locking.locks import FIRST, Turns
from recapgen.locking.passphrases import listed_words, word_list

SECRET_WORDS = 27
_SECRET_BYTES = 32
_CHECK_BITS = 14
_FIRST = "first"
_BETWEEN = " / "


class SlipDoubt(Struct, frozen=True):
    """Why a slip is not taken: ``count`` words are too many or few, or else its ``unknown`` ones.

    Each of those with its place from 1 on and the likeliest word of the list, "" if there is none.
    With neither, some word is another than was written down.
    """

    count: int
    unknown: tuple[tuple[int, str, str], ...]


def secret_words(secret: bytes) -> tuple[str, ...]:
    """The words that stand for a ``secret`` of 32 bytes."""
    return listed_words(secret + hashlib.sha256(secret).digest()[:2], SECRET_WORDS)


def read_secret_words(typed: str) -> bytes | SlipDoubt:
    """The secret of the words ``typed`` in order, whatever numbers and signs stand between them."""
    words = re.findall(r"[^\W\d_]+", unicodedata.normalize("NFKC", typed).lower())
    places = {word: place for place, word in enumerate(word_list())}
    unknown = tuple(
        (number, word, next(iter(get_close_matches(word, places, 1)), ""))
        for number, word in enumerate(words, 1)
        if word not in places
    )
    if unknown or len(words) != SECRET_WORDS:
        return SlipDoubt(len(words), unknown)
    bits = 0
    for word in words:
        bits = bits << 10 | places[word]
    secret = (bits >> _CHECK_BITS).to_bytes(_SECRET_BYTES, "big")
    return secret if secret_words(secret) == tuple(words) else SlipDoubt(len(words), ())


def lock_line(folder: str, turns: Turns) -> str | None:
    """The line for a lock that is not the first of its site; None where the secret is enough."""
    if turns == FIRST:
        return None
    parts = (turns.key or _FIRST, turns.words or _FIRST)
    return f"{folder}: {_BETWEEN.join((*parts, _check(folder, *parts)))}"


def read_lock_line(line: str) -> tuple[str, Turns] | None:
    """The folder and its lock; None where the line is not, to the last sign, what was printed."""
    folder, colon, rest = line.strip().rpartition(": ")
    parts = [" ".join(part.split()) for part in rest.lower().split(_BETWEEN.strip())]
    if not colon or len(parts) != 3 or parts[2] != _check(folder, parts[0], parts[1]):  # noqa: PLR2004
        return None
    key, words = ("" if part == _FIRST else part for part in parts[:2])
    return folder, Turns(key, words)


def _check(*parts: str) -> str:
    return listed_words(hashlib.sha256("\n".join(parts).encode()).digest(), 1)[0]
