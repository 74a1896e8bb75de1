"""Changes below a folder, found by names, sizes and times; only young files are read."""

import hashlib
import os
import stat
import time
from collections.abc import Iterator, Mapping
from pathlib import Path

from msgspec import Struct

from recapgen.tools.cache import sha256_of_file

SETTLED_NS = 2_000_000_000  # disks keep times as coarse as this


class Stamps(Struct, frozen=True):
    """Everything below a folder as the disk has it: names, rights, sizes and times, digested.

    ``young`` are the contents of files that had been changed so lately that another change might
    leave the same times.
    """

    digest: str
    young: Mapping[str, str]

    def still_hold(self, folder: Path, now: "Stamps | None" = None) -> bool:
        """Whether ``folder`` is unchanged; ``now`` are its stamps if they were already taken."""
        now = now or stamps_below(folder, ours=True)
        try:
            return (
                now is not None
                and now.digest == self.digest
                and all(sha256_of_file(folder / at) == was for at, was in self.young.items())
            )
        except OSError:
            return False


def stamps_below(folder: Path, without: str = "", *, ours: bool = False) -> Stamps | None:
    """What lies below ``folder``; one that is not there is an empty one.

    ``without`` is not looked at where it lies directly in ``folder``; in what is ``ours`` nobody
    else writes, so that nothing in it counts as young. None where nobody can say: something cannot
    be looked at, or a link leads to a folder elsewhere.
    """
    told, young = hashlib.blake2b(digest_size=16), {}
    trusted_to_ns = time.time_ns() - SETTLED_NS
    try:
        for path, state in _entries(os.fspath(folder), "", without):
            stamp = [state.st_mode, state.st_ino]
            if not stat.S_ISDIR(state.st_mode):
                times = state.st_mtime_ns, state.st_ctime_ns
                stamp += [state.st_size, *times]
                if not ours and max(times) > trusted_to_ns and stat.S_ISREG(state.st_mode):
                    young[path] = sha256_of_file(folder / path)
            told.update(f"{path!r} {stamp}\n".encode("utf-8", "surrogateescape"))
    except OSError:
        return None
    return Stamps(told.hexdigest(), young)


def _entries(folder: str, within: str, without: str = "") -> Iterator[tuple[str, os.stat_result]]:
    """Everything below ``folder`` in order: its path there, and what the disk says of it.

    Raises OSError, for a link that leads to a folder as well.
    """
    try:
        with os.scandir(folder) as scan:
            entries = sorted((each for each in scan if each.name != without), key=_name)
    except FileNotFoundError:
        return
    for entry in entries:
        path = f"{within}{entry.name}"
        yield path, entry.stat()
        if entry.is_dir():
            if entry.is_symlink():
                raise NotADirectoryError(path)
            yield from _entries(entry.path, f"{path}/")


def _name(entry: os.DirEntry[str]) -> str:
    return entry.name
