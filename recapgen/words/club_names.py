"""Clubs by the names that a language gives them."""

from recapgen.words.catalogue import Words, key_of

_NUMBERED = frozenset({"wood", "hybrid", "iron", "deg wedge"})


def club_name(club: str, words: Words) -> str:
    """A club ("7 iron") as the reader says it; what is none of the bag stays as it was typed."""
    number, _, kind = club.partition(" ")
    if kind in _NUMBERED and number.replace(".", "", 1).isdigit():
        places = len(number.partition(".")[2])
        return words.say(f"club.{key_of(kind)}", n=words.figure(float(number), places))
    key = f"club.{key_of(club)}"
    return words.say(key) if words.has(key) else club
