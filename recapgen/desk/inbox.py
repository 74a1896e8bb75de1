"""What lies in ``inbox/``: which files may be moved, and what each tells of itself."""

import os
import re
import stat
from collections.abc import Callable, Iterator
from datetime import date, datetime
from pathlib import Path

from msgspec import Struct

from recapgen.clips.footage import recorded_at
from recapgen.intake.folder import CLIP_ENDINGS, TABLE_ENDINGS
from recapgen.intake.front_matter import bounds
from recapgen.intake.notes import KNOWN
from recapgen.intake.table.first_sight import at_first_sight
from recapgen.intake.text_file import is_hidden, lines_in
from recapgen.model.naming import folded
from recapgen.model.people import Coach
from recapgen.model.taken_in import LeftBecause, LeftFile
from recapgen.tools.cache import Cache
from recapgen.tools.settling import QUIET_S

_INBOX = "inbox"
_TEXT_ENDINGS = frozenset({".md", ".txt"})
_MOST_CHARACTERS = 100_000
_LONGEST_YEARS = 30
_DAY = re.compile(r"(?<!\d)(20\d{2})([-_. ]?)(\d{2})\2(\d{2})(?!\d)")
_HEAD = re.compile(r"#\s*(\d{4}-\d{2}-\d{2})(?:,\s*(?P<initials>[^\W\d_]{1,4}))?\s*")
_SizeAndTimes = tuple[int, int, int]


class Dropped(Struct, frozen=True):
    """A file of the inbox; ``name`` is its path from there.

    ``players`` are named in it, ``initials`` on the range page it comes from. ``first`` and
    ``last`` are the times of its shots or its film by the clock on the wall. ``day`` is told by
    what is in it or by its name; ``written_on`` is only when the disk got it.
    """

    path: Path
    name: str
    written_on: date
    day: date | None = None
    first: datetime | None = None
    last: datetime | None = None
    players: tuple[str, ...] = ()
    initials: str | None = None

    @property
    def is_notes(self) -> bool:
        return self.path.suffix.lower() in _TEXT_ENDINGS

    @property
    def is_table(self) -> bool:
        return self.path.suffix.lower() in TABLE_ENDINGS

    @property
    def below(self) -> str | None:
        """The folder within the inbox in which it lies."""
        folder, inside, _ = self.name.partition("/")
        return folder if inside else None


def inbox_of(root: Path) -> Path | None:
    """The coach's inbox, in whatever case its name is written."""
    found = (each for each in sorted(root.iterdir()) if folded(each.name) == _INBOX)
    return next((each for each in found if each.is_dir()), None)


def look_through(
    inbox: Path, coach: Coach, cache: Cache, today: date, *, rest: Callable[[float], None]
) -> tuple[tuple[Dropped, ...], tuple[LeftFile, ...]]:
    """The files that have come to rest, by name, and those that stay where they are.

    ``rest`` waits for so many seconds. What is hidden is passed over.
    """
    left: list[LeftFile] = []
    before = dict(_plain(inbox, inbox, left))
    if not before:
        return (), tuple(left)
    rest(QUIET_S)
    after = dict(_plain(inbox, inbox, []))
    dropped: list[Dropped] = []
    for path, stamp in before.items():
        name = path.relative_to(inbox).as_posix()
        if after.get(path) != stamp:
            left.append(LeftFile(name, LeftBecause.COPYING))
        elif not _is_ours(path):
            left.append(LeftFile(name, LeftBecause.NOT_OURS))
        else:
            dropped.append(_look_into(inbox, path, coach, cache, today))
    return tuple(dropped), tuple(left)


def _plain(inbox: Path, folder: Path, left: list[LeftFile]) -> Iterator[tuple[Path, _SizeAndTimes]]:
    """Every plain file with its size and times; links and unspeakable names are ``left``."""
    for path in sorted(folder.iterdir()):
        if path.name.startswith((".", "_", "~")):
            continue
        state = path.lstat()
        name = path.relative_to(inbox).as_posix()
        if any(map(is_hidden, path.name)):
            left.append(LeftFile(name, LeftBecause.NAME))
        elif stat.S_ISLNK(state.st_mode):
            left.append(LeftFile(name, LeftBecause.LINK))
        elif stat.S_ISDIR(state.st_mode):
            yield from _plain(inbox, path, left)
        elif stat.S_ISREG(state.st_mode):
            yield path, (state.st_size, state.st_mtime_ns, state.st_ctime_ns)
        else:
            left.append(LeftFile(name, LeftBecause.NOT_OURS))


def _is_ours(path: Path) -> bool:
    ending = path.suffix.lower()
    return ending in TABLE_ENDINGS | CLIP_ENDINGS or (ending in _TEXT_ENDINGS and _is_notes(path))


def _is_notes(path: Path) -> bool:
    """Whether the file holds keys of notes, as the range page writes them."""
    if path.name.casefold() == "private.md":
        return False
    lines = lines_in(path, _MOST_CHARACTERS)
    return lines is not None and bounds("\n".join(lines), KNOWN) is not None


def _look_into(inbox: Path, path: Path, coach: Coach, cache: Cache, today: date) -> Dropped:
    name = path.relative_to(inbox).as_posix()
    written = datetime.fromtimestamp(os.stat(path).st_mtime).date()  # noqa: DTZ006, PTH116
    named = _day_in(path.stem)
    whole = Dropped(path, name, written, named)
    if whole.is_notes:
        return _of_the_range(whole)
    if whole.is_table:
        sight = at_first_sight(inbox.parent, path, coach)
        times = [time for time in sight.times if _may_be(time.date(), today)]
        players = sight.players
    else:
        at = recorded_at(path, cache)
        film = None if at is None else datetime.fromtimestamp(at)  # noqa: DTZ006  as on the wall
        times, players = [film] if film is not None and _may_be(film.date(), today) else [], ()
    first, last = (times[0], times[-1]) if times else (None, None)
    day = first.date() if first is not None else named
    return Dropped(path, name, written, day, first, last, players)


def _of_the_range(whole: Dropped) -> Dropped:
    lines = lines_in(whole.path, _MOST_CHARACTERS) or []
    head = next((found for line in lines[:3] if (found := _HEAD.fullmatch(line.strip()))), None)
    if head is None:
        return whole
    day = _day_in(head[1]) or whole.day
    return Dropped(whole.path, whole.name, whole.written_on, day, initials=head["initials"])


def _may_be(day: date, today: date) -> bool:
    """Whether a clock that says so may have been set."""
    return 0 <= (today - day).days + 1 <= _LONGEST_YEARS * 366


def _day_in(name: str) -> date | None:
    """The one day that a name tells ("VID_20270411_100203")."""
    days = set()
    for found in _DAY.finditer(name):
        try:
            days.add(date(int(found[1]), int(found[3]), int(found[4])))
        except ValueError:
            continue
    return days.pop() if len(days) == 1 else None
