"""The declared number as data: what the page says, and what it takes to work it out again.

The fields are described in ``book/recap.schema.json``. No name is in it.
"""

import json
from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from typing import Any

from recapgen.evidence.shift import WIDENING
from recapgen.model.carry import FairCarry
from recapgen.model.evidence import (
    Circle,
    Comparison,
    GuardResult,
    Interval,
    Sample,
    ShareChange,
    Shift,
    SpreadChange,
)
from recapgen.model.lesson import Declaration, Direction, Want
from recapgen.model.quantity import Quantity
from recapgen.model.recap import Recap
from recapgen.model.shots import SortedShot
from recapgen.model.units import Units, unit_of

_Scale = Callable[[float | None], float | None]


def numbers_text(recap: Recap, units: Units) -> str:
    """The file beside a student's page: the one number of that page, in the student's units."""
    comparison = recap.number.comparison
    told = {
        "date": recap.on.isoformat(),
        "club": recap.notes.club,
        "number": number_data(comparison, None, units),
        "verdict": comparison.verdict.value if comparison else None,
        "verdict_uncapped": comparison.verdict_uncapped.value if comparison else None,
        "declared": comparison.declared.value if comparison else None,
        "guards": guards_data(comparison, units),
        "workings": workings_data(comparison, recap.evidence.shots, units),
    }
    return data_text(told)


def numbers_path(recap: Recap) -> str | None:
    """Where that file lies beside the pages; None where the page has no number."""
    return None if recap.number.comparison is None else recap.page.removesuffix(".html") + ".json"


def data_text(told: Mapping[str, Any]) -> str:
    """UTF-8 JSON in a fixed order, without NaN.

    Raises ValueError where a number is not finite: a bug further up.
    """
    return json.dumps(told, ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def workings_data(
    comparison: Comparison | None, shots: Sequence[SortedShot], units: Units
) -> dict[str, Any] | None:
    """Everything beyond the readings that the verdict was made from."""
    if comparison is None:
        return None
    _, scale = reading_scale(comparison.quantity, units)
    place = {sorted_shot.shot.number: i for i, sorted_shot in enumerate(shots, 1)}
    return {
        "order": {
            "before": [place.get(number) for number in comparison.before.numbers],
            "after": [place.get(number) for number in comparison.after.numbers],
        },
        "pairs": comparison.before.n * comparison.after.n,
        "pairs_won": _plain_or_none(comparison.pairs_won),
        "rank90": comparison.rank90,
        "rank80": comparison.rank80,
        "widened_by": WIDENING,
        "held_at": plain_figure(comparison.held_at),
        "setup_sd": scale(comparison.setup_sd),
        "hidden_by": comparison.hidden_by.value if comparison.hidden_by else None,
        "by_share": comparison.by_share,
        "closing": {"n": comparison.closing_n, "shift": scale(comparison.closing_shift)},
        "mishit_kinds": [
            {"tag": kind.tag, "before": kind.before, "after": kind.after}
            for kind in comparison.mishit_kinds
        ],
        "verdict_put_back": comparison.verdict_put_back.value
        if comparison.verdict_put_back
        else None,
        "spread": _spread(comparison.spread, scale),
        "finish": _finish(comparison, units),
        "swings": [swing.value for swing in comparison.swings] if comparison.swings else None,
        "planned": {"before": comparison.planned_before, "after": comparison.planned_after},
        "hit": {"before": comparison.hit_before, "after": comparison.hit_after},
        "sealed_at": _time(comparison.sealed_at),
        "sealed_before_at": [at.isoformat() for at in comparison.sealed_before_at],
        "first_after_at": _time(comparison.first_after_at),
        "differs_from_seal": comparison.differs_from_seal,
    }


def guards_data(comparison: Comparison | None, units: Units) -> list[dict[str, Any]]:
    return [_guard(result, units) for result in comparison.guards] if comparison else []


def number_data(
    comparison: Comparison | None, declaration: Declaration | None, units: Units
) -> dict[str, Any] | None:
    """The declared number then and now; None where none was declared."""
    if comparison is None:
        return None if declaration is None else _undecided(declaration, units)
    unit, scale = reading_scale(comparison.quantity, units)
    return {
        "name": comparison.quantity.value,
        "unit": unit,
        "want": _want(comparison.want, scale),
        "before": _block(comparison.before, scale),
        "after": _block(comparison.after, scale),
        "shift": _shift(comparison.as_read, scale, with80=False),
        "good_shift": _shift(comparison.good, scale, with80=True),
        "matters": scale(comparison.smallest_change),
        "matters_from": comparison.smallest_change_from.value,
        "drift": comparison.drift.value,
        "setup_moved": comparison.setup_moved,
        "lowered_by_mishits": comparison.lowered_by_mishits,
        "overshot": comparison.overshot,
        "inside": _share(comparison.inside),
        "mishits": _share(comparison.mishits),
        "air": _air(comparison.air, scale),
    }


def _air(air: FairCarry | None, scale: _Scale) -> dict[str, Any] | None:
    if air is None:
        return None
    return {
        "before_read": scale(air.before_read_m),
        "after_read": scale(air.after_read_m),
        "before": scale(air.before_m),
        "after": scale(air.after_m),
        "sd": scale(air.sd_m),
        "assumed": [one.value for one in air.assumed],
        "withheld": air.withheld.value if air.withheld else None,
    }


def _undecided(declaration: Declaration, units: Units) -> dict[str, Any]:
    """A number that was declared but has no shots to be judged by."""
    unit, scale = reading_scale(declaration.quantity, units)
    nothing: dict[str, Any] = {"n": 0, "median": None, "values": [], "shots": [], "mishit": []}
    return {
        "name": declaration.quantity.value,
        "unit": unit,
        "want": _want(declaration.want, scale),
        "before": nothing,
        "after": nothing,
        "shift": None,
        "good_shift": None,
        "matters": scale(declaration.smallest_change),
        "matters_from": None if declaration.smallest_change is None else "declared",
        "drift": None,
        "setup_moved": None,
        "lowered_by_mishits": None,
        "overshot": None,
        "inside": None,
        "mishits": None,
        "air": None,
    }


def reading_scale(quantity: Quantity, units: Units) -> tuple[str, _Scale]:
    """The unit's name and what takes an inside value into it, to six significant digits."""
    unit, size = unit_of(quantity, units)
    return unit, lambda value: None if value is None else plain_figure(value / size)


def _want(want: Want, scale: _Scale) -> str | dict[str, float | None]:
    if want.direction is Direction.WINDOW:
        return {"low": scale(want.low), "high": scale(want.high)}
    return want.direction.value


def _block(sample: Sample, scale: _Scale) -> dict[str, Any]:
    return {
        "n": sample.n,
        "median": scale(sample.median),
        "values": [scale(value) for value in sample.values],
        "shots": list(sample.numbers),
        "mishit": list(sample.mishit),
    }


def _shift(shift: Shift | None, scale: _Scale, *, with80: bool) -> dict[str, Any] | None:
    if shift is None:
        return None
    told = {"estimate": scale(shift.estimate), **_ends(shift.ci90, "90", scale)}
    return told | _ends(shift.ci80, "80", scale) if with80 else told


def _ends(interval: Interval, level: str, scale: _Scale) -> dict[str, float | None]:
    return {f"low{level}": scale(interval.low), f"high{level}": scale(interval.high)}


def _share(change: ShareChange | None) -> dict[str, Any] | None:
    if change is None:
        return None
    return {
        "before": {"count": change.before.count, "n": change.before.n},
        "after": {"count": change.after.count, "n": change.after.n},
        "difference": plain_figure(change.difference),
        "low90": plain_figure(change.newcombe90.low),
        "high90": plain_figure(change.newcombe90.high),
    }


def plain_figure(value: float) -> float:
    return float(f"{value:.6g}")


def _guard(result: GuardResult, units: Units) -> dict[str, Any]:
    unit, scale = reading_scale(result.guard.quantity, units)
    return {
        "name": result.guard.quantity.value,
        "kind": result.guard.kind.value,
        "unit": unit,
        "margin": scale(result.guard.margin),
        "finding": result.finding.value,
        "before_median": scale(result.before_median),
        "after_median": scale(result.after_median),
        "shift": _shift(result.shift, scale, with80=False),
    }


def _spread(spread: SpreadChange | None, scale: _Scale) -> dict[str, Any] | None:
    if spread is None:
        return None
    return {
        "before": scale(spread.before),
        "after": scale(spread.after),
        "ratio": plain_figure(spread.ratio),
        "low95": plain_figure(spread.ci95.low),
        "high95": plain_figure(spread.ci95.high),
        "finding": spread.finding.value,
    }


def _finish(comparison: Comparison, units: Units) -> dict[str, Any] | None:
    if comparison.dispersion is None:
        return None
    unit, scale = reading_scale(Quantity.CARRY, units)
    return {
        "unit": unit,
        "before": _circle(comparison.dispersion.before, scale),
        "after": _circle(comparison.dispersion.after, scale),
    }


def _circle(circle: Circle, scale: _Scale) -> dict[str, Any]:
    ends = circle.radius90_m
    return {
        "n": circle.n,
        "distance": scale(circle.distance_m),
        "side": scale(circle.side_m),
        "radius": scale(circle.radius_m),
        "low90": None if ends is None else scale(ends.low),
        "high90": None if ends is None else scale(ends.high),
    }


def _time(at: datetime | None) -> str | None:
    return None if at is None else at.isoformat()


def _plain_or_none(value: float | None) -> float | None:
    return None if value is None else plain_figure(value)
