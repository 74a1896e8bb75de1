"""What a killed run leaves behind; files of a live run are known by its process number."""

import os
import re
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from tempfile import TemporaryDirectory

_FOLDER = re.compile(r"recapgen-(\d+)-\w+")
_HALF = ".tmp"
_FILE = re.compile(rf"\..+\.(\d+)-\w+\{_HALF}")


@contextmanager
def temporary_folder() -> Iterator[Path]:
    """A folder for as long as it is needed, which the next run finds if this one is killed."""
    with TemporaryDirectory(prefix=f"recapgen-{os.getpid()}-") as folder:
        yield Path(folder)


def half_written(path: Path) -> tuple[int, str]:
    """A file beside ``path`` to write it in, open, and its name. Raises OSError."""
    return tempfile.mkstemp(prefix=f".{path.name}.{os.getpid()}-", suffix=_HALF, dir=path.parent)


def clear_temporary() -> None:
    """Remove the temporary folders of this user's runs that are no more."""
    for folder in Path(tempfile.gettempdir()).glob("recapgen-*"):
        if _left(folder, _FOLDER) and folder.is_dir() and not folder.is_symlink():
            shutil.rmtree(folder, ignore_errors=True)


def clear_half_written(root: Path) -> None:
    """Remove what was being written below ``root`` by runs that are no more."""
    for path in _called_half(os.fspath(root)):
        if _left(path, _FILE):
            with suppress(OSError):
                path.unlink()


def _called_half(folder: str) -> Iterator[Path]:
    try:
        with os.scandir(folder) as scan:
            entries = list(scan)
    except OSError:
        return
    for entry in entries:
        if entry.name.endswith(_HALF):
            yield Path(entry.path)
        elif entry.is_dir(follow_symlinks=False):
            yield from _called_half(entry.path)


def _left(path: Path, named: re.Pattern[str]) -> bool:
    """Whether it is so named, this user's own, and the process that made it has ended."""
    match = named.fullmatch(path.name)
    if match is None or os.name != "posix":  # elsewhere nobody can be asked without harm
        return False
    try:
        return path.lstat().st_uid == os.getuid() and not _runs(int(match[1]))
    except OSError:
        return False


def _runs(number: int) -> bool:
    try:
        os.kill(number, 0)
    except ProcessLookupError:
        return False
    except (OSError, OverflowError):
        return True
    return True
