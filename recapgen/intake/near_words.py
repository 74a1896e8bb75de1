"""Did you mean: the nearest of the words that are known."""

from collections.abc import Iterable
from difflib import get_close_matches

_SHORT = 4  # of so few letters, two that changed places are a third of the word


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word most like ``word``, without regard to case; None where none is near.

    A word that is only begun ("temp") is near to the shortest that goes on from it.
    """
    by_fold = {k.casefold(): k for k in known}
    fold = word.casefold().strip()[:80]
    close = get_close_matches(fold, by_fold, n=1, cutoff=0.6 if len(fold) <= _SHORT else 0.7)
    if close:
        return by_fold[close[0]]
    longer = [k for k in by_fold if len(fold) >= _SHORT and k.startswith(fold)]
    return by_fold[min(longer, key=len)] if longer else None
