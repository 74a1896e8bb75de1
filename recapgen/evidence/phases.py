"""The readings of one block, or of the before- and the closing block together."""

from collections.abc import Sequence
from math import isfinite

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from recapgen.evidence.arrays import Floats
from recapgen.model.evidence import Sample
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block, ShotStatus, SortedShot

BEFORE = (Block.BEFORE, Block.CLOSING)
"""The closing block repeats the old feel, so it counts as before."""
AFTER = (Block.AFTER,)

_FLAG_AT = 3.5  # robust standard deviations
_FLAG_FROM = 8  # shots; in smaller blocks the flag hits good strikes


class Phase(Struct, frozen=True):
    """Readings of one number in time order, all arrays (n,).

    ``order`` is each ball's place among those of the compared blocks, as if these followed each
    other; ``closing`` marks the closing block.
    """

    order: npt.NDArray[np.int64]
    numbers: tuple[int, ...]
    values: Floats
    mishit: npt.NDArray[np.bool_]
    closing: npt.NDArray[np.bool_]
    tags: tuple[str | None, ...]

    def __len__(self) -> int:
        return len(self.numbers)

    def only(self, wanted: npt.NDArray[np.bool_]) -> "Phase":
        """The readings where ``wanted``, their flags unchanged."""
        keep = np.flatnonzero(wanted)
        return Phase(
            order=self.order[keep],
            numbers=tuple(self.numbers[i] for i in keep),
            values=self.values[keep],
            mishit=self.mishit[keep],
            closing=self.closing[keep],
            tags=tuple(self.tags[i] for i in keep),
        )


def phase(
    shots: Sequence[SortedShot],
    blocks: tuple[Block, ...],
    quantity: Quantity,
    *,
    put_back: bool = False,
) -> Phase:
    """All readings of ``quantity`` in ``blocks``.

    ``put_back`` adds the shots that the coach left out, except impossible ones.
    """
    compared = [s for s in shots if s.block in BEFORE + AFTER]
    rows = [
        (place, s)
        for place, s in enumerate(compared)
        if s.block in blocks
        and (_counts(s) or (put_back and s.left_out_by_coach and s.shot.impossible is None))
        and isfinite(s.shot.readings.get(quantity, np.nan))
    ]
    values = np.array([s.shot.readings[quantity] for _, s in rows], dtype=np.float64)
    tags = tuple(s.shot.tag for _, s in rows)
    return Phase(
        order=np.array([place for place, _ in rows], dtype=np.int64),
        numbers=tuple(s.shot.number for _, s in rows),
        values=values,
        mishit=_far_off(values) | np.array([tag is not None for tag in tags], dtype=np.bool_),
        closing=np.array([s.block is Block.CLOSING for _, s in rows], dtype=np.bool_),
        tags=tags,
    )


def _counts(shot: SortedShot) -> bool:
    """A shot without the declared number may still have another."""
    return shot.status in (ShotStatus.USED, ShotStatus.NOT_READ)


def sample(readings: Phase, quantity: Quantity) -> Sample:
    """The block as it travels on; the middle of what is in or out is the share that was in."""
    middle = np.mean if quantity.is_outcome else np.median
    return Sample(
        numbers=readings.numbers,
        values=tuple(readings.values.tolist()),
        mishit=tuple(readings.mishit.tolist()),
        median=float(middle(readings.values)) if len(readings) else None,
        robust_sd=robust_sd(readings.values) if len(readings) > 1 else None,
    )


def robust_sd(*blocks: Floats) -> float:
    """Standard deviation of good strikes, which the odd bad one hardly moves.

    1.4826 x the median absolute deviation, each of ``blocks`` about its own median; where
    that is 0, the width of the middle half / 1.349. Unit of the readings.
    """
    deviations = np.concatenate([block - np.median(block) for block in blocks])
    from_middle = 1.4826 * float(np.median(np.abs(deviations)))
    if from_middle > 0:
        return from_middle
    low, high = np.percentile(deviations, (25, 75))
    return float(high - low) / 1.349


def _far_off(values: Floats) -> npt.NDArray[np.bool_]:
    """Readings that stand far outside their own block: taken for mishits."""
    if len(values) < _FLAG_FROM:
        return np.zeros(len(values), dtype=np.bool_)
    away = np.abs(values - np.median(values))
    usual = 1.4826 * float(np.median(away))
    return away > _FLAG_AT * usual if usual > 0 else np.zeros(len(values), dtype=np.bool_)
