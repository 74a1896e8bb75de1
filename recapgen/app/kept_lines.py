"""The ledger's lines of what is not made anew."""

from dataclasses import replace
from datetime import date

from recapgen.app.consent_first import Standing, in_force
from recapgen.publish.ledger import Line


def as_it_stands(standing: Standing, before: Line | None, today: date) -> Line:
    """The line of a site that is not made anew: never counted as showing more than is agreed."""
    return as_it_was(before, in_force(standing.granted), today, standing.granted.changes_on)


def as_it_was(
    before: Line | None, granted: frozenset[str], today: date, changes_on: date | None
) -> Line:
    """The line from before, with no more consent than there is now; else one that never stands."""
    if before is not None:
        return replace(before, granted=tuple(sorted(granted & frozenset(before.granted))))
    return Line(
        recipe="",
        inputs={},
        made={},
        made_on=today,
        changes_on=changes_on,
        problems=(),
        granted=tuple(sorted(granted)),
    )


def knew(before: Line | None) -> frozenset[str]:
    """The names that what is up was clean of when it was made."""
    return frozenset(before.knew if before is not None else ())
