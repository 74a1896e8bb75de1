"""What lies below a folder, as far as this computer lets anybody look."""

import os
from collections.abc import Iterator
from pathlib import Path


def files_below(folder: Path) -> Iterator[Path]:
    """Every plain file below ``folder``, in order; what is hidden, and what is in it, is not.

    A link that leads nowhere has nothing in it, a pipe never ends, and a folder that may not
    be read has no files for anybody.
    """
    for place, folders, names in os.walk(folder):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        for name in sorted(names):
            file = Path(place) / name
            if not name.startswith(".") and is_plain(file):
                yield file


def sizes_below(folder: Path) -> Iterator[tuple[str, int]]:
    """Every file below ``folder``, hidden or not, by path in order, with its size in bytes.

    Raises OSError where a file is gone meanwhile.
    """
    found = {}
    for place, _, names in os.walk(folder):
        within = os.path.relpath(place, folder)
        for name in names:
            state = os.stat(os.path.join(place, name))  # noqa: PTH118, PTH116  thousands of them
            path = name if within == os.curdir else f"{within}/{name}"
            found[path.replace(os.sep, "/")] = state.st_size
    yield from sorted(found.items())


def is_plain(file: Path) -> bool:
    """Whether there is a file, and no pipe, device or folder; False where nobody may ask."""
    try:
        return file.is_file()
    except OSError:
        return False
