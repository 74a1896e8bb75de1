"""When shots were hit: times in any common order, day and month told apart or asked about."""

import re
import unicodedata
from collections.abc import Iterable, Sequence
from datetime import UTC, date, datetime, time
from enum import StrEnum

from msgspec import Struct

from recapgen.intake.table.cells import is_missing


class DayOrder(StrEnum):
    """In which order a date written in numbers has its parts."""

    DAY_FIRST = "day first"
    MONTH_FIRST = "month first"
    UNSURE = "unsure"
    MIXED = "mixed"


class CellTime(Struct, frozen=True):
    """A cell's date and clock time, each None where not given."""

    day: date | None
    clock: time | None


_MONTHS = {
    name[:3]: number
    for number, name in enumerate(
        ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"), 1
    )
}
_CLOCK = re.compile(
    r"(?P<h>\d{1,2})[:.h](?P<m>\d{2})(?:[:.](?P<s>\d{2})(?:[.,](?P<f>\d{1,9}))?)?"
    r"\s*(?P<half>[ap])?\.?(?(half)\s?m?\.?)\s*(?P<zone>z|utc|gmt|[+-]\d{2}:?\d{2})?",
    re.IGNORECASE,
)
_NUMERIC = re.compile(r"(?P<a>\d{1,2})\s*[./\- ]\s*(?P<b>\d{1,2})\s*[./\- ]\s*(?P<y>\d{4}|\d{2})")
_YEAR_FIRST = re.compile(
    r"(?P<y>(?:19|20|21)\d{2})\s*[./\- ]?\s*(?P<b>\d{1,2})\s*[./\- ]?\s*(?P<a>\d{1,2})"
)
_DAY_NAME = re.compile(
    r"(?P<a>\d{1,2})(?:st|nd|rd|th)?[\s.\-/]*(?P<n>[a-z]{3})[a-z]*[\s.,\-/]*(?P<y>\d{4}|\d{2})"
)
_NAME_DAY = re.compile(
    r"(?P<n>[a-z]{3})[a-z]*[\s.\-/]*(?P<a>\d{1,2})(?:st|nd|rd|th)?[\s.,\-/]*(?P<y>\d{4}|\d{2})"
)
_WEEKDAY = re.compile(r"^(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*[\s.,]+", re.IGNORECASE)
_OCLOCK = re.compile(r"\s*(?:uhr|heures?|horas?|hrs?|h)\.?$", re.IGNORECASE)
_HALF_BEFORE = re.compile(r"(午前|午後|오전|오후)\s*(\d{1,2}[:時시].*)$")
_AFTER_NOON = frozenset({"午後", "오후"})
_IN_CHARACTERS = re.compile(
    r"(\d{1,2})\s?[時시]\s?(?:(\d{1,2})\s?[分분])?\s?(?:(\d{1,2})\s?[秒초])?"
)
_CENTURY = 2000
_EPOCH_S = range(946_684_800, 4_102_444_800)  # the years 2000 to 2100


def day_order(cells: Iterable[str], on: date | None) -> DayOrder:
    """The order that the dates of a column have; ``on``, the lesson's day, may settle it."""
    pairs = {
        (int(m["a"]), int(m["b"]), _year(m["y"]))
        for cell in set(cells)
        if not cell[:4].isdecimal() and (m := _NUMERIC.match(_bare(cell)))
    }
    if not pairs:
        return DayOrder.DAY_FIRST
    month_first = any(b > 12 for _, b, _ in pairs)  # noqa: PLR2004 - months in a year
    day_first = any(a > 12 for a, _, _ in pairs)  # noqa: PLR2004 - months in a year
    if month_first and day_first:
        return DayOrder.MIXED
    if day_first or month_first:
        return DayOrder.DAY_FIRST if day_first else DayOrder.MONTH_FIRST
    if all(a == b for a, b, _ in pairs):
        return DayOrder.DAY_FIRST
    if on is not None:
        as_day = all((on.day, on.month, on.year) == pair for pair in pairs)
        as_month = all((on.month, on.day, on.year) == pair for pair in pairs)
        if as_day != as_month:
            return DayOrder.DAY_FIRST if as_day else DayOrder.MONTH_FIRST
    return DayOrder.UNSURE


def _bare(cell: str) -> str:
    """A cell as it would be typed: without what a messenger puts around a time."""
    seen = "".join(c for c in unicodedata.normalize("NFKC", cell) if c.isprintable())
    plain = " ".join(seen.strip("[]() :-").split())
    if half := _HALF_BEFORE.search(plain):
        noon = "pm" if half[1] in _AFTER_NOON else "am"
        plain = f"{plain[: half.start()]}{half[2]} {noon}"
    plain = _IN_CHARACTERS.sub(_with_colons, plain)
    return _WEEKDAY.sub("", _OCLOCK.sub("", plain).strip())


def _with_colons(clock: re.Match[str]) -> str:
    return ":".join((clock[1], *(part for part in (clock[2] or "00", clock[3]) if part)))


def _year(text: str) -> int:
    return int(text) if len(text) > 2 else _CENTURY + int(text)  # noqa: PLR2004 - "27" is 2027


def read_plain_times(cells: Sequence[str]) -> list[datetime] | None:
    """The fast way, for a column of nothing but ISO dates with times; None where it is not that."""
    if not cells or len(cells[0]) <= len("2027-04-11") or cells[0][4:5] != "-":
        return None
    try:
        return list(map(datetime.fromisoformat, cells))
    except ValueError:
        return None


def read_moments(cells: Sequence[str], order: DayOrder) -> list[CellTime | None]:
    """What each cell says of the time; None where it says nothing readable."""
    known: dict[str, CellTime | None] = {}
    found: list[CellTime | None] = []
    for cell in cells:
        if cell not in known:
            known[cell] = None if is_missing(cell) else _moment(cell, order)
        found.append(known[cell])
    return found


def _moment(cell: str, order: DayOrder) -> CellTime | None:
    bare = _bare(cell)
    try:
        if bare[:4].isdigit() and bare[4:5] == "-":
            whole = datetime.fromisoformat(bare)
            return CellTime(whole.date(), whole.timetz() if len(bare) > len("2027-04-11") else None)
        return _moment_in_words(bare, order)
    except (ValueError, OverflowError, OSError):
        return None


def _moment_in_words(bare: str, order: DayOrder) -> CellTime | None:
    if re.fullmatch(r"\d{10}(?:\d{3})?(?:\.\d+)?", bare):
        seconds = float(bare) if float(bare) < _EPOCH_S.stop else float(bare) / 1000
        if int(seconds) in _EPOCH_S:
            moment = datetime.fromtimestamp(seconds, UTC)
            return CellTime(moment.date(), moment.timetz())
    if whole := _CLOCK.fullmatch(bare):
        return CellTime(None, _clock(whole))
    day, rest = _day(bare, order)
    if day is None:
        return None
    rest = rest.strip(" ,;T@\t").removeprefix("at ").strip()
    if not rest:
        return CellTime(day, None)
    if re.fullmatch(r"\d{4}|\d{6}", rest):
        rest = ":".join(re.findall("..", rest))
    clock = _CLOCK.fullmatch(rest)
    return CellTime(day, _clock(clock)) if clock else None


def _day(bare: str, order: DayOrder) -> tuple[date | None, str]:
    lower = bare.casefold()
    if m := _YEAR_FIRST.match(lower):
        return date(int(m["y"]), int(m["b"]), int(m["a"])), bare[m.end() :]
    if m := _NUMERIC.match(lower):
        a, b = int(m["a"]), int(m["b"])
        day, month = (b, a) if order is DayOrder.MONTH_FIRST else (a, b)
        return date(_year(m["y"]), month, day), bare[m.end() :]
    if m := _DAY_NAME.match(lower) or _NAME_DAY.match(lower):
        return date(_year(m["y"]), _MONTHS.get(m["n"], 0), int(m["a"])), bare[m.end() :]
    return None, bare


def _clock(m: re.Match[str]) -> time:
    hour = int(m["h"])
    if m["half"]:
        if not 1 <= hour <= 12:  # noqa: PLR2004 - hours on a dial
            raise ValueError("no such hour before or after noon")
        hour = hour % 12 + (12 if m["half"].casefold() == "p" else 0)
    micro = int(((m["f"] or "") + "000000")[:6])
    zone = m["zone"]
    tz = None
    if zone:
        letters = zone.casefold() in {"z", "utc", "gmt"}
        tz = UTC if letters else datetime.strptime(zone, "%z").tzinfo
    return time(hour, int(m["m"]), int(m["s"] or 0), micro, tzinfo=tz)
