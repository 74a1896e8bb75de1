"""Files that are either the old one or the new one, whatever happens in between."""

import errno
import os
import shutil
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


def write_new(path: Path, content: bytes, mode: int | None = None) -> None:
    """Put ``content`` where nothing is yet, whole or not at all.

    For this user alone, or with the permissions ``mode``, less what the umask takes away.
    Raises FileExistsError where something is, OSError.
    """
    handle, name = half_written(path)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        if mode is not None:
            Path(name).chmod(mode & ~_umask())
        _link(Path(name), path)
    finally:
        Path(name).unlink(missing_ok=True)
    sync_folder(path.parent)


def move_new(source: Path, path: Path) -> None:
    """Move a file to where nothing is yet; at no moment is it in neither place, or half in one.

    On another disk it is copied whole first. Raises FileExistsError where something is, OSError.
    """
    try:
        path.hardlink_to(source)
    except FileExistsError:
        raise
    except OSError as fault:
        if os.path.lexists(path):
            raise FileExistsError(str(path)) from None
        if fault.errno != errno.EXDEV:  # a disk on which a file has one name
            source.rename(path)
            sync_folder(path.parent)
            return
        copy_new(source, path)
    sync_folder(path.parent)
    source.unlink()
    sync_folder(source.parent)


def copy_new(source: Path, path: Path) -> None:
    """Put a copy of a file where nothing is yet, whole, with its times; raises as ``write_new``."""
    handle, name = half_written(path)
    try:
        with os.fdopen(handle, "wb") as copy, source.open("rb") as file:
            shutil.copyfileobj(file, copy)
            copy.flush()
            os.fsync(copy.fileno())
        shutil.copystat(source, name)
        _link(Path(name), path)
    finally:
        Path(name).unlink(missing_ok=True)


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
