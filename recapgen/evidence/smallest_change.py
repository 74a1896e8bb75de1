"""The smallest change worth having."""

from collections.abc import Sequence

import numpy as np

from recapgen.evidence.phases import robust_sd
from recapgen.model.evidence import Sample, SmallestChangeFrom

_BLOCKS_POOLED = 3
_OF_OWN_SPREAD = 0.5  # convention: half of what this student's shots usually vary
_SETUP_OF_SPREAD = 0.3  # convention: error of putting a device down again
_ENOUGH = 3


def usual_spread(now: Sample, earlier: Sequence[Sample]) -> float:
    """The student's robust standard deviation, from the last three before-blocks.

    ``earlier`` oldest first, same club and number; ``now`` is today's block.
    0 where no block holds three shots.
    """
    blocks = [np.array(s.values) for s in (*earlier, now)[-_BLOCKS_POOLED:] if s.n >= _ENOUGH]
    return robust_sd(*blocks) if blocks else 0.0


def settle_smallest_change(
    declared: float | None, usual_sd: float, resolution: float, accuracy: float | None
) -> tuple[float, SmallestChangeFrom]:
    """The largest of what was declared and what the device can tell apart, and which it was.

    ``accuracy`` is the device's error (one s.d.) where something was moved, else None.
    Where nothing was declared, half of ``usual_sd``.
    """
    own = (
        (_OF_OWN_SPREAD * usual_sd, SmallestChangeFrom.DEFAULT)
        if declared is None
        else (declared, SmallestChangeFrom.DECLARED)
    )
    floors = (
        (resolution, SmallestChangeFrom.RESOLUTION),
        (accuracy or 0.0, SmallestChangeFrom.ACCURACY),
    )
    return max((own, *floors), key=lambda amount: amount[0])


def setup_error(usual_sd: float, accuracy: float | None) -> float:
    """Error of a moved device, ball or line (one s.d.)."""
    return max(_SETUP_OF_SPREAD * usual_sd, accuracy or 0.0)
