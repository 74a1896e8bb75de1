"""Names of folders and files as they are compared."""

import hashlib
import unicodedata

LONGEST_STEM_BYTES = 180
"""Leaves room for an ending, and for what a file is called while it is written."""


def folded(name: str) -> str:
    """``name`` without regard to case and to how a disk writes its accents.

    One disk keeps "é" as one sign, another as two, and a third knows no upper case: names that
    differ in no more than that are one name on some computer (Unicode TR 15, TR 21).
    """
    return unicodedata.normalize("NFC", unicodedata.normalize("NFKC", name).casefold())


def file_stem(name: str) -> str:
    """``name`` to call a file by; where no disk had room for an ending, cut, with a digest."""
    written = name.encode("utf-8", "surrogateescape")
    if len(written) <= LONGEST_STEM_BYTES:
        return name
    kept = written[:LONGEST_STEM_BYTES].decode("utf-8", "ignore")
    return f"{kept}-{hashlib.sha256(written).hexdigest()[:8]}"


def printable(name: str) -> str:
    """``name`` as it can be written anywhere, whatever bytes a disk keeps it in."""
    return name.encode("utf-8", "backslashreplace").decode("utf-8")
