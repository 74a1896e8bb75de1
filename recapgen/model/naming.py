"""Names of folders and files as they are compared."""

import unicodedata


def folded(name: str) -> str:
    """``name`` without regard to case and to how a disk writes its accents.

    One disk keeps "é" as one sign, another as two, and a third knows no upper case: names that
    differ in no more than that are one name on some computer (Unicode TR 15, TR 21).
    """
    return unicodedata.normalize("NFC", unicodedata.normalize("NFKC", name).casefold())
