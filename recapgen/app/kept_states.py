"""The build state of what is not made anew."""

from datetime import date

from msgspec.structs import replace

from recapgen.app.consent_first import ConsentNow, in_force
from recapgen.publish.build_state import PartState


def as_it_stands(consent: ConsentNow, before: PartState | None, today: date) -> PartState:
    """The state of a site that is not made anew: never counted as showing more than is agreed."""
    return as_it_was(before, in_force(consent.granted), today, consent.granted.changes_on)


def as_it_was(
    before: PartState | None, granted: frozenset[str], today: date, changes_on: date | None
) -> PartState:
    """The state from before, with no more consent than there is now; else one that never stands."""
    if before is not None:
        return replace(before, granted=tuple(sorted(granted & frozenset(before.granted))))
    return PartState(
        recipe="",
        inputs={},
        made={},
        made_on=today,
        changes_on=changes_on,
        problems=(),
        granted=tuple(sorted(granted)),
    )


def knew(before: PartState | None) -> frozenset[str]:
    """The names that what is up was clean of when it was made."""
    return frozenset(before.knew if before is not None else ())
