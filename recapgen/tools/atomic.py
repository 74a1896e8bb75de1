"""Files that are either the old one or the new one, whatever happens in between."""

import os
from contextlib import suppress
from pathlib import Path

from recapgen.tools.leftovers import half_written


def write_bytes(path: Path, content: bytes, mode: int = 0o644) -> None:
    """Put ``content`` at ``path``: a temporary file beside it, forced to disk, then renamed.

    The file ends with the permissions ``mode``, less what the user's umask takes away.
    Raises OSError; the old file is then untouched and nothing is left beside it.
    """
    handle, name = half_written(path)
    temporary = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        temporary.chmod(mode & ~_umask())
        temporary.replace(path)
    except BaseException:
        with suppress(OSError):
            temporary.unlink()
        raise
    sync_folder(path.parent)


def write_new(path: Path, content: bytes) -> None:
    """Put ``content`` where nothing is yet, whole or not at all, for this user alone.

    Raises FileExistsError where something is, OSError.
    """
    handle, name = half_written(path)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        _link(Path(name), path)
    finally:
        Path(name).unlink(missing_ok=True)
    sync_folder(path.parent)


def _link(new: Path, path: Path) -> None:
    """Give ``new`` the name ``path`` as well, which nothing may have; some disks rename it."""
    try:
        path.hardlink_to(new)
    except OSError:
        if os.path.lexists(path):
            raise FileExistsError(str(path)) from None
        new.rename(path)


def write_text(path: Path, text: str, mode: int = 0o644) -> None:
    """``write_bytes`` for UTF-8 text, line ends as given."""
    write_bytes(path, text.encode(), mode)


def sync_folder(folder: Path) -> None:
    """Force a rename inside ``folder`` to disk, where the system can."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        with suppress(OSError):  # some network disks refuse; the rename itself still stands
            os.fsync(handle)
    finally:
        os.close(handle)


def _umask() -> int:
    """The umask; it can only be read by setting it."""
    current = os.umask(0o022)
    os.umask(current)
    return current
