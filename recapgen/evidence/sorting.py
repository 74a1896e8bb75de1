"""What becomes of every row: used, set aside, not read or left out."""

from collections import Counter
from collections.abc import Iterable
from math import isfinite, nan

from msgspec.structs import replace

from recapgen.model.lesson import Lesson, Notes
from recapgen.model.quantity import Quantity
from recapgen.model.recap import Tally
from recapgen.model.shots import Block, SetAside, Shot, ShotStatus, ShotTable, SortedShot

COMPARED = (Block.BEFORE, Block.AFTER, Block.CLOSING)


def sort_shots(
    notes: Notes, table: ShotTable, club: str | None, quantity: Quantity | None
) -> tuple[SortedShot, ...]:
    """Every shot of ``table`` in time order, with its block and its status for ``quantity``.

    Shot by shot, the notes' spans win over a phase column, their mishit words over a tag.
    Without ``club`` the commonest club of the compared blocks is meant: clubs are never
    mixed. Without ``quantity`` no reading is required.
    """
    blocks = {
        number: span.block for span in notes.spans for number in range(span.first, span.last + 1)
    }
    tags = {m.shot: m.tag for m in notes.mishits}
    reasons = {left.shot: left.reason for left in notes.left_out}
    placed = [
        (
            replace(shot, tag=tags.get(shot.number, shot.tag)),
            blocks.get(shot.number, shot.block),
        )
        for shot in table.shots
    ]
    meant = club or _commonest_club(placed)
    return tuple(
        _sorted(shot, block, reasons.get(shot.number), meant, quantity) for shot, block in placed
    )


def sorted_shots(lesson: Lesson) -> tuple[SortedShot, ...]:
    """The lesson's shots, sorted for its declared number; empty where no table was dropped."""
    if lesson.shots is None:
        return ()
    declaration = lesson.notes.declaration
    quantity = declaration.quantity if declaration is not None else None
    return sort_shots(lesson.notes, lesson.shots, lesson.notes.club, quantity)


def tally(shots: Iterable[SortedShot]) -> Tally:
    """Rows by status; the four add up to those read."""
    statuses = Counter(s.status for s in shots)
    return Tally(
        read=statuses.total(),
        used=statuses[ShotStatus.USED],
        set_aside=statuses[ShotStatus.SET_ASIDE],
        not_read=statuses[ShotStatus.NOT_READ],
        left_out=statuses[ShotStatus.LEFT_OUT],
    )


def _sorted(
    shot: Shot,
    block: Block | None,
    left_out: str | None,
    club: str | None,
    quantity: Quantity | None,
) -> SortedShot:
    if left_out is not None:
        return SortedShot(shot, block, ShotStatus.LEFT_OUT, left_out, left_out_by_coach=True)
    if shot.impossible is not None:
        return SortedShot(shot, block, ShotStatus.LEFT_OUT, shot.impossible)
    aside = _set_aside(shot, block, club)
    if aside is not None:
        return SortedShot(shot, block, ShotStatus.SET_ASIDE, aside=aside)
    if quantity is not None and not isfinite(shot.readings.get(quantity, nan)):
        return SortedShot(shot, block, ShotStatus.NOT_READ)
    return SortedShot(shot, block, ShotStatus.USED)


def _set_aside(shot: Shot, block: Block | None, club: str | None) -> SetAside | None:
    if shot.club is not None and club is not None and shot.club != club:
        return SetAside.ANOTHER_CLUB
    match block:
        case Block.WARM_UP:
            return SetAside.WARM_UP
        case Block.DRILL:
            return SetAside.DRILL
        case None:
            return SetAside.NO_BLOCK
        case Block.BEFORE | Block.AFTER | Block.CLOSING:
            return None


def _commonest_club(placed: Iterable[tuple[Shot, Block | None]]) -> str | None:
    clubs = Counter(shot.club for shot, block in placed if shot.club and block in COMPARED)
    return clubs.most_common(1)[0][0] if clubs else None
