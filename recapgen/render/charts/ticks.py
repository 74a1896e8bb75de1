"""Round numbers for an axis."""

from math import ceil, floor, log10


def round_ticks(low: float, high: float, at_most: int) -> tuple[float, ...]:
    """At most ``at_most`` round numbers between ``low`` and ``high``; the low one first."""
    for step in _round_steps((high - low) / at_most):
        first, last = ceil(low / step - 1e-9), floor(high / step + 1e-9)
        if last - first + 1 <= at_most:
            return tuple(round(k * step, 10) for k in range(first, last + 1))
    raise AssertionError("steps grow until few enough fit")


def tick_places(ticks: tuple[float, ...]) -> int:
    """The decimals that tell the ticks apart."""
    return max((_places(t) for t in ticks), default=0)


def _places(tick: float) -> int:
    text = f"{tick:.6f}".rstrip("0")
    return len(text.split(".")[1])


def _round_steps(least: float) -> tuple[float, ...]:
    power = floor(log10(max(least, 1e-9)))
    return tuple(
        lead * 10.0**exponent for exponent in range(power, power + 3) for lead in (1, 2, 5)
    )
