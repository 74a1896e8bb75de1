"""Amounts as people write them, read into the program's own units.

The words for units are those of everyday writing; factors are exact by definition (international
mile, yard, foot and inch). Right of the target, up, and ahead of the ball are positive.
"""

import math
import re
from collections.abc import Mapping

from msgspec import Struct

from recapgen.model.quantity import Dimension
from recapgen.model.units import LengthUnit, SpeedUnit, TemperatureUnit, Units

DEG_PER_RADIAN = 180 / math.pi
NO_READING_FROM = 1e9  # in any unit: a figure with so many digits is a slip
HPA_PER_INCH_OF_MERCURY = 33.86389
HPA_PER_MM_OF_MERCURY = 1.33322387


class Unit(Struct, frozen=True):
    """A unit by its usual sign; ``factor`` turns it into the program's own unit."""

    sign: str
    dimension: Dimension
    factor: float


_SPELLINGS: Mapping[str, tuple[str, Dimension, float]] = {
    "mph mi/h miles/hour milesperhour mile/h miles/h mi/hr m.p.h": (
        SpeedUnit.MPH,
        Dimension.SPEED,
        SpeedUnit.MPH.in_mps,
    ),
    "km/h kmh kph km/hr kmph kilometres/hour kilometers/hour kilometresperhour "
    "kilometersperhour km/u": (SpeedUnit.KMH, Dimension.SPEED, SpeedUnit.KMH.in_mps),
    "m/s mps m/sec m.s-1 ms-1 metres/second meters/second metrespersecond meterspersecond": (
        SpeedUnit.MPS,
        Dimension.SPEED,
        1.0,
    ),
    "ft/s fps ft/sec feet/second feetpersecond": (
        SpeedUnit.FTPS,
        Dimension.SPEED,
        SpeedUnit.FTPS.in_mps,
    ),
    "m metre metres meter meters mtr mtrs mètre mètres metro metros メートル 미터": (
        LengthUnit.METRE,
        Dimension.LENGTH,
        1.0,
    ),
    "yd yds yard yards y yarda yardas verge verges ヤード 야드": (
        LengthUnit.YARD,
        Dimension.LENGTH,
        LengthUnit.YARD.in_m,
    ),
    "ft foot feet fuß fuss pied pieds pie pies フィート 피트 ' ′": (
        LengthUnit.FOOT,
        Dimension.LENGTH,
        LengthUnit.FOOT.in_m,
    ),
    "cm cms centimetre centimetres centimeter centimeters": (
        LengthUnit.CENTIMETRE,
        Dimension.LENGTH,
        LengthUnit.CENTIMETRE.in_m,
    ),
    'in ins inch inches " ″': (LengthUnit.INCH, Dimension.LENGTH, LengthUnit.INCH.in_m),
    "mm mms millimetre millimetres millimeter millimeters": (
        LengthUnit.MILLIMETRE,
        Dimension.LENGTH,
        LengthUnit.MILLIMETRE.in_m,
    ),
    "deg degs degree degrees ° º ˚ grad degré degrés grado grados 度 도": (
        "deg",
        Dimension.ANGLE,
        1.0,
    ),
    "rad rads radian radians": ("rad", Dimension.ANGLE, DEG_PER_RADIAN),
    "rpm r/min rev/min revs/min rpms u/min tr/min 1/min min-1 revolutionsperminute": (
        "rpm",
        Dimension.SPIN,
        1.0,
    ),
    "rps rev/s revs/s hz": ("rps", Dimension.SPIN, 60.0),
    "% percent pct": ("%", Dimension.RATIO, 0.01),
    "widths width": ("widths", Dimension.WIDTHS, 1.0),
}

UNITS: Mapping[str, Unit] = {
    word: Unit(str(sign), dimension, factor)
    for words, (sign, dimension, factor) in _SPELLINGS.items()
    for word in words.split()
}


def unit_named(text: str) -> Unit | None:
    """The unit that a word or sign stands for ("mph", "[m/s]", "yds", "°"), or None."""
    word = re.sub(r"\s+", "", text.casefold().strip(" \t[](){}.:")).replace("⁻¹", "-1")
    return UNITS.get(word) or UNITS.get(word.replace("per", "/", 1))


def own_unit(dimension: Dimension, units: Units) -> Unit:  # noqa: PLR0911  one a dimension
    """The unit that a bare number of ``dimension`` has for somebody who writes in ``units``."""
    match dimension:
        case Dimension.SPEED:
            return Unit(units.speed, dimension, units.speed.in_mps)
        case Dimension.LENGTH:
            return Unit(units.length, dimension, units.length.in_m)
        case Dimension.ANGLE:
            return Unit("deg", dimension, 1.0)
        case Dimension.SPIN:
            return Unit("rpm", dimension, 1.0)
        case Dimension.RATIO:
            return Unit("", dimension, 1.0)
        case Dimension.WIDTHS:
            return Unit("widths", dimension, 1.0)
        case Dimension.OUTCOME:
            return Unit("%", dimension, 0.01)


_MINUS = str.maketrans({"−": "-", "–": "-", "—": "-", "‐": "-", "‑": "-", "﹣": "-", "－": "-"})
_NUMBER = re.compile(r"[+-]?(?:\d+(?:[.,]\d+)*|[.,]\d+)(?:[eE][+-]?\d{1,3})?")
_GROUPED = re.compile(r"[+-]?[1-9]\d{0,2}(?:([.,])\d{3})(?:\1\d{3})*")


def read_number(text: str, *, decimal: str | None = None, thousands: bool = False) -> float | None:
    """A number with a decimal point or a decimal comma; None where it is no number.

    ``decimal`` is the mark in use where that is known. Otherwise a single group of three digits
    after a comma ("1,250") may be thousands or decimals and is not guessed (None), unless
    ``thousands`` says that groups are meant.
    """
    bare = re.sub(r"(?<=\d)[\s'’_](?=\d{3}(?!\d))", "", text.strip().translate(_MINUS))
    bare = re.sub(r"^([+-])\s+", r"\1", bare)
    if not _NUMBER.fullmatch(bare):
        return None
    if thousands and _GROUPED.fullmatch(bare):
        plain: str | None = bare.replace(".", "").replace(",", "")
    elif decimal is not None:
        plain = _with_mark(bare, decimal)
    else:
        plain = _by_its_own_marks(bare)
    value = float(plain) if plain is not None else math.nan
    return value if abs(value) < NO_READING_FROM else None


def _with_mark(bare: str, decimal: str) -> str | None:
    """The number as Python writes it, its decimal mark known and the other one grouping."""
    group = "." if decimal == "," else ","
    whole, _, part = bare.partition(decimal)
    if group in part or decimal in part:
        return None
    if group in whole and not _GROUPED.fullmatch(whole):
        return None
    return whole.replace(group, "") + (f".{part}" if part else "")


def _by_its_own_marks(bare: str) -> str | None:
    """The number as Python writes it; with a point and a comma, the last is the decimal mark."""
    marks = [c for c in bare if c in ".,"]
    if len(set(marks)) > 1:
        return _with_mark(bare, marks[-1])
    if len(marks) > 1 or marks == [","]:
        grouped = _GROUPED.fullmatch(bare) is not None
        if len(marks) > 1:
            return bare.replace(".", "").replace(",", "") if grouped else None
        return None if grouped else bare.replace(",", ".")
    return bare


_RIGHT = "right r rt rechts droite derecha dcha. dcha der. der 右 みぎ 우 우측 오른쪽"
_LEFT = "left l lt links gauche izquierda izda. izda izq. izq 左 ひだり 좌 좌측 왼쪽"
SIDEWAYS: Mapping[str, float] = {
    **dict.fromkeys(_RIGHT.split(), 1.0),
    **dict.fromkeys(_LEFT.split(), -1.0),
}
_SIDES: Mapping[str, float] = {
    **SIDEWAYS,
    **dict.fromkeys(("up", "u", "ahead", "forward", "past", "long"), 1.0),
    **dict.fromkeys(("down", "d", "behind", "back", "short"), -1.0),
}
# A coach's notes may be in any language, where D is right (derecha, droite) as well as down.
_IN_NOTES: Mapping[str, float] = {
    word: side for word, side in _SIDES.items() if word not in {"d", "u"}
}
_AMOUNT_TEXT = re.compile(
    r"""(?P<lead>[^\W\d_]+\.?(?:\s+of)?)?\s*
        (?P<number>[+-]?\s*[.,]?\d(?:[.,]?\d|['’\s_](?=\d{3}(?!\d))\d)*(?:e[+-]?\d{1,3})?)\s*
        (?P<rest>(?:[^\W\d_]|[°º˚%/.'"′″(\[]|1/min).*)?""",
    re.VERBOSE,
)
_NOUGHT = frozenset({"square", "straight", "zero", "nought", "neutral", "level", "none", "nothing"})


class Amount(Struct, frozen=True):
    """An amount in parts; ``side`` is +1 or -1, None where no side was named."""

    number: float
    unit: Unit | None
    side: float | None

    def inside(self, unit: Unit, side: float) -> float:
        return self.number * (self.unit or unit).factor * side


def _split_rest(rest: str, sides: Mapping[str, float]) -> tuple[Unit | None, float | None] | None:
    """The unit and the side behind a number, in either order; None where a word is neither."""
    unit: Unit | None = None
    side: float | None = None
    whole = unit_named(rest) if rest else None
    if whole is not None:
        return whole, None
    for word in re.sub(r"\b(of|the|to|target|ball)\b", " ", rest).split():
        if (named := sides.get(word.strip("()[].")) or 0.0) and side is None:
            side = named
        elif (found := unit_named(word)) is not None and unit is None:
            unit = found
        else:
            glued = re.fullmatch(r"([a-z/°º˚%]+?)\s*\(?(left|right|[^\W\d_])\)?", word)
            unit = unit_named(glued.group(1)) if glued and unit is None else None
            if glued is None or unit is None or side is not None or glued[2] not in sides:
                return None
            side = sides[glued[2]]
    return unit, side


def take_apart(
    text: str,
    *,
    decimal: str | None = None,
    thousands: bool = False,
    sides: Mapping[str, float] = _SIDES,
) -> Amount | None:
    """A number with the unit and the side written about it ("L 2.5", "3 deg left", "12,5 m").

    ``decimal`` and ``thousands`` as for ``read_number``; ``sides`` are the words for a side in
    small letters, +1 or -1. None where it is anything else.
    """
    bare = " ".join(text.translate(_MINUS).casefold().split())
    if bare in _NOUGHT:
        return Amount(0.0, None, None)
    match = _AMOUNT_TEXT.fullmatch(bare)
    behind = _split_rest(match["rest"] or "", sides) if match else None
    if match is None or behind is None:
        return None
    number = read_number(match["number"], decimal=decimal, thousands=thousands)
    unit, side = behind
    if match["lead"]:
        lead = sides.get(match["lead"].removesuffix(" of").strip())
        if lead is None or side is not None:
            return None
        side = lead
    return None if number is None else Amount(number, unit, side)


def _fitting(text: str, dimension: Dimension) -> Amount | None:
    """An amount of ``dimension``; None for another unit, and for a minus beside a side."""
    amount = take_apart(text, thousands=dimension is Dimension.SPIN, sides=_IN_NOTES)
    if amount is None or (amount.unit is not None and amount.unit.dimension is not dimension):
        return None
    return None if amount.side is not None and amount.number < 0 else amount


def read_amount(text: str, dimension: Dimension, units: Units) -> float | None:
    """One amount ("1 deg", "155 yd", "1,5 m", "2 left", "R 3.1"), in the program's unit.

    A bare number takes ``units``; "left", "down" and "behind" make it negative. None where the
    text is no such amount, names a unit of another dimension, or gives a minus and a side.
    """
    amount = _fitting(text, dimension)
    if amount is None:
        return None
    return amount.inside(own_unit(dimension, units), 1.0 if amount.side is None else amount.side)


_BETWEEN = re.compile(r"\s*(?:\bto\b|\band\b|\bthrough\b|\.\.+|…)\s*")
_DASHED = re.compile(r"(?<=[\da-z°%\"'.])\s*-\s*(?=[+-]?[\d.,])")
_AROUND = re.compile(r"(?P<centre>.*?)\s*(?:±|\+/-|\+-|plus or minus)\s*(?P<reach>.+)")


def _ends(text: str) -> list[str]:
    bare = re.sub(r"^(from|between)\s+", "", " ".join(text.translate(_MINUS).casefold().split()))
    bare = re.sub(r"\b(left|right) of\b( the)? target", r"\1", bare)
    for mark in (_BETWEEN, _DASHED):
        parts = [p for p in mark.split(bare) if p]
        if len(parts) == 2:  # noqa: PLR2004 - a window has two ends
            return parts
    return []


def _read_around(text: str, dimension: Dimension, units: Units) -> tuple[float, float] | None:
    bare = " ".join(text.casefold().split())
    bare = re.sub(r"^within\s+(?:±\s*)?", "± ", bare)
    if either := re.fullmatch(r"(.+?)\s+(?:either side|either way|each side|both sides)", bare):
        bare = f"± {either[1]}"
    match = _AROUND.fullmatch(bare)
    if match is None:
        return None
    reach = _fitting(match["reach"], dimension)
    centre = _fitting(match["centre"] or "0", dimension)
    if reach is None or centre is None or reach.number < 0 or reach.side is not None:
        return None
    own = reach.unit or centre.unit or own_unit(dimension, units)
    middle, half = centre.inside(own, centre.side or 1.0), reach.inside(own, 1.0)
    return middle - half, middle + half


def read_window(text: str, dimension: Dimension, units: Units) -> tuple[float, float] | None:
    """A window ("38 to 44 m", "2 left to 2 right", "-2 to 2 deg", "38-44", "40 m ± 2 m").

    Returned low end first, in the program's unit. A unit or side written once holds for both
    ends. None where the text is no window.
    """
    ends = [_fitting(end, dimension) for end in _ends(text)]
    if len(ends) != 2:  # noqa: PLR2004 - a window has two ends
        return _read_around(text, dimension, units)
    first, second = ends
    if first is None or second is None:
        return None
    own = first.unit or second.unit or own_unit(dimension, units)
    if (first.unit is None) != (second.unit is None):
        own = first.unit or second.unit or own
    side = first.side or second.side or 1.0
    low = first.inside(own, first.side or (side if first.number > 0 else 1.0))
    high = second.inside(own, second.side or (side if second.number > 0 else 1.0))
    return (low, high) if low <= high else (high, low)


def read_temperature_c(text: str, units: Units) -> float | None:
    """A temperature in degrees Celsius ("14 C", "57 °F", "14"); a bare number takes ``units``."""
    match = re.fullmatch(
        r"(.*?\d)\s*(?:°|º|deg(?:rees?)?)?\s*(c|f|celsius|centigrade|fahrenheit)?",
        " ".join(text.casefold().split()),
    )
    number = read_number(match[1]) if match else None
    if match is None or number is None:
        return None
    scale = (match[2] or units.temperature).casefold()
    fahrenheit = scale.startswith(TemperatureUnit.FAHRENHEIT.casefold())
    return (number - 32) * 5 / 9 if fahrenheit else number


_POINTS = tuple("n nne ne ene e ese se sse s ssw sw wsw w wnw nw nnw".split())  # noqa: SIM905 - a row
_POINT_WORDS = {"north": "n", "east": "e", "south": "s", "west": "w"}


def read_bearing_deg(text: str) -> float | None:
    """Degrees clockwise from north, 0 to under 360 ("070", "250°", "SW", "north-west")."""
    bare = text.casefold().strip()
    point = re.sub(r"[\s-]", "", bare)
    for word, letter in _POINT_WORDS.items():
        point = point.replace(word, letter)
    if point in _POINTS:
        return _POINTS.index(point) * 22.5
    match = re.fullmatch(r"(\d{1,3}(?:[.,]\d+)?)\s*(?:°|º|deg(?:rees?)?)?", bare)
    number = read_number(match[1]) if match else None
    return number % 360 if number is not None and number <= 360 else None  # noqa: PLR2004


def read_percent(text: str) -> float | None:
    """A percentage, 0 to 100 ("60 %", "60", "60 percent")."""
    match = re.fullmatch(r"([\d.,]+)\s*(?:%|percent|per cent|pct)?", text.casefold().strip())
    number = read_number(match[1]) if match else None
    return number if number is not None and 0 <= number <= 100 else None  # noqa: PLR2004


def read_pressure_hpa(text: str) -> float | None:
    """An air pressure in hPa ("1009 hPa", "1009 mbar", "29.8 inHg", "757 mmHg", "1009")."""
    match = re.fullmatch(
        r"([\d.,\s']+?)\s*(hpa|mbar|mb|millibars?|kpa|pa|in\s?hg|inches|mm\s?hg|torr)?",
        text.casefold().strip(),
    )
    number = read_number(match[1], thousands=True) if match else None
    if match is None or number is None:
        return None
    scale = {
        "kpa": 10.0,
        "pa": 0.01,
        "inhg": HPA_PER_INCH_OF_MERCURY,
        "inches": HPA_PER_INCH_OF_MERCURY,
        "mmhg": HPA_PER_MM_OF_MERCURY,
        "torr": HPA_PER_MM_OF_MERCURY,
    }
    return number * scale.get(re.sub(r"\s", "", match[2] or ""), 1.0)
