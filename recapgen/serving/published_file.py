"""A published file, opened once, so that a build that replaces it cannot mix old and new bytes."""

import os
import re
import stat
from collections.abc import Sequence
from mimetypes import MimeTypes
from pathlib import Path
from typing import BinaryIO

from msgspec import Struct

from recapgen.model.public import FRONT_PAGE

_TYPES = MimeTypes()  # Python's own list; that of the system differs from computer to computer
for _ending, _kind in {
    ".ics": "text/calendar",
    ".js": "text/javascript",
    ".md": "text/markdown",
    ".webmanifest": "application/manifest+json",
    ".webp": "image/webp",
    ".woff2": "font/woff2",
}.items():
    _TYPES.add_type(_kind, _ending)
_NEITHER_LINK_NOR_PIPE = (
    getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
)
_IN_LETTERS = ("text/", "application/json", "application/manifest+json")
_WISH = re.compile(r"bytes=(\d{0,18})-(\d{0,18})", re.ASCII)


class PublishedFile(Struct, frozen=True):
    """An open file; the caller closes ``content``. ``tag`` is its ETag, new for a new file."""

    content: BinaryIO
    size_bytes: int
    kind: str
    tag: str


def open_published(folder: Path, names: Sequence[str]) -> PublishedFile | None:
    """The file that ``names``, one at least, lead to in ``folder``; None where there is none.

    No link is followed, inside the folder or out of it.
    """
    *above, last = names
    file = folder.joinpath(*above, last or FRONT_PAGE)
    try:
        if file.resolve(strict=True) != folder.resolve(strict=True) / file.relative_to(folder):
            return None
        handle = os.open(file, os.O_RDONLY | _NEITHER_LINK_NOR_PIPE)
    except (OSError, ValueError):
        return None
    state = os.fstat(handle)
    if not stat.S_ISREG(state.st_mode):
        os.close(handle)
        return None
    tag = f'"{state.st_ino:x}-{state.st_size:x}-{state.st_mtime_ns:x}"'
    return PublishedFile(os.fdopen(handle, "rb"), state.st_size, kind_of(file.name), tag)


def kind_of(name: str) -> str:
    """The content type of a file of this name."""
    kind = _TYPES.guess_type(name)[0] or "application/octet-stream"
    return f"{kind}; charset=utf-8" if kind.startswith(_IN_LETTERS) else kind


def part_asked(wish: str, size_bytes: int) -> range | None:
    """The bytes that a Range header asks for, an empty range where there are none such.

    None where all of them are to be sent: a wish for several parts, or for none that is known.
    """
    asked = _WISH.fullmatch(wish.strip())
    if asked is None or asked[0] == "bytes=-":
        return None
    first, last = asked[1], asked[2]
    if not first:
        return range(max(0, size_bytes - int(last)), size_bytes)
    if last and int(last) < int(first):
        return None
    return range(int(first), min(int(last) + 1 if last else size_bytes, size_bytes))
