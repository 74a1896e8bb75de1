"""One block of shots alone in standard air."""

from collections.abc import Sequence

from recapgen.golf.clubs import Family
from recapgen.golf.launches import Readings
from recapgen.golf.standard_carry import CarriedBlock, carries_in_standard_air
from recapgen.model.carry import StandardCarry
from recapgen.model.lesson import Conditions


def in_standard_air(
    shots: Sequence[Readings], conditions: Conditions, family: Family | None
) -> StandardCarry:
    (told,) = carries_in_standard_air([CarriedBlock(shots, conditions, family)])
    return told
