"""Files moved whole: at every moment each is where it was, or where it belongs, or both."""

import filecmp
from collections.abc import Iterator
from itertools import count
from pathlib import Path

from recapgen.tools.atomic import copy_new, move_new


def bring_into(
    folder: Path, source: Path, *, name: str | None = None, keep: bool = False
) -> Path | None:
    """Move the file ``source`` into ``folder``, which exists, or copy it to ``keep`` it.

    Gives where it is. Nothing is overwritten: the same file there, as an interrupted move leaves
    it, ends the move, and another of its name gets it a number ("shots 2.csv"). With ``name`` it
    is called that or stays where it is (None). Raises OSError.
    """
    for wanted in (name,) if name else _names(source):
        place = folder / wanted
        try:
            (copy_new if keep else move_new)(source, place)
        except FileExistsError:
            if place.is_symlink() or not place.is_file():
                continue
            if place.samefile(source) or filecmp.cmp(source, place, shallow=False):
                if not keep:
                    source.unlink()
                return place
        else:
            return place
    return None


def _names(source: Path) -> Iterator[str]:
    yield source.name
    yield from (f"{source.stem} {n}{source.suffix}" for n in count(2))
