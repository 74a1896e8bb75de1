"""Amounts as people read them: their own units, sides as words, the language's number forms.

Inside, a number is m/s, m, degrees or revolutions per minute, plus to the right of the
target or upwards. Here it becomes "6.3° right", "142 yd", "2,450 rpm".
"""

from datetime import date, time
from typing import assert_never

from babel.dates import format_date, format_time
from babel.numbers import format_percent
from msgspec import Struct

from recapgen.model.evidence import Sample
from recapgen.model.people import Hand
from recapgen.model.quantity import Dimension, HandWords, Quantity, Sides
from recapgen.model.rounding import rounded
from recapgen.model.units import LengthUnit, TemperatureUnit, Units, unit_of
from recapgen.words.catalogue import MINUS, Words, key_of

_PLACE = "\ufffc"  # where the figure will stand
_WHOLE_FROM = 100.0  # distances from here on are told without decimals


def quantity_name(quantity: Quantity, words: Words) -> str:
    """The trade's name: "club path"."""
    return words.say(f"quantity.{key_of(quantity.value)}.name")


def quantity_yours(quantity: Quantity, words: Words) -> str:
    """The name as the student's own, for within a sentence: "your club path"."""
    return words.say(f"quantity.{key_of(quantity.value)}.yours")


def quantity_meaning(quantity: Quantity, words: Words) -> str:
    """What it is, in one plain sentence."""
    return words.say(f"quantity.{key_of(quantity.value)}.meaning")


def quantity_also(quantity: Quantity, words: Words) -> str:
    """What else moves it, beside the swing; "" where nothing is named."""
    key = f"quantity.{key_of(quantity.value)}.also"
    return words.say(key) if words.has(key) else ""


class LargeAmount(Struct, frozen=True):
    """An amount set large: the figure, and the rest of it smaller, before and behind."""

    figure: str
    rest: str = ""
    before: str = ""


def amount(quantity: Quantity, value: float, units: Units, hand: Hand | None, words: Words) -> str:
    """A reading with its unit and, where it has one, its side: "6.3° right", "in"."""
    if quantity.is_outcome:
        return words.say(f"outcome.{'in' if value else 'out'}")
    figure = _reading(quantity, value, units, words)
    return _with_side(quantity, value, units, hand, words, figure=figure)


def middle_told(
    quantity: Quantity, sample: Sample, units: Units, hand: Hand | None, words: Words
) -> LargeAmount | None:
    """The middle of a block, set large: "132 m", or of balls in or out "7 of 10"; None of none."""
    if sample.median is None:
        return None
    if not quantity.is_outcome:
        return large_amount(quantity, sample.median, units, hand, words)
    were_in = number(sum(sample.values), 0, words)
    told = words.say("chart.share.counted", count=_PLACE, n=sample.n)
    before, _, rest = told.partition(_PLACE)
    return LargeAmount(were_in, rest.strip(), before.strip())


def middle(
    quantity: Quantity, sample: Sample, units: Units, hand: Hand | None, words: Words
) -> str:
    """The same in a row of words."""
    told = middle_told(quantity, sample, units, hand, words)
    if told is None or sample.median is None:
        return "–"
    if not quantity.is_outcome:
        return amount(quantity, sample.median, units, hand, words)
    return words.say("chart.share.counted", count=told.figure, n=sample.n)


def large_amount(
    quantity: Quantity, value: float, units: Units, hand: Hand | None, words: Words
) -> LargeAmount:
    """The same, with the figure apart: the degree and the minus stay with it."""
    figure = _reading(quantity, value, units, words)
    told = _with_side(quantity, value, units, hand, words, figure=_PLACE)
    before, _, rest = told.partition(_PLACE)
    if rest.startswith("°"):
        figure, rest = f"{figure}°", rest[1:]
    return LargeAmount(figure, rest.strip(), before.strip())


def size(quantity: Quantity, value: float, units: Units, words: Words) -> str:
    """How much, whichever way: a difference, a spread, a margin. "5.5°", "2.1 m"."""
    return _with_unit(quantity, _figure(quantity, value, units, words), units, words)


def signed(quantity: Quantity, value: float, units: Units, words: Words) -> str:
    """A difference with its sign; sideways, plus is to the right: "+0.3°", "−2.1 m", "0.0°"."""
    figure = _with_sign(_figure(quantity, value, units, words), value, plus="+")
    return _with_unit(quantity, figure, units, words)


def span(
    quantity: Quantity, ends: tuple[float, float], units: Units, hand: Hand | None, words: Words
) -> str:
    """From one reading to another: "2.0° left to 2.0° right"."""
    low, high = ends
    return words.say(
        "amount.span",
        low=amount(quantity, low, units, hand, words),
        high=amount(quantity, high, units, hand, words),
    )


def sides(quantity: Quantity, hand: Hand | None, words: Words) -> tuple[str, str] | None:
    """The words for minus and plus, or None where a number has no sides.

    Face to path is open or closed where the hand is known; all else is left and right,
    down and up, before and past the ball.
    """
    pair = side_keys(quantity, hand)
    return None if pair is None else (words.say(f"side.{pair[0]}"), words.say(f"side.{pair[1]}"))


def side_keys(quantity: Quantity, hand: Hand | None) -> tuple[str, str] | None:
    """The keys of those words, without their file's "side."."""
    match quantity.sides:
        case Sides.NONE:
            return None
        case Sides.DOWN_UP:
            return "down", "up"
        case Sides.BEFORE_PAST:
            return "before-ball", "past-ball"
        case Sides.SHORT_LONG:
            return "short", "long"
        case Sides.CLOSED_OPEN if hand is not None:
            return ("closed", "open") if hand is Hand.RIGHT else ("open", "closed")
        case Sides.LEFT_RIGHT | Sides.CLOSED_OPEN:
            return "left", "right"
        case never:
            assert_never(never)


def hand_word(quantity: Quantity, value: float, hand: Hand | None, words: Words) -> str | None:
    """What the trade calls this side for the student's hand ("in-to-out"), where it has a word."""
    key = hand_key(quantity, value, hand)
    return None if key is None else words.say(f"side.{key}")


def hand_key(quantity: Quantity, value: float, hand: Hand | None) -> str | None:
    """The key of that word, without its file's "side."."""
    if hand is None or value == 0:
        return None
    plus_for_right_hander = (value > 0) == (hand is Hand.RIGHT)
    match quantity.hand_words:
        case HandWords.NONE:
            return None
        case HandWords.PATH:
            return "in-to-out" if plus_for_right_hander else "out-to-in"
        case HandWords.FACE:
            return "open" if plus_for_right_hander else "closed"
        case HandWords.SHAPE:
            return "fade" if plus_for_right_hander else "draw"
        case never:
            assert_never(never)


def in_their_units(quantity: Quantity, value: float, units: Units) -> float:
    """A value from inside units into the units somebody reads."""
    return value / unit_of(quantity, units)[1]


def unit_key(quantity: Quantity, units: Units) -> str:
    """The unit's key in the catalogue: "deg", "m/s", "yd", "rpm", "ratio", "widths"."""
    return unit_of(quantity, units)[0] or "ratio"


def decimals(quantity: Quantity, scaled: float, units: Units) -> int:
    """How many decimals help; ``scaled`` is in their units."""
    match quantity.dimension:
        case Dimension.RATIO | Dimension.WIDTHS:
            return 2
        case Dimension.SPIN | Dimension.OUTCOME:
            return 0
        case Dimension.LENGTH:
            whole_feet = units.length is LengthUnit.FOOT and not (quantity.small or quantity.paced)
            return 0 if whole_feet or abs(scaled) >= _WHOLE_FROM else 1
        case Dimension.SPEED | Dimension.ANGLE:
            return 1


def number(value: float, places: int, words: Words) -> str:
    """A number in the language's form, with as many decimals as ``places``."""
    return words.figure(value, places)


def percent(share: float, words: Words) -> str:
    """A share of 1 in whole hundredths: "50%"."""
    return format_percent(rounded(share, 2), locale=words.locale)


def day(on: date, words: Words) -> str:
    """A date in words: "11 April 2027"; the first of a month as the language has it."""
    key = "date.first" if on.day == 1 else "date.day"
    return format_date(on, words.say(key), locale=words.locale)


def short_day(on: date, words: Words) -> str:
    """A date where there is little room: "11 Apr"."""
    key = "date.short.first" if on.day == 1 else "date.short"
    return format_date(on, words.say(key), locale=words.locale)


def month(on: date, words: Words) -> str:
    """A month with its year: "April 2027"."""
    return format_date(on, words.say("date.month"), locale=words.locale)


def clock(at: time, words: Words) -> str:
    """A time of day, by the 24 hours: "10:21"."""
    return format_time(at, words.say("time.clock"), locale=words.locale)


def temperature(celsius: float, units: Units, words: Words) -> str:
    if units.temperature is TemperatureUnit.FAHRENHEIT:
        return words.say("unit.F", n=number(celsius * 9 / 5 + 32, 0, words))
    return words.say("unit.C", n=number(celsius, 0, words))


def speed(mps: float, units: Units, words: Words) -> str:
    return size(Quantity.BALL_SPEED, mps, units, words)


def height(metres: float, units: Units, words: Words) -> str:
    """A height above the sea or the ground, in whole metres or feet."""
    unit = LengthUnit.FOOT if units.length.imperial else LengthUnit.METRE
    return words.say(f"unit.{unit.value}", n=number(metres / unit.in_m, 0, words))


def _figure(quantity: Quantity, value: float, units: Units, words: Words) -> str:
    scaled = abs(in_their_units(quantity, value, units))
    return number(scaled, decimals(quantity, scaled, units), words)


def _reading(quantity: Quantity, value: float, units: Units, words: Words) -> str:
    """The figure, with its sign where no word for a side takes that place."""
    figure = _figure(quantity, value, units, words)
    return _with_sign(figure, value, plus="") if quantity.sides is Sides.NONE else figure


def _with_sign(figure: str, value: float, plus: str) -> str:
    """The one place where a figure gets its sign; nothing has none."""
    if value == 0 or not _not_nothing(figure):
        return figure
    return f"{plus if value > 0 else MINUS}{figure}"


def _with_unit(quantity: Quantity, figure: str, units: Units, words: Words) -> str:
    return words.say(f"unit.{unit_key(quantity, units)}", n=figure)


def _with_side(
    quantity: Quantity, value: float, units: Units, hand: Hand | None, words: Words, *, figure: str
) -> str:
    """``figure`` with its unit and the word for the side; straight has none, nor a launch up."""
    text = _with_unit(quantity, figure, units, words)
    ends = sides(quantity, hand, words)
    up = quantity is Quantity.LAUNCH_ANGLE and value > 0
    if ends is None or up or value == 0 or not _not_nothing(_figure(quantity, value, units, words)):
        return text
    return words.say("amount.with-side", amount=text, side=ends[value > 0])


def _not_nothing(text: str) -> bool:
    return any(c.isdigit() and int(c) for c in text)
