"""Words that open a locked site: five of a list of 1,024 of our own, by chance or by the secret.

That is 50 bits. A guess costs 600,000 rounds of SHA-256, so that a graphics card which does ten
thousand guesses a second would need some 1,800 years for half of them.
"""

import re
import secrets
import unicodedata
from functools import cache
from pathlib import Path

DRAWN = 5
_BITS = 10  # of one of 1,024 words
_ONE_WORD = (1 << _BITS) - 1
FEWEST_OWN = 4
SHORTEST_OWN = 20  # signs, the dashes between words among them
_BETWEEN = re.compile(r"[\s\-\u2010-\u2015]+")


def words_of(drawn: bytes) -> str:
    """The words that the first bits of ``drawn`` stand for, in small letters, dashes between."""
    return "-".join(listed_words(drawn, DRAWN))


def listed_words(content: bytes, count: int) -> tuple[str, ...]:
    """One word for each ten bits of ``content``, from the first on."""
    bits, length = int.from_bytes(content, "big"), 8 * len(content)
    places = (bits >> (length - _BITS * (n + 1)) & _ONE_WORD for n in range(count))
    return tuple(word_list()[place] for place in places)


def draw_turn() -> str:
    """Two words by chance, for one of many locks that a secret gives."""
    return "-".join(secrets.choice(word_list()) for _ in range(2))


@cache
def word_list() -> tuple[str, ...]:
    """The words that are drawn from: short, plain, of no trade."""
    return tuple((Path(__file__).parent / "words.txt").read_text("ascii").split())


def as_typed(words: str) -> str:
    """``words`` as they are compared: capitals, blanks or dashes, and forms of signs are one.

    ``site_template/lock/unlock.js`` does the same with what a reader types.
    """
    plain = unicodedata.normalize("NFKC", words).lower()
    return _BETWEEN.sub("-", plain).strip("-")


def is_too_short(words: str) -> bool:
    """Whether a coach's own ``words`` are soon guessed."""
    plain = as_typed(words)
    return len(plain) < SHORTEST_OWN or len(set(plain.split("-"))) < FEWEST_OWN
