"""One run at a time in a folder."""

import os
import sys
from pathlib import Path
from typing import Self

from msgspec import Struct

if sys.platform == "win32":
    import msvcrt

    def _try(handle: int) -> bool:
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True
else:
    import fcntl

    def _try(handle: int) -> bool:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True


class Lock(Struct):
    """A lock the system takes back when its holder ends, however it ends: never stale."""

    _handle: int | None

    @classmethod
    def take(cls, file: Path) -> Self | None:
        """The lock on ``file``, or None where another run holds it. Raises OSError."""
        handle = os.open(file, os.O_RDWR | os.O_CREAT, 0o600)
        if not _try(handle):
            os.close(handle)
            return None
        return cls(handle)

    def release(self) -> None:
        """Let the next run in; doing it twice does no harm."""
        if self._handle is not None:
            os.close(self._handle)
            self._handle = None
