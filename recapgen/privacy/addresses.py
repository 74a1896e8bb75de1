"""Unguessable addresses that stay the same for as long as the coach keeps one secret.

HMAC-SHA256 over the parts of what is addressed, each with its length before it so that
("ab", "c") and ("a", "bc") differ. Written in consonants and digits without look-alikes: easy
to read aloud, and no word can come out. 20 signs hold 96 bits.
"""

import hashlib
import hmac
import os
import re
import secrets
import shlex
import unicodedata
from datetime import date
from functools import cache
from pathlib import Path

from recapgen.model.naming import folded, printable
from recapgen.model.problem import Checked, Code, Problem
from recapgen.model.source import SourceRef
from recapgen.tools.atomic import write_new

KEPT_IN = ".recapgen/secret"
_HANDED_OUT = frozenset({"public", "public_html", "www", "wwwroot", "htdocs"})
_SIGNS = "23456789bcdfghjkmnpqrstvwxyz"
_STUDENT_SIGNS = 20
_CASE_SIGNS = 12
_LESSON_SIGNS = 4


def read_secret(root: Path) -> Checked[bytes]:
    """The secret of the lessons folder ``root``: 32 bytes, or None where there is none yet.

    A malformed one is a problem and is never replaced: every link given out hangs on it.
    """
    kept = root / KEPT_IN
    if not os.path.lexists(kept):
        return Checked(None, ())
    try:
        text = kept.read_text("ascii").strip() if kept.is_file() else ""  # a pipe never ends
    except (OSError, UnicodeDecodeError):
        text = ""
    if not re.fullmatch(r"[0-9a-f]{64}", text):
        problem = Problem(Code.SECRET_MALFORMED, SourceRef(KEPT_IN, 1, 1), {})
        return Checked(None, (problem,))
    return Checked(bytes.fromhex(text), (*_open_to_others(kept), *_in_public(root)))


def _open_to_others(kept: Path) -> tuple[Problem, ...]:
    """A reader of the secret knows every address. A system without file rights keeps none."""
    if os.name != "posix" or not kept.stat().st_mode & 0o077:
        return ()
    facts = {"command": f"chmod 600 {shlex.quote(printable(str(kept)))}"}
    return (Problem(Code.SECRET_OPEN, SourceRef(KEPT_IN), facts),)


def _in_public(root: Path) -> tuple[Problem, ...]:
    """What lies in a folder that is called so may be handed out by this computer or a drive."""
    public = [part for part in root.resolve().parts if part.casefold() in _HANDED_OUT]
    if not public:
        return ()
    facts = {"path": printable(str(root.resolve())), "folder": printable(public[-1])}
    return (Problem(Code.LESSONS_IN_PUBLIC, SourceRef(""), facts),)


def make_secret(root: Path) -> Checked[bytes]:
    """The secret of ``root``, written now where there is none, readable by the coach alone."""
    return keep_secret(root, secrets.token_bytes(32))


def keep_secret(root: Path, secret: bytes) -> Checked[bytes]:
    """The same with a ``secret`` that there was before."""
    try:
        (root / KEPT_IN).parent.mkdir(mode=0o700, exist_ok=True)
        write_new(root / KEPT_IN, f"{secret.hex()}\n".encode())
    except FileExistsError:
        return read_secret(root)
    except OSError as fault:
        facts = {"fault": fault.strerror or str(fault)}
        return Checked(None, (Problem(Code.SECRET_UNWRITABLE, SourceRef(KEPT_IN), facts),))
    return Checked(secret, _in_public(root))


def secret_mark(secret: bytes) -> str:
    """A mark of the secret that an output was built with, from which it cannot be read back."""
    return _signs(secret, _CASE_SIGNS, "mark")


def address(secret: bytes, *parts: str) -> str:
    """The unguessable folder name of what ``parts`` name: 20 lower-case letters and digits."""
    return _signs(secret, _STUDENT_SIGNS, "address", *parts)


def range_address(secret: bytes) -> str:
    """The folder name of the coach's page for the range; no student's can be the same."""
    return _signs(secret, _STUDENT_SIGNS, "range")


def forgotten_mark(secret: bytes, student_key: str) -> str:
    """What is kept of a forgotten student's folder; without the secret it says nothing."""
    return _signs(secret, _STUDENT_SIGNS, "forgotten", student_key)


def looks_like_address(name: str) -> bool:
    """Whether ``name`` has the form of a folder named by ``address``."""
    return len(name) == _STUDENT_SIGNS and set(name) <= set(_SIGNS)


def lesson_page(secret: bytes, student_key: str, lesson_key: str, on: date) -> str:
    """The file name of a lesson's page; four signs tell apart two lessons of one day."""
    signs = _signs(secret, _LESSON_SIGNS, "lesson", student_key, lesson_key)
    return f"{on.isoformat()}-{signs}.html"


def case_page(secret: bytes, handle: str) -> str:
    """The file name of a past case; the coach's word for it may hold a name and is not shown."""
    return f"{_signs(secret, _CASE_SIGNS, 'case', folded(handle))}.html"


@cache  # a lesson's page is asked for by all that lead to it
def _signs(secret: bytes, count: int, *parts: str) -> str:
    """Folder names come composed or decomposed by system; the same name gives the same signs."""
    message = b""
    for part in parts:
        encoded = unicodedata.normalize("NFC", part).encode()
        message += len(encoded).to_bytes(4, "big") + encoded
    number = int.from_bytes(hmac.new(secret, message, hashlib.sha256).digest(), "big")
    signs = []
    for _ in range(count):
        number, place = divmod(number, len(_SIGNS))
        signs.append(_SIGNS[place])
    return "".join(signs)
