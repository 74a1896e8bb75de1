"""The files below a folder, as far as this user may read."""

import os
import stat
from collections.abc import Iterator
from pathlib import Path


def files_below(folder: Path) -> Iterator[Path]:
    """Every plain visible file below ``folder``, in order.

    Without broken links, pipes, what is hidden, and folders that may not be read.
    """
    yield from (folder / path for path, _ in plain_below(folder))


def plain_below(folder: Path) -> Iterator[tuple[str, os.stat_result]]:
    """The same files: path below ``folder``, and what the disk says of it."""
    return _plain_below(os.fspath(folder), "")


def _plain_below(folder: str, within: str) -> Iterator[tuple[str, os.stat_result]]:
    try:
        with os.scandir(folder) as scan:
            entries = sorted((e for e in scan if not e.name.startswith(".")), key=_name)
    except OSError:
        return
    below = []
    for entry in entries:
        try:
            if entry.is_dir():
                below.append(entry)
                continue
            state = entry.stat()
        except OSError:
            continue
        if stat.S_ISREG(state.st_mode):
            yield f"{within}{entry.name}", state
    for entry in below:
        if not entry.is_symlink():
            yield from _plain_below(entry.path, f"{within}{entry.name}/")


def _name(entry: os.DirEntry[str]) -> str:
    return entry.name


def sizes_below(folder: Path) -> Iterator[tuple[str, int]]:
    """Every file below ``folder``, hidden or not, by path in order, with its size in bytes.

    Nothing where there is no such folder. Raises OSError where a file is gone meanwhile.
    """
    found: list[tuple[str, int]] = []
    if folder.is_dir():
        _add_sizes(os.fspath(folder), "", found)
    yield from sorted(found)


def _add_sizes(folder: str, within: str, found: list[tuple[str, int]]) -> None:
    with os.scandir(folder) as scan:
        for entry in scan:
            path = f"{within}{entry.name}"
            if not entry.is_dir():
                found.append((path, entry.stat().st_size))
            elif not entry.is_symlink():
                _add_sizes(entry.path, f"{path}/", found)


def is_plain(file: Path) -> bool:
    """Whether ``file`` is a regular file; False where that cannot be asked."""
    try:
        return file.is_file()
    except OSError:
        return False
