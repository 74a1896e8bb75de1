"""The output folder: ours, marked as ours, and written by one run at a time."""

import json
import os
from pathlib import Path

from msgspec import Struct

from recapgen.model.problem import Checked, Code, Problem
from recapgen.model.source import SourceRef
from recapgen.publish.swap import recover
from recapgen.tools.atomic import write_text
from recapgen.tools.cache import Cache
from recapgen.tools.leftovers import clear_half_written
from recapgen.tools.lock import Lock

_FORMAT = 1
_OWN = ".recapgen"
_COACH_ALONE = 0o700
_FILE_COACH_ALONE = 0o600
_OTHERS_NOTHING = 0o077
_LITTER = frozenset({".DS_Store", "Thumbs.db", "desktop.ini"})


class OutputPlaces(Struct, frozen=True):
    """Paths of what lies in the output folder ``root``, held by a run or not.

    ``site`` is what gets published, ``book`` the coach's own; staging, cache and build state lie
    outside both, on the same disk.
    """

    root: Path

    @property
    def site(self) -> Path:
        return self.root / "site"

    @property
    def book(self) -> Path:
        return self.root / "coach_book"

    @property
    def own(self) -> Path:
        return self.root / _OWN

    @property
    def staging(self) -> Path:
        return self.own / "staging"

    @property
    def cache(self) -> Path:
        return self.own / "cache"

    @property
    def state_file(self) -> Path:
        """The build state; its name stays, or a build would find none in an older output."""
        return self.own / "ledger.json"

    @property
    def inventory(self) -> Path:
        return self.own / "book.json"

    @property
    def links(self) -> Path:
        """A copy of what is remembered of links beside the secret."""
        return self.own / "links.json"

    @property
    def last_run(self) -> Path:
        return self.own / "last_run.json"

    @property
    def share(self) -> Path:
        return self.own / "share.json"

    @property
    def stills(self) -> Path:
        return self.root / "stills"

    @property
    def one_pages(self) -> Path:
        return self.root / "one_page"

    @property
    def copies(self) -> Path:
        """Copies of everything about a student, to hand over."""
        return self.root / "copies"

    @property
    def bundles(self) -> Path:
        """Published sites as zips, to upload or to hand over."""
        return self.root / "bundles"

    @property
    def unsealed(self) -> Path:
        """The open form of every locked site, from which the locked one is made."""
        return self.own / "unsealed"

    @property
    def gone(self) -> Path:
        return self.own / "gone.json"

    @property
    def emptied(self) -> Path:
        return self.own / "emptied.json"


class Output(OutputPlaces, frozen=True):
    """An output folder, held by this run until ``release``.

    While it is held, what is written is the coach's alone; ``umask`` is what everybody else may
    do with what is published.
    """

    umask: int
    _lock: Lock

    def release(self) -> None:
        """Let the next run in."""
        os.umask(self.umask)
        self._lock.release()


def claim(out: Path, lessons: Path) -> Checked[Output]:
    """The output folder for this run, made, marked, locked and recovered.

    Refused where ``out`` and ``lessons`` lie in each other, where ``out`` holds anything we
    did not make, was made by a newer version, cannot be written or is being written to.
    Nothing is touched before that is settled; then what a killed run left is put right.
    """
    problem = _in_each_other(out, lessons) or _not_ours(out)
    if problem is not None:
        return Checked(None, (problem,))
    try:
        return _hold(out)
    except OSError as fault:
        said = fault.strerror or str(fault)
        return _refused(Code.OUTPUT_UNWRITABLE, out, fault=said)


def secret_lost(output: Output) -> tuple[Problem, ...]:
    """The problem where links were made here by a secret that is not there any more.

    To be asked before another is made, which would break every link given out.
    """
    if "secret" not in json.loads(_marker(output.root).read_text("utf-8")):
        return ()
    where = SourceRef(".recapgen/secret")
    return (Problem(Code.SECRET_LOST, where, {"out": str(output.root)}),)


def check_secret(output: Output, mark: str) -> tuple[Problem, ...]:
    """Remember by which secret the addresses here were made; another one is refused."""
    marker = _marker(output.root)
    kept = json.loads(marker.read_text("utf-8"))
    if "secret" not in kept:
        write_text(marker, json.dumps(kept | {"secret": mark}) + "\n")
    elif kept["secret"] != mark:
        facts = {"out": str(output.root), "file": ".recapgen/secret"}
        return (Problem(Code.SECRET_CHANGED, SourceRef(".recapgen/secret"), facts),)
    return ()


def _marker(out: Path) -> Path:
    return out / _OWN / "output.json"


def _refused(code: Code, out: Path, **facts: str) -> Checked[Output]:
    return Checked(None, (Problem(code, SourceRef(""), {"out": str(out), **facts}),))


def _in_each_other(out: Path, lessons: Path) -> Problem | None:
    outer, inner = lessons.resolve(), out.resolve()
    facts = {"out": str(out)}
    if _lies_in(inner, outer):
        return Problem(Code.OUTPUT_IN_LESSONS, SourceRef(""), facts)
    if _lies_in(outer, inner):
        return Problem(Code.LESSONS_IN_OUTPUT, SourceRef(""), facts)
    return None


def _lies_in(inner: Path, outer: Path) -> bool:
    """By what the disk says, so that upper and lower case or a link cannot hide it."""
    if not outer.exists():
        return inner.is_relative_to(outer)
    return any(above.exists() and above.samefile(outer) for above in (inner, *inner.parents))


def _not_ours(out: Path) -> Problem | None:
    facts = {"out": str(out)}
    try:
        found = sorted({path.name for path in out.iterdir()} - _LITTER)
    except FileNotFoundError:
        return None
    except NotADirectoryError:
        return Problem(Code.OUTPUT_NOT_OURS, SourceRef(""), facts | {"found": out.name})
    except OSError as fault:
        said = fault.strerror or str(fault)
        return Problem(Code.OUTPUT_UNWRITABLE, SourceRef(""), facts | {"fault": said})
    try:
        kept = json.loads(_marker(out).read_text("utf-8"))
        if kept["made by"] == "recapgen":
            newer = kept["format"] > _FORMAT
            return Problem(Code.OUTPUT_NEWER, SourceRef(""), facts) if newer else None
    except (OSError, ValueError, KeyError, TypeError):
        pass
    if not found or found == [_OWN]:  # the second: killed before the marker was written
        return None
    named = ", ".join(name for name in found[:3] if name != _OWN)
    return Problem(Code.OUTPUT_NOT_OURS, SourceRef(""), facts | {"found": named})


def _hold(out: Path) -> Checked[Output]:
    own = out / _OWN
    own.mkdir(parents=True, exist_ok=True)
    lock = Lock.take(own / "lock")
    if lock is None:
        return _refused(Code.OUTPUT_BUSY, out)
    output = Output(out.resolve(), _umask(), lock)
    if not _marker(out).exists():
        told = json.dumps({"made by": "recapgen", "format": _FORMAT}) + "\n"
        write_text(_marker(out), told, _FILE_COACH_ALONE)
    output.site.mkdir(exist_ok=True)
    for folder in (output.staging, output.cache, output.unsealed):
        folder.mkdir(_COACH_ALONE, exist_ok=True)
    for folder in (output.own, output.book, output.stills):
        if folder.is_dir():
            folder.chmod(_COACH_ALONE)
    for folder in (output.site, output.book, output.staging):
        if folder.is_symlink() or (folder.exists() and folder.stat().st_dev != own.stat().st_dev):
            lock.release()
            return _refused(Code.OUTPUT_ELSEWHERE, out, found=str(folder))
    recover(output.staging, output.root)
    clear_half_written(own)
    Cache(output.cache).clear_unfinished()
    os.umask(_OTHERS_NOTHING)
    return Checked(output, ())


def open_up(folder: Path, umask: int) -> None:
    """Give a folder to publish, and all in it, the rights that this system usually gives."""
    for place, _, names in os.walk(folder):
        Path(place).chmod(0o777 & ~umask)
        for name in names:
            (Path(place) / name).chmod(0o666 & ~umask)


def _umask() -> int:
    """It can only be read by setting it."""
    current = os.umask(_OTHERS_NOTHING)
    os.umask(current)
    return current
