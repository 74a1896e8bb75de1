"""Zips that don't tell when they were made: the same content is the same to the last byte."""

import os
import shutil
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from recapgen.tools.leftovers import half_written

_ONE_TIME = (1980, 1, 1, 0, 0, 0)  # the first that a zip can tell
_RIGHTS = 0o644 << 16
_COACH_ALONE = 0o600


def write_zip(file: Path, held: Iterable[tuple[str, Path | bytes]]) -> None:
    """Write ``file``, whole or not at all: paths with the file or the bytes to put there.

    Raises OSError; what was there before is then untouched.
    """
    handle, name = half_written(file)
    making = Path(name)
    try:
        with os.fdopen(handle, "wb") as written, ZipFile(written, "w", ZIP_DEFLATED) as packed:
            for path, content in held:
                if isinstance(content, bytes):
                    packed.writestr(_entry(path), content)
                    continue
                with content.open("rb") as read, packed.open(_entry(path), "w") as entry:
                    shutil.copyfileobj(read, entry)
        making.chmod(_COACH_ALONE)
        making.replace(file)
    except BaseException:
        with suppress(OSError):
            making.unlink()
        raise


def _entry(path: str) -> ZipInfo:
    entry = ZipInfo(path, _ONE_TIME)
    entry.create_system = 3  # the rights below are those of Unix, wherever it is written
    entry.compress_type, entry.external_attr = ZIP_DEFLATED, _RIGHTS
    return entry
