"""Whether the files below a folder have come to rest, and are other than they were."""

import hashlib
import os
from pathlib import Path

from msgspec import Struct

from recapgen.tools.stamps import SETTLED_NS
from recapgen.tools.walking import plain_below

QUIET_S = SETTLED_NS / 1e9  # the next change has other times then, however coarse a disk keeps them


def look_at(folder: Path) -> str:
    """Every plain file below ``folder`` by name, size and times, digested; none is opened.

    Whatever cannot be looked at is not there, and neither is what is hidden.
    """
    told = hashlib.blake2b(str(folder.is_dir()).encode(), digest_size=16)
    for path, state in plain_below(folder):
        stamp = state.st_ino, state.st_mode, state.st_size, state.st_mtime_ns, state.st_ctime_ns
        told.update(os.fsencode(path) + f"\0{stamp}\n".encode())
    return told.hexdigest()


class Settling(Struct):
    """Tells when what was seen has stayed the same for ``QUIET_S`` seconds."""

    _seen: object = None
    _since_s: float = 0.0

    def settled(self, seen: object, now_s: float) -> bool:
        """Whether everything has looked as ``seen`` for two seconds; to be asked at every look."""
        if seen != self._seen:
            self._seen, self._since_s = seen, now_s
        return now_s - self._since_s >= QUIET_S
