"""The signed list of a site's files, by which anybody can tell whether it is as it was built.

Its lines are those that ``sha256sum --check`` reads; what else it says stands behind a ``#``.
No day is in it: the same files are signed the same way at every build.
"""

import hashlib
import re
from collections.abc import Mapping
from pathlib import Path

from msgspec import Struct

from recapgen import __version__
from recapgen.locking.signing import is_signed, public_key, signature
from recapgen.tools.walking import files_below

FINGERPRINTS = "fingerprints.txt"
_BUILD_SIGNS = 12
_WHOLE = re.compile(
    r"# recapgen (?P<program>[\w.]+), build (?P<build>[0-9a-f]{12})\n"
    r"# folder (?P<folder>[^\n]+)\n"
    r"(?P<lines>(?:[0-9a-f]{64}  [^\n]+\n)*)"
    r"# key (?P<key>[0-9a-f]{64})\n"
    r"# signature (?P<signed>[0-9a-f]{128})\n"
)


class Fingerprints(Struct, frozen=True):
    """A list whose signature holds: ``files`` are SHA-256 by path below the site's folder."""

    folder: str
    program: str
    build: str
    key: str
    files: Mapping[str, str]


def sign_site(site: Path, name: str, secret: bytes) -> None:
    """Lay the list of all files of the finished ``site``, to be published as ``name``, beside them.

    Raises OSError.
    """
    paths = [path for path in files_below(site) if path != site / FINGERPRINTS]
    lines = "".join(
        sorted(f"{_digest(path)}  {path.relative_to(site).as_posix()}\n" for path in paths)
    )
    build = hashlib.sha256(lines.encode()).hexdigest()[:_BUILD_SIGNS]
    told = f"# recapgen {__version__}, build {build}\n# folder {name}\n{lines}"
    told += f"# key {public_key(secret)}\n"
    signed = signature(secret, told.encode())
    (site / FINGERPRINTS).write_text(f"{told}# signature {signed}\n", "utf-8", newline="\n")


def read_fingerprints(content: bytes) -> Fingerprints | None:
    """The list in ``content``; None where it is not, to the last sign, what was signed."""
    try:
        told = _WHOLE.fullmatch(content.decode())
    except UnicodeDecodeError:
        return None
    if told is None:
        return None
    above = content[: content.rindex(b"# signature ")]
    if not is_signed(told["key"], above, told["signed"]):
        return None
    files = {line[66:]: line[:64] for line in told["lines"].split("\n")[:-1]}
    return Fingerprints(told["folder"], told["program"], told["build"], told["key"], files)


def _digest(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()
