"""A site as the last run left it: whatever would be the same in the new one is linked into it."""

import os
import shutil
from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path

from msgspec import Struct, field

from recapgen.model.as_data import FAULTS, as_text, from_text
from recapgen.publish.book_index import Entry
from recapgen.tools.html_reading import Pointer, ReadPage


class Links(Struct, frozen=True):
    """What a check of links wants to know of a page."""

    addresses: tuple[str, ...]
    anchors: frozenset[str]
    policy: str | None
    styles: tuple[str, ...]
    referrer: str | None = None

    def as_read(self) -> ReadPage:
        """These links as a page without faults: they were looked for when it was made."""
        return ReadPage(
            source="",
            pointers=[_pointer(address) for address in self.addresses],
            anchors=set(self.anchors),
            styles=list(self.styles),
            policy=self.policy,
            referrer=self.referrer,
        )


class LaidPage(Struct, frozen=True):
    """A page of the last site: its ``entries`` in the book's search, and its links.

    ``clean_of`` digests the words it was searched for and does not hold, "" if not known.
    """

    entries: tuple[Entry, ...]
    links: Links
    clean_of: str = ""


class _LaidFile(Struct, frozen=True):
    made_of: str
    size: int
    time_ns: int


class _Inventory(Struct, frozen=True):
    files: Mapping[str, _LaidFile]
    pages: Mapping[str, LaidPage]


class LastSite(Struct, frozen=True):
    """Files of the site in ``folder`` that are as they were left: path -> what they are made of."""

    folder: Path
    files: Mapping[str, str]
    pages: Mapping[str, LaidPage]

    def has(self, path: str, made_of: str) -> bool:
        """Whether ``path`` is unchanged and was made of ``made_of``; False where that is ""."""
        return made_of != "" and self.files.get(path) == made_of

    def below(self, folder: str) -> "LastSite":
        """What lies below ``folder``, as a site of its own."""
        start = f"{folder}/"
        files = {p.removeprefix(start): k for p, k in self.files.items() if p.startswith(start)}
        pages = {p.removeprefix(start): k for p, k in self.pages.items() if p.startswith(start)}
        return LastSite(self.folder / folder, files, pages)

    def take(self, path: str, into: Path) -> None:
        """Put a file of the last site into the folder of the new one. Raises OSError."""
        goal = into / path
        goal.parent.mkdir(parents=True, exist_ok=True)
        try:
            goal.hardlink_to(self.folder / path)
        except OSError:  # a disk without links, or with too many
            shutil.copy2(self.folder / path, goal)


class NewSite(Struct, frozen=True):
    """The site on its way in ``folder``: what its files are made of, and what is in its pages."""

    folder: Path
    last: LastSite
    files: dict[str, str] = field(default_factory=dict)
    pages: dict[str, LaidPage] = field(default_factory=dict)

    def lay(self, path: str, made_of: str, content: Callable[[], bytes]) -> None:
        """Put ``path`` into the new site: the last file if made of the same, else ``content()``.

        Raises OSError.
        """
        self.files[path] = made_of
        if self.last.has(path, made_of):
            self.last.take(path, self.folder)
            return
        goal = self.folder / path
        goal.parent.mkdir(parents=True, exist_ok=True)
        goal.write_bytes(content())

    def take_in(self, other: "NewSite", folder: str) -> None:
        """``other``, which was made below ``folder``, is a part of this one from now on."""
        self.files.update({f"{folder}/{path}": made_of for path, made_of in other.files.items()})
        self.pages.update({f"{folder}/{path}": page for path, page in other.pages.items()})


def read_last_site(folder: Path, inventory: str | None) -> LastSite:
    """The last site in ``folder`` by the text of its ``inventory``.

    Files whose size or time changed are not in it; empty where the text is missing or unreadable.
    """
    try:
        kept = None if inventory is None else from_text(inventory, _Inventory)
    except FAULTS:
        kept = None
    if kept is None:
        return LastSite(folder, {}, {})
    there = {
        path: laid.made_of
        for path, laid in kept.files.items()
        if _size_and_time(f"{folder}/{path}") == (laid.size, laid.time_ns)
    }
    pages = {path: page for path, page in kept.pages.items() if path in there}
    return LastSite(folder, there, pages)


def inventory_of(new: NewSite, folder: Path) -> str:
    """The inventory of ``new``, which now lies in ``folder``, for ``read_last_site``."""
    files = {}
    for path, made_of in new.files.items():
        state = _size_and_time(f"{folder}/{path}")
        if state is not None:
            files[path] = _LaidFile(made_of, *state)
    return as_text(_Inventory(files, new.pages), _Inventory)


@cache
def _pointer(address: str) -> Pointer:
    """One shared pointer for ``address``; it was checked when its page was first read."""
    return Pointer("a", address, followed=True, private=True)


def _size_and_time(file: str) -> tuple[int, int] | None:
    try:
        state = os.stat(file)  # noqa: PTH116  thousands of them
    except OSError:
        return None
    return state.st_size, state.st_mtime_ns
