"""Words that open a locked site: five, drawn at random from a list of 1,024 of our own.

That is 50 bits. A guess costs 600,000 rounds of SHA-256, so that a graphics card which does ten
thousand guesses a second would need some 1,800 years for half of them.
"""

import re
import secrets
import unicodedata
from functools import cache
from pathlib import Path

DRAWN = 5
FEWEST_OWN = 4
SHORTEST_OWN = 20  # signs, the dashes between words among them
_BETWEEN = re.compile(r"[\s\-\u2010-\u2015]+")


def draw_words() -> str:
    """New words, in small letters with dashes between."""
    return "-".join(secrets.choice(word_list()) for _ in range(DRAWN))


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
