"""A copy of what was published, a folder or a zip, held against its signed lists."""

import hashlib
import zlib
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from typing import IO, Protocol
from zipfile import BadZipFile, ZipFile, ZipInfo

from msgspec import Struct

from recapgen.model.problem import Checked, Code, Problem
from recapgen.model.source import SourceRef
from recapgen.model.verified import SiteVerified
from recapgen.publish.fingerprints import FINGERPRINTS, Fingerprints, read_fingerprints
from recapgen.tools.walking import sizes_below

_LONGEST_LIST = 16_000_000  # bytes; a thousand lessons have a tenth of it
_LITTER = frozenset({".DS_Store", "Thumbs.db", "desktop.ini"})
_UNREADABLE = (OSError, BadZipFile, zlib.error, RuntimeError, NotImplementedError, EOFError)
"""Of a zip: damaged, under a password, packed in a way that we cannot read."""


class _Open(Protocol):
    def __call__(self) -> IO[bytes]: ...


class _Copy(Struct, frozen=True):
    """The files of a copy by path; None for a path that stands there twice."""

    files: Mapping[str, _Open | None]

    def sites(self) -> tuple[str, ...]:
        """What stands before the paths of each site that has a list: "" or "q7w2e9/"."""
        lists = (path for path in self.files if path.split("/")[-1] == FINGERPRINTS)
        return tuple(sorted(path.removesuffix(FINGERPRINTS) for path in lists))

    def list_of(self, site: str) -> Fingerprints | None:
        """The signed list of a site; None where it is damaged."""
        opened = self.files[f"{site}{FINGERPRINTS}"]
        try:
            content = b"" if opened is None else _read(opened)
        except _UNREADABLE:
            return None
        return read_fingerprints(content)

    def digest(self, path: str) -> str:
        """SHA-256 of a file; "" where it cannot be read, which is no file's."""
        opened = self.files[path]
        try:
            if opened is None:
                return ""
            with opened() as file:
                whole = hashlib.sha256()
                while part := file.read(1 << 20):
                    whole.update(part)
                return whole.hexdigest()
        except _UNREADABLE:
            return ""


def verify_copy(copy: Path, key: str | None) -> Checked[tuple[SiteVerified, ...]]:
    """What became of each site in ``copy``, in the order of paths.

    A site whose list is damaged, or signed by another ``key`` than the one that is asked for, is a
    problem and nothing else is said of it.
    """
    try:
        with _opened(copy) as held:
            return _verified(held, copy, key)
    except _UNREADABLE as fault:
        facts = {"path": str(copy), "fault": _said(fault)}
        return Checked(None, (Problem(Code.COPY_UNREADABLE, SourceRef(""), facts),))


def _verified(held: _Copy, copy: Path, key: str | None) -> Checked[tuple[SiteVerified, ...]]:
    sites = held.sites()
    if not sites:
        facts = {"path": str(copy), "list": FINGERPRINTS}
        return Checked(None, (Problem(Code.COPY_UNSIGNED, SourceRef(""), facts),))
    told: list[SiteVerified] = []
    problems: list[Problem] = []
    for site in sites:
        fingerprints = held.list_of(site)
        where = {"path": str(copy), "list": f"{site}{FINGERPRINTS}"}
        if fingerprints is None:
            problems.append(Problem(Code.COPY_LIST_DAMAGED, SourceRef(""), where))
        elif key is not None and fingerprints.key != key:
            facts = {**where, "key": fingerprints.key}
            problems.append(Problem(Code.COPY_FOREIGN, SourceRef(""), facts))
        else:
            told.append(_compared(held, site, sites, fingerprints))
    return Checked(tuple(told), tuple(problems))


def _compared(
    held: _Copy, site: str, sites: tuple[str, ...], fingerprints: Fingerprints
) -> SiteVerified:
    within = [other for other in sites if other != site and other.startswith(site)]
    there = {
        path.removeprefix(site)
        for path in held.files
        if path.startswith(site) and not any(map(path.startswith, within))
    } - {FINGERPRINTS}
    listed = fingerprints.files
    changed = (path for path in there & {*listed} if held.digest(site + path) != listed[path])
    return SiteVerified(
        folder=fingerprints.folder,
        program=fingerprints.program,
        build=fingerprints.build,
        key=fingerprints.key,
        files=len(listed),
        changed=tuple(sorted(site + path for path in changed)),
        missing=tuple(sorted(site + path for path in {*listed} - there)),
        added=tuple(sorted(site + path for path in there - {*listed})),
    )


@contextmanager
def _opened(copy: Path) -> Iterator[_Copy]:
    if copy.is_dir():
        paths = (path for path, _ in sizes_below(copy) if path.split("/")[-1] not in _LITTER)
        yield _Copy({path: partial((copy / path).open, "rb") for path in paths})
        return
    with ZipFile(copy) as packed:
        files: dict[str, _Open | None] = {}
        for entry in packed.infolist():
            if not entry.is_dir():
                twice = entry.filename in files
                files[entry.filename] = None if twice else partial(_open_entry, packed, entry)
        yield _Copy(files)


def _open_entry(packed: ZipFile, entry: ZipInfo) -> IO[bytes]:
    return packed.open(entry)


def _read(opened: _Open) -> bytes:
    with opened() as file:
        return file.read(_LONGEST_LIST)


def _said(fault: Exception) -> str:
    said = fault.strerror if isinstance(fault, OSError) else None
    return said or str(fault)
