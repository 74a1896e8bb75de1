"""What is found out about a clip once is kept, and so is that its reader was lost on it."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

import msgspec

from recapgen.tools.apart import Loss, LostError
from recapgen.tools.cache import Cache, key_for
from recapgen.tools.media.recording import READER

T = TypeVar("T")

_FOUND = "found.json"
_LOST = "lost.json"


def remembered(cache: Cache, key: str, find_out: Callable[[], T], kind: type[T]) -> T:
    """What was found out once, kept as JSON; a loss comes back as ``tried`` gives it."""
    known = recalled(cache, key, kind)
    if known is not None:
        return known
    told = msgspec.json.encode(tried(cache, key, find_out)).decode()
    return _read(cache.find_or_make(key, lambda into: _write(into / _FOUND, told)), kind)


def recalled(cache: Cache, key: str, kind: type[T]) -> T | None:
    """What was found out before, if anything was."""
    found = cache.find(key)
    return None if found is None else _read(found, kind)


def _read(entry: Path, kind: type[T]) -> T:
    return msgspec.json.decode((entry / _FOUND).read_bytes(), type=kind)


def tried(cache: Cache, key: str, work: Callable[[], T]) -> T:
    """What ``work`` gives. Raises LostError; once lost, at once, without working on it again.

    ``key`` says what is worked on and by which recipe; another one is tried afresh, and so it is
    with another release of the reader. What took too long has a second try, since the machine
    may have been busy.
    """
    once, for_good = (key_for("lost; 1", READER, key, times) for times in (1, 2))
    if known := cache.find(for_good):
        raise LostError(Loss(json.loads((known / _LOST).read_bytes())))
    try:
        return work()
    except LostError as lost:
        if lost.loss is not Loss.KILLED:  # which says nothing of the file
            first_time = lost.loss is Loss.TIME and cache.find(once) is None
            told = json.dumps(lost.loss)
            cache.find_or_make(
                once if first_time else for_good, lambda into: _write(into / _LOST, told)
            )
        raise


def _write(path: Path, text: str) -> None:
    path.write_text(text, encoding="utf-8")
