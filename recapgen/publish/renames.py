"""Folders that were called otherwise at the last build, known again by what lies in them."""

import hashlib
from collections import Counter
from collections.abc import Iterable, Mapping
from pathlib import PurePosixPath

from recapgen.publish.build_state import Seen

_SAYS_NOTHING = frozenset({"", hashlib.sha256(b"").hexdigest()})


def renamed(
    before: Mapping[str, Seen], now: Mapping[str, Seen], within: str = ""
) -> dict[str, str]:
    """Old names to new ones of the folders directly in ``within``, a path below the lessons.

    One is gone and one has come, and the one that has come holds more than half of the files
    of the other, each the same to the last byte (SHA-256), wherever in it they lie. Where two
    fit alike nobody knows which it was.
    """
    if not (_folders(before, within) ^ _folders(now, within)):
        return {}
    old, new = _contents(before, within), _contents(now, within)
    found: dict[str, str] = {}
    for gone in sorted(old.keys() - new.keys()):
        shared = Counter(
            {
                come: (old[gone] & new[come]).total()
                for come in sorted(new.keys() - old.keys() - set(found.values()))
            }
        )
        best = shared.most_common(2)
        if best and best[0][1] * 2 > old[gone].total() and not _tied(best):
            found[gone] = best[0][0]
    return found


def _folders(seen: Mapping[str, Seen], within: str) -> set[str]:
    """The names of the folders directly in ``within``."""
    start = f"{within}/" if within else ""
    rest = (path[len(start) :] for path in seen if path.startswith(start))
    return {path.partition("/")[0] for path in rest if "/" in path}


def _tied(best: list[tuple[str, int]]) -> bool:
    return len({count for _, count in best}) < len(best)


def _contents(seen: Mapping[str, Seen], within: str) -> dict[str, Counter[str]]:
    """What each folder directly in ``within`` holds, by content."""
    start = len(PurePosixPath(within).parts)
    held: dict[str, Counter[str]] = {}
    for path, content in _says_something(seen):
        parts = PurePosixPath(path).parts
        if len(parts) > start + 1 and PurePosixPath(*parts[:start]) == PurePosixPath(within):
            held.setdefault(parts[start], Counter())[content] += 1
    return held


def _says_something(seen: Mapping[str, Seen]) -> Iterable[tuple[str, str]]:
    return ((p, s.digest) for p, s in seen.items() if s.digest not in _SAYS_NOTHING)
