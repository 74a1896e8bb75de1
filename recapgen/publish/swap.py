"""Finished folders put in place of the old ones, in one step that cannot be seen half done.

Every work in progress is a folder of its own in staging: ``new`` is built and checked there,
``goal`` says where it belongs and is written only when ``new`` is complete. Linux exchanges two
folders in one step; elsewhere the old one is renamed to ``old`` and the new one put in its
place, and a run killed between the two is finished by ``recover``.
"""

import ctypes
import errno
import os
import shutil
import sys
import tempfile
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from pathlib import Path

from recapgen.model.public import FRONT_PAGE
from recapgen.tools.atomic import sync_folder, write_text

_FLUSHED_AT_ONCE = 16
_EXCHANGE = 2  # RENAME_EXCHANGE of renameat2(2)
_HERE = -100  # AT_FDCWD
_CANNOT = frozenset({errno.EINVAL, errno.ENOSYS, errno.ENOTSUP, errno.EPERM})


def stage(staging: Path) -> Path:
    """An empty folder to build in; hand it to ``put`` or ``drop``."""
    new = Path(tempfile.mkdtemp(dir=staging)) / "new"
    new.mkdir()
    return new


def put(new: Path, goal: Path, root: Path) -> None:
    """Make the staged folder ``new`` the folder ``goal``, which lies below ``root``.

    A reader of ``goal`` sees the old folder or the new one, never both. Raises OSError; ``goal``
    is then what it was.
    """
    work = new.parent
    goal.parent.mkdir(parents=True, exist_ok=True)
    _flush(new)
    write_text(work / "goal", goal.relative_to(root).as_posix())
    if not os.path.lexists(goal):
        new.rename(goal)
    elif not _exchange(new, goal):
        _rename_twice(new, goal, work / "old")
    sync_folder(goal.parent)
    shutil.rmtree(work)


def put_among(new: Path, folder: Path, root: Path) -> None:
    """Put each thing in the staged folder ``new`` into ``folder``, which holds others as well.

    Folders first, then files, the page that leads to them last.
    """
    staging = new.parent.parent
    things = sorted(new.iterdir(), key=lambda thing: (thing.is_file(), thing.name == FRONT_PAGE))
    for thing in things:
        if thing.is_file():
            put_file(thing, folder / thing.name)
        else:
            alone = Path(tempfile.mkdtemp(dir=staging)) / "new"
            thing.rename(alone)
            put(alone, folder / thing.name, root)
    drop(new)


def put_file(new: Path, goal: Path) -> None:
    """Put one staged file in place; the rename of a file is one step everywhere."""
    _flush_file(new)
    new.replace(goal)
    sync_folder(goal.parent)


def take_down(goal: Path, staging: Path) -> None:
    """Make a folder or file disappear in one step, then delete what it held."""
    work = Path(tempfile.mkdtemp(dir=staging))
    with suppress(FileNotFoundError):
        goal.rename(work / "gone")
        sync_folder(goal.parent)
    shutil.rmtree(work)


def drop(new: Path) -> None:
    """Give up a staged folder."""
    shutil.rmtree(new.parent)


def recover(staging: Path, root: Path) -> None:
    """Put right what a killed run left: finish or undo its last swap, clear its staging."""
    for work in sorted(staging.iterdir()):
        if not work.is_dir() or work.is_symlink():
            work.unlink()  # what a file manager left there
            continue
        if (work / "goal").is_file():
            goal = root / (work / "goal").read_text("utf-8")
            left = next((f for f in (work / "new", work / "old") if f.is_dir()), None)
            interrupted = (work / "old").is_dir() and not os.path.lexists(goal)
            if interrupted and left is not None:
                left.rename(goal)
        shutil.rmtree(work)


def _exchange(new: Path, goal: Path) -> bool:
    """Exchange two folders in one step; False where this system or disk cannot."""
    if sys.platform != "linux":
        return False
    call = getattr(ctypes.CDLL(None, use_errno=True), "renameat2", None)
    if call is None:
        return False
    if call(_HERE, os.fsencode(new), _HERE, os.fsencode(goal), _EXCHANGE) == 0:
        return True
    number = ctypes.get_errno()
    if number in _CANNOT:
        return False
    raise OSError(number, os.strerror(number), str(new), None, str(goal))


def _rename_twice(new: Path, goal: Path, old: Path) -> None:
    goal.rename(old)
    try:
        new.rename(goal)
    except OSError:
        old.rename(goal)
        raise


def _flush(folder: Path) -> None:
    """Force every file of ``folder`` to disk, so that no power cut leaves pages of zeros.

    A file with another link to it was flushed under that name. Many at once: a disk writes twenty
    files together in a fraction of the time of one by one.
    """
    with ThreadPoolExecutor(_FLUSHED_AT_ONCE) as pool:
        list(pool.map(_flush_file, _new_files(folder)))


def _new_files(folder: Path) -> list[Path]:
    found = []
    for place, _, names in os.walk(folder):
        for name in names:
            file = os.path.join(place, name)  # noqa: PTH118  thousands of them
            if os.stat(file).st_nlink == 1:  # noqa: PTH116  the same
                found.append(Path(file))
    return found


def _flush_file(file: Path) -> None:
    with file.open("rb+") as open_file:  # Windows flushes only what may be written
        os.fsync(open_file.fileno())
