"""Carries of the compared blocks as they would be in standard air."""

from collections.abc import Mapping, Sequence
from math import hypot, isfinite, nan
from statistics import median

from msgspec import Struct
from msgspec.structs import replace

from recapgen.evidence.sorting import COMPARED
from recapgen.golf.clubs import club_named, family_of
from recapgen.golf.standard_carry import CarriedBlock, carries_in_standard_air
from recapgen.model.carry import FairCarry, StandardCarry
from recapgen.model.lesson import Notes, conditions_in
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block, ShotStatus, SortedShot

_THEN = (Block.BEFORE, Block.CLOSING)


class FairShots(Struct, frozen=True):
    """The lesson's shots with their carries in standard air, as read where that is withheld.

    ``differed``: the air was not the same in all blocks, so that carries as read do not compare.
    """

    shots: tuple[SortedShot, ...]
    told: FairCarry
    differed: bool


def fair_carries(
    lessons: Sequence[tuple[Sequence[SortedShot], Notes]], place_altitude_m: float | None
) -> list[FairShots | None]:
    """Of each lesson; None where its blocks compared have no carries.

    Notes name the one club that the shots are of. The balls of all lessons are flown together.
    """
    blocks = [_blocks(shots, notes, place_altitude_m) for shots, notes in lessons]
    standard = iter(carries_in_standard_air([b for here in blocks for b in here.air.values()]))
    return [
        _fair_shots(shots, here, {block: next(standard) for block in here.air})
        if here.air
        else None
        for (shots, _), here in zip(lessons, blocks, strict=True)
    ]


class _Blocks(Struct, frozen=True):
    """The compared blocks of a lesson that have carries, and what their balls flew through."""

    shots: Mapping[Block, Sequence[SortedShot]]
    air: Mapping[Block, CarriedBlock]


def _blocks(shots: Sequence[SortedShot], notes: Notes, place_altitude_m: float | None) -> _Blocks:
    family = family_of(club_named(notes.club) or notes.club) if notes.club else None
    blocks = {block: _carried(shots, block) for block in COMPARED}
    blocks = {block: here for block, here in blocks.items() if here}
    return _Blocks(
        blocks,
        {
            block: CarriedBlock(
                [s.shot.readings for s in here],
                conditions_in(notes.conditions, block, place_altitude_m),
                family,
            )
            for block, here in blocks.items()
        },
    )


def _fair_shots(
    shots: Sequence[SortedShot], blocks: _Blocks, standard: Mapping[Block, StandardCarry]
) -> FairShots:
    air = {carried.conditions for carried in blocks.air.values()}
    differed = len(air) > 1 and not all(conditions.indoors for conditions in air)
    told = _told(blocks.shots, standard)
    corrected = {
        s.shot.number: carry
        for block, here in blocks.shots.items()
        for s, carry in zip(here, standard[block].carries_m, strict=True)
        if told.withheld is None and carry is not None
    }
    return FairShots(tuple(_with_carry(s, corrected) for s in shots), told, differed)


def _carried(shots: Sequence[SortedShot], block: Block) -> list[SortedShot]:
    """The block's shots with a carry; those that the coach left out may yet be put back."""
    return [
        s
        for s in shots
        if s.block is block
        and s.status is not ShotStatus.SET_ASIDE
        and s.shot.impossible is None
        and isfinite(s.shot.readings.get(Quantity.CARRY, nan))
    ]


def _told(
    blocks: Mapping[Block, Sequence[SortedShot]], standard: Mapping[Block, StandardCarry]
) -> FairCarry:
    withheld = next((s.withheld for s in standard.values() if s.withheld is not None), None)
    as_read = {b: [s.shot.readings[Quantity.CARRY] for s in here] for b, here in blocks.items()}
    fair = {block: list(standard[block].carries_m) for block in blocks}
    off = {
        block: (standard[block].factor_sd or 0.0) * median(carries)
        for block, carries in as_read.items()
    }
    then, now = (
        max((off[block] for block in side if block in off), default=0.0)
        for side in (_THEN, (Block.AFTER,))
    )
    counted = {
        block: [s.status is not ShotStatus.LEFT_OUT for s in here] for block, here in blocks.items()
    }
    assumed = dict.fromkeys(a for s in standard.values() for a in s.assumed)
    return FairCarry(
        before_read_m=_middle(as_read, counted, _THEN),
        after_read_m=_middle(as_read, counted, (Block.AFTER,)),
        before_m=None if withheld else _middle(fair, counted, _THEN),
        after_m=None if withheld else _middle(fair, counted, (Block.AFTER,)),
        sd_m=0.0 if withheld else hypot(then, now),
        assumed=tuple(assumed),
        withheld=withheld,
    )


def _middle(
    carries: Mapping[Block, Sequence[float | None]],
    counted: Mapping[Block, Sequence[bool]],
    side: tuple[Block, ...],
) -> float | None:
    here = [
        carry
        for block in side
        for carry, counts in zip(carries.get(block, ()), counted.get(block, ()), strict=True)
        if counts and carry is not None
    ]
    return median(here) if here else None


def _with_carry(shot: SortedShot, corrected: Mapping[int, float]) -> SortedShot:
    if shot.shot.number not in corrected:
        return shot
    readings = {**shot.shot.readings, Quantity.CARRY: corrected[shot.shot.number]}
    return replace(shot, shot=replace(shot.shot, readings=readings))
