"""Finished work kept between builds, found again by what went into it.

An entry is a folder named by its key. It is made under another name, listed with the digest
of every file, flushed, and only then renamed; so whatever was killed half way never counts. A
text that is quickly made again is one file, its digest in the first line, and never flushed.
"""

import hashlib
import json
import os
import shutil
import tempfile
from collections.abc import Callable, Iterable
from contextlib import suppress
from pathlib import Path

from msgspec import Struct

_LIST = "entry.json"
_UNFINISHED = "making-"
_DIGEST_BYTES = 16


def digest_of_file(path: Path) -> str:
    """The content of a file as 32 hexadecimal digits (BLAKE2b). Raises OSError."""
    with path.open("rb") as file:
        return hashlib.file_digest(
            file, lambda: hashlib.blake2b(digest_size=_DIGEST_BYTES)
        ).hexdigest()


def sha256_of_file(path: Path) -> str:
    """The digest of a file's content, by which the build state knows inputs. Raises OSError."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def key_for(*parts: str | float) -> str:
    """A key from everything that shapes the result: contents, recipe, versions."""
    told = json.dumps(parts).encode()  # any name of a file, in ASCII
    return hashlib.blake2b(told, digest_size=_DIGEST_BYTES).hexdigest()


class Cache(Struct, frozen=True):
    """Entries below ``folder``, which is made when first needed and lies outside any site.

    What is not there is looked for in ``behind``, which is never written to.
    """

    folder: Path
    behind: Path | None = None

    def find(self, key: str) -> Path | None:
        """The entry's folder if it is there and every file of it is whole."""
        entry = self.folder / key
        if _is_whole(entry):
            with suppress(OSError):
                os.utime(entry / _LIST)
            return entry
        if self.behind is not None and _is_whole(self.behind / key):
            return self.behind / key
        return None

    def find_or_make(self, key: str, make: Callable[[Path], None]) -> Path:
        """The entry's folder; where it is missing or broken, ``make`` fills an empty one.

        Whatever ``make`` raises comes through, and nothing is kept.
        """
        if found := self.find(key):
            return found
        self.folder.mkdir(parents=True, exist_ok=True)
        making = Path(tempfile.mkdtemp(prefix=_UNFINISHED, dir=self.folder))
        try:
            make(making)
            _list_and_flush(making)
            return self._put_in_place(making, key)
        finally:
            shutil.rmtree(making, ignore_errors=True)

    def find_or_make_text(self, key: str, make: Callable[[], str]) -> str:
        """The text kept under ``key``; where it is missing or broken, what ``make`` gives."""
        found = self.find_text(key)
        if found is not None:
            return found
        text = make()
        self.keep_text(key, text)
        return text

    def find_text(self, key: str) -> str | None:
        """The text kept under ``key``, if it is there and whole."""
        entry = self.folder / key
        found = _text_in(entry)
        if found is not None:
            with suppress(OSError):
                os.utime(entry)
            return found
        return None if self.behind is None else _text_in(self.behind / key)

    def keep_text(self, key: str, text: str) -> None:
        """Keep ``text`` under ``key``. Raises OSError."""
        self.folder.mkdir(parents=True, exist_ok=True)
        handle, making = tempfile.mkstemp(prefix=_UNFINISHED, dir=self.folder)
        with os.fdopen(handle, "wb") as file:
            file.write(f"{_digest_of_text(text)}\n{text}".encode())
        Path(making).replace(self.folder / key)

    def still_holds(self, files: Iterable[Path]) -> bool:
        """Whether all of ``files`` are there, whose entries count as used from now on."""
        kept = list(files)
        for entry in {file.parent for file in kept if file.parent.parent == self.folder}:
            with suppress(OSError):
                os.utime(entry / _LIST)
        return all(file.is_file() for file in kept)

    def clear_unfinished(self) -> None:
        """Drop what was not finished, where nobody else is at work here."""
        for name in os.listdir(self.folder):  # noqa: PTH208  thousands of them
            if name.startswith(_UNFINISHED):
                _drop(self.folder / name)

    def clear_unused(self, since: float) -> None:
        """Drop every entry that was last used before ``since`` (seconds of the system clock)."""
        for entry in self.folder.glob("*"):
            listing = entry / _LIST
            used = listing if listing.exists() else entry
            if used.stat().st_mtime < since:
                _drop(entry)

    def clear_texts(self, since: float) -> None:
        """Drop every text that was last used before ``since`` (seconds of the system clock)."""
        for entry in self.folder.glob("*"):
            if entry.is_file() and entry.stat().st_mtime < since:
                _drop(entry)

    def _put_in_place(self, making: Path, key: str) -> Path:
        entry = self.folder / key
        if entry.exists():
            if found := self.find(key):
                return found  # another worker was faster
            shutil.rmtree(entry)
        try:
            making.rename(entry)
        except OSError:
            if found := self.find(key):
                return found
            raise
        return entry


def _is_whole(entry: Path) -> bool:
    try:
        listed: dict[str, str] = json.loads((entry / _LIST).read_bytes())
        return all(digest_of_file(entry / name) == digest for name, digest in listed.items())
    except (OSError, ValueError, AttributeError):
        return False


def _text_in(entry: Path) -> str | None:
    """The text of an entry, if it is whole."""
    try:
        digest, _, text = entry.read_bytes().decode().partition("\n")
    except (OSError, UnicodeDecodeError):
        return None
    return text if digest == _digest_of_text(text) else None


def _digest_of_text(text: str) -> str:
    return hashlib.blake2b(text.encode(), digest_size=_DIGEST_BYTES).hexdigest()


def _drop(entry: Path) -> None:
    if entry.is_dir():
        shutil.rmtree(entry, ignore_errors=True)
    else:
        entry.unlink(missing_ok=True)


def _list_and_flush(folder: Path) -> None:
    files = sorted(f for f in folder.iterdir() if f.is_file())
    listed = {f.name: digest_of_file(f) for f in files}
    (folder / _LIST).write_text(json.dumps(listed), encoding="utf-8")
    for file in (*files, folder / _LIST):
        with file.open("rb+") as handle:
            os.fsync(handle.fileno())
