"""The middle shot's flight before and after, and the lean of the handle: for the folds only."""

from collections.abc import Sequence
from statistics import median

from recapgen.golf.clubs import Family, club_named, family_of
from recapgen.golf.flight_line import flight_lines
from recapgen.golf.impact import LEAN_DOUBT_DEG, shaft_lean_deg
from recapgen.model.carry import FlightLines, LoftAtStrike
from recapgen.model.people import Student
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block, ShotStatus, SortedShot


def flights_then_and_now(
    lessons: Sequence[tuple[Sequence[SortedShot], str | None]],
) -> list[FlightLines | None]:
    """Of each lesson's shots with its club, the middle shot's flight before and after.

    All fly through standard air, together; None where both of a lesson are unknown.
    """
    blocks = [
        ([s.shot.readings for s in _compared(shots, block)], _family(club))
        for shots, club in lessons
        for block in (Block.BEFORE, Block.AFTER)
    ]
    lines = iter(flight_lines(blocks))
    return [
        FlightLines(then, now) if then or now else None
        for then, now in zip(lines, lines, strict=True)
    ]


def _family(club: str | None) -> Family | None:
    return family_of(club_named(club) or club) if club else None


def loft_at_strike(
    shots: Sequence[SortedShot], club: str | None, student: Student
) -> LoftAtStrike | None:
    """The lean at impact, from dynamic loft and the student's own club; None where one is unknown.

    A putter's few degrees say nothing of a lean.
    """
    named = (club_named(club) or club) if club else None
    own = next((c for c in student.clubs if c.name == named and c.loft_deg is not None), None)
    if own is None or own.loft_deg is None or named == "putter":
        return None
    then, now = (
        [
            s.shot.readings[Quantity.DYNAMIC_LOFT]
            for s in _compared(shots, block)
            if Quantity.DYNAMIC_LOFT in s.shot.readings
        ]
        for block in (Block.BEFORE, Block.AFTER)
    )
    if not then and not now:
        return None
    return LoftAtStrike(
        club=own.name,
        club_loft_deg=own.loft_deg,
        before_lean_deg=shaft_lean_deg(median(then), own.loft_deg) if then else None,
        after_lean_deg=shaft_lean_deg(median(now), own.loft_deg) if now else None,
        lean_doubt_deg=LEAN_DOUBT_DEG,
    )


def _compared(shots: Sequence[SortedShot], block: Block) -> list[SortedShot]:
    return [
        s for s in shots if s.block is block and s.status in (ShotStatus.USED, ShotStatus.NOT_READ)
    ]
