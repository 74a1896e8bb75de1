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


def is_plain(file: Path) -> bool:
    """Whether there is a file, and no pipe, device or folder; False where nobody may ask."""
    try:
        return file.is_file()
    except OSError:
        return False
