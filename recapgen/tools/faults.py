"""An uncaught fault as a file to send: where in the program it was, and nothing of the lessons."""

import platform
import sys
import tempfile
import traceback
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from recapgen import __version__
from recapgen.tools.atomic import write_text

FILE = "fault.txt"
_ROOTS = ("site-packages", "recapgen", f"python{sys.version_info[0]}.{sys.version_info[1]}")


class UncaughtError(Exception):
    """A bug met while ``folder`` was being worked in; the bug itself is the cause."""

    def __init__(self, folder: Path) -> None:
        super().__init__(str(folder))
        self.folder = folder


def keep_report(fault: BaseException, after: Path | None = None) -> Path:
    """Write what is known of ``fault`` where only the coach reads it; the file.

    Beside the output where one was being written, else among the temporary files, with what was
    kept ``after`` another fault of the same run. Raises OSError.
    """
    folder = fault.folder if isinstance(fault, UncaughtError) else None
    text = (after.read_text("utf-8") + "\n" if after else "") + "\n".join(_lines(fault)) + "\n"
    if folder is not None:
        with suppress(OSError):
            write_text(folder / FILE, text, mode=0o600)
            return folder / FILE
    handle, name = tempfile.mkstemp(prefix="recapgen-fault-", suffix=".txt")
    with open(handle, "w", encoding="utf-8") as file:  # noqa: PTH123 - a handle, not a path
        file.write(text)
    return Path(name)


def _lines(fault: BaseException) -> Iterator[str]:
    """The kinds of the faults and the places in the program; what they say may be private."""
    yield f"recapgen {__version__}, Python {platform.python_version()}, {platform.system()}"
    met: BaseException | None = fault
    while met is not None:
        if not isinstance(met, UncaughtError):
            yield type(met).__name__
            yield from _places(met)
        met = met.__cause__ or met.__context__


def _places(fault: BaseException) -> Iterator[str]:
    for frame in traceback.extract_tb(fault.__traceback__):
        yield f"  {_module(frame.filename)}:{frame.lineno} {frame.name}: {frame.line}"


def _module(filename: str) -> str:
    """A file of the program without the folders of this computer."""
    parts = Path(filename).parts
    known = [at for at, part in enumerate(parts) if part in _ROOTS]
    return "/".join(parts[known[-1] :] if known else parts[-1:])
