"""Shots as read from the tables, before and after the lesson's notes sort them."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from recapgen.model.quantity import Quantity
from recapgen.model.source import SourceRef


class Block(StrEnum):
    """A stretch of the lesson; the closing block repeats the old feel."""

    WARM_UP = "warm-up"
    BEFORE = "before"
    DRILL = "drill"
    AFTER = "after"
    CLOSING = "closing"


class Fate(StrEnum):
    """What became of a row; the counts of the four always add up to the rows read."""

    USED = "used"
    SET_ASIDE = "set aside"
    NOT_READ = "not read"
    LEFT_OUT = "left out"


@dataclass(frozen=True, slots=True)
class Shot:
    """One data row.

    ``number`` is what "shot 12" means: the file's own number where it has a unique
    one, else the position in time order over all data rows, from 1.
    ``readings`` hold inside units (m/s, m, degrees, rpm), world frame (plus = right).
    ``tag`` is the coach's word for a mishit ("heel", "thin"), or None.
    ``impossible`` names the rule that a reading broke; the row is then left out.
    """

    number: int
    where: SourceRef
    readings: Mapping[Quantity, float]
    block: Block | None = None
    club: str | None = None
    time: datetime | None = None
    tag: str | None = None
    impossible: str | None = None
    other: Mapping[str, str] | None = None  # unrecognised cells, for the coach's data only
    doubts: tuple[str, ...] = ()  # rules that want a second look at the row; it is still used


@dataclass(frozen=True, slots=True)
class ShotTable:
    """All shots of one lesson in time order, and what was decided while reading them.

    ``decided`` lists readings of the table that plausible ranges settled
    ("Ball Speed read as mph"), as (heading, choice) pairs for the page of evidence.
    ``unknown`` lists headings that were kept but not understood.
    """

    shots: tuple[Shot, ...]
    files: tuple[str, ...]
    decided: tuple[tuple[str, str], ...] = ()
    unknown: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SortedShot:
    """A shot with its block and what became of it for the declared number.

    ``reason`` is the coach's typed reason, or the name of the tool's rule.
    """

    shot: Shot
    block: Block | None
    fate: Fate
    reason: str | None = None
    left_out_by_coach: bool = False
