"""Rounding as people do it: a half goes away from nought, and is judged in decimals."""

from decimal import ROUND_HALF_UP, Decimal

_TRUSTED_DIGITS = 12  # those beyond are what binary fractions and units changed there and back add


def rounded(value: float, places: int = 0) -> Decimal:
    """``value`` with ``places`` decimals: 0.25 is 0.3, 2.675 is 2.68; nothing has no minus.

    What has no bound stays without.
    """
    told = Decimal(f"{value:.{_TRUSTED_DIGITS}g}")
    if not told.is_finite():
        return told
    near = told.quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP)
    return near or abs(near)


def whole(value: float) -> int:
    """``value`` to the nearest whole number: 2.5 is 3."""
    return int(rounded(value))
