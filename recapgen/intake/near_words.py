"""Did you mean: the nearest of the words that are known."""

from collections.abc import Iterable
from difflib import get_close_matches

_SHORTEST = 3


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word most like ``word``, without regard to case; None where none is near."""
    by_fold = {k.casefold(): k for k in known}
    fold = word.casefold().strip()
    close = get_close_matches(fold[:80], by_fold, n=1, cutoff=0.7)
    if close:
        return by_fold[close[0]]
    longer = [
        k for k in by_fold if len(fold) >= _SHORTEST and (k.startswith(fold) or fold.startswith(k))
    ]
    return by_fold[min(longer, key=len)] if longer else None
