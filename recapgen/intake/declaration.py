"""The one number: what it should do, what change is worth having, what it may not cost."""

import re

from msgspec import Struct

from recapgen.golf.unit_words import unit_words
from recapgen.golf.written_amounts import read_number, read_window
from recapgen.intake.clock_words import read_clock_span
from recapgen.intake.form import Form, hand_offers, instead
from recapgen.intake.quantities import (
    amount_in,
    example_of,
    quantity_in,
    unit_is_missing,
)
from recapgen.intake.spelling import spelling
from recapgen.intake.yaml_map import Scalar, brief, plain_key
from recapgen.model.clock_marks import ClockSpan
from recapgen.model.fix import Cut, Put, Swap, certain, one_of
from recapgen.model.lesson import (
    MOST_PLANNED,
    Declaration,
    Direction,
    Guard,
    GuardKind,
    Planned,
    Want,
)
from recapgen.model.people import Coach, Hand
from recapgen.model.problem import Code
from recapgen.model.quantity import Quantity
from recapgen.model.source import SourceRef

_DIRECTIONS = {
    **dict.fromkeys(("higher", "more", "up", "bigger", "longer", "faster"), Direction.HIGHER),
    **dict.fromkeys(("lower", "less", "down", "smaller", "shorter", "slower"), Direction.LOWER),
}
# What a right-hander's plus is called, and what its minus; a left-hander's are the other way.
_PLAYERS_WORDS = {
    Quantity.CLUB_PATH: (frozenset({"in to out"}), frozenset({"out to in"})),
    Quantity.FACE_ANGLE: (frozenset({"open"}), frozenset({"closed", "shut"})),
    Quantity.FACE_TO_PATH: (frozenset({"open"}), frozenset({"closed", "shut"})),
    Quantity.CURVE: (frozenset({"fade", "slice"}), frozenset({"draw", "hook"})),
    Quantity.SPIN_AXIS: (frozenset({"fade", "slice"}), frozenset({"draw", "hook"})),
}
_FOR_BOTH_HANDS = {
    Quantity.ATTACK_ANGLE: (frozenset({"up", "shallow"}), frozenset({"down", "steep"})),
    Quantity.TRAVEL_ACROSS: (frozenset({"right"}), frozenset({"left"})),
    Quantity.TRAVEL_UP: (frozenset({"up"}), frozenset({"down"})),
    Quantity.PACE: (frozenset({"long", "past"}), frozenset({"short"})),
    **dict.fromkeys(
        (quantity for quantity in Quantity if quantity.mirrored),
        (frozenset({"right"}), frozenset({"left"})),
    ),
}
_MORE = re.compile(r"(more|less)\s+(?:of\s+an?\s+)?(.+)")
_ONE_WORD = {"shallower": "more shallow", "steeper": "more steep"}
_PLANNED_KEYS = spelling("before", "after", then="before", now="after")
_ZERO = frozenset({
    "square", "squarer", "straight", "straighter", "neutral", "zero",
    "more square", "more straight", "more neutral", "to square", "towards square",
})  # fmt: skip
_EITHER_WAY = (Direction.HIGHER.value, Direction.LOWER.value)
# Of another language's words those that mean one of the two whatever the number; "more" may not.
_PLAINLY = {
    **dict.fromkeys(
        ("höher", "plus haut", "plus élevé", "más alto", "高く", "高い", "높게", "높은", "더 높게"),
        Direction.HIGHER,
    ),
    **dict.fromkeys(
        ("niedriger", "tiefer", "plus bas", "más bajo", "低く", "低い", "낮게", "낮은", "더 낮게"),
        Direction.LOWER,
    ),
}
_NEVER_BIGGER = frozenset({"left", "right"})
_CHOSEN = {
    **dict.fromkeys(("before the after shots", "before", "beforehand", "in advance"), True),
    **dict.fromkeys(("afterwards", "after", "after the after shots", "later"), False),
}
_NOTED = re.compile(
    r"(?:noted|written down)(?:\s+on\s+(?:a|the|my)\s+phone)?\s+at\s+(\d{1,2}[:h]\d{2}(?::\d{2})?)",
    re.IGNORECASE,
)
_SPREAD = re.compile(
    r"(.+?)\s+(?:spread|scatter)|(?:spread|scatter)\s+(?:of\s+)?(.+)", re.IGNORECASE
)
_BETWEEN = re.compile(r"\s+to\s+|\s+and\s+|\.\.+|…|(?<=\d)\s*[-–]\s*(?=[\d.,])")
_LEADING_NUMBER = re.compile(r"[-+−]?\d+(?:[.,]\d+)?")


class Aim(Struct, frozen=True):
    """What notes and seal both say of a number."""

    quantity: Quantity
    want: Want
    smallest_change: float | None
    guard: Guard | None


def read_declaration(form: Form, coach: Coach, hand: Hand | None = None) -> Declaration | None:
    """``number:`` with ``want:``, ``matters:``, ``must not lose:`` and ``chosen:``.

    ``hand`` is needed only for a want in the player's terms ("more in-to-out").
    """
    chosen, noted_s = _chosen(form)
    aim = read_aim(form, coach, hand)
    if aim is None:
        return None
    where = form.place("number")
    return Declaration(
        aim.quantity, aim.want, aim.smallest_change, aim.guard, chosen, where, noted_s
    )


def _chosen(form: Form) -> tuple[bool, int | None]:
    """``chosen: before the after-shots``, or ``noted on a phone at 10:19`` with that time."""
    words = form.words("chosen")
    noted = None if words is None else _NOTED.fullmatch(words.text.strip())
    if words is None or noted is None:
        return form.choice("chosen", _CHOSEN) or False, None
    span = read_clock_span(Scalar(noted[1], words.where, words.quoted))
    if not isinstance(span, ClockSpan):
        form.report(Code.SPAN_UNREADABLE, words.where, found=brief(words.text))
        return False, None
    return True, span.first_s


def read_aim(form: Form, coach: Coach, hand: Hand | None = None) -> Aim | None:
    """The number and what it should do; None without a number, or where it is not clear."""
    number = form.words("number")
    if number is None:
        for key in ("want", "matters", "must not lose"):
            if form.node(key) is not None:
                form.report(Code.NUMBER_MISSING, form.place(key), key=key)
        return None
    quantity = quantity_in(form, "number", number)
    if quantity is None:
        return None
    want = (
        _want_in(form, quantity, form.words("want"))
        if quantity.is_outcome
        else _want(form, quantity, coach, hand)
    )
    smallest_change = form.words("matters")
    if smallest_change is not None and quantity.is_outcome:
        offers = certain(Cut(form.place("matters")))
        found = {"found": brief(smallest_change.text), "number": str(quantity)}
        form.report(Code.SHARE_WITHOUT_MATTERS, smallest_change.where, offers, **found)
        smallest_change = None
    change = (
        amount_in(form, "matters", smallest_change, quantity, coach) if smallest_change else None
    )
    guard = _guard(form, quantity, coach)
    return None if want is None else Aim(quantity, want, change, guard)


def read_planned(form: Form) -> Planned:
    """``planned: {before: 10, after: 12}``: counts, since nobody knows yet which shots."""
    planned = form.form("planned", _PLANNED_KEYS)
    if planned is None:
        return Planned()
    before, after = (planned.whole(key, 1, MOST_PLANNED) for key in ("before", "after"))
    return Planned(before, after)


def _want(form: Form, quantity: Quantity, coach: Coach, hand: Hand | None) -> Want | None:
    words = form.words("want")
    if words is None:
        if form.node("want") is None and not form.perhaps("want"):
            file = SourceRef(form.where.file)
            offers = one_of(Put(file, ("want",), each) for each in _EITHER_WAY)
            form.report(Code.WANT_MISSING, form.place("number"), offers, number=quantity)
        return None
    direction = _direction(plain_key(words.text), quantity)
    if direction is not None:
        return _for_the_hand(direction, hand, form, words)
    window = read_window(words.text, quantity.dimension, coach.units)
    found = {"found": brief(words.text), "number": quantity}
    if window is None:
        meant = _PLAINLY.get(plain_key(words.text))
        ways = _EITHER_WAY if meant is None else (meant.value,)
        form.report(Code.WANT_UNREADABLE, words.where, instead(words, *ways), **found)
        return None
    if unit_is_missing(words.text, quantity.dimension, coach, read_window):
        found = {"key": "want", "found": brief(words.text), "example": example_of(quantity)}
        units = (f"{words.text.strip()} {unit}" for unit in unit_words(quantity.dimension).usual)
        form.report(Code.UNIT_MISSING, words.where, instead(words, *units), **found)
        return None
    if _upside_down(words.text) or window[0] == window[1]:
        offers = instead(words, *_turned(words.text), Direction.LOWER)
        form.report(Code.WANT_UPSIDE_DOWN, words.where, offers, **found)
        return None
    return Want(Direction.WINDOW, *window)


def _want_in(form: Form, quantity: Quantity, words: Scalar | None) -> Want | None:
    """A ball that is in or out can only be wanted in, said or unsaid."""
    if words is not None and _DIRECTIONS.get(plain_key(words.text)) is not Direction.HIGHER:
        found = {"found": brief(words.text), "number": quantity}
        form.report(Code.WANT_UNREADABLE, words.where, instead(words, "higher"), **found)
        return None
    return Want(Direction.HIGHER)


class _Way(Struct, frozen=True):
    """A direction as a right-hander's; ``mirrored`` where it is the other for a left-hander.

    Less of a side ends at zero, whichever hand; more of it has no end. Neither has an attack
    angle: less down is shallower, and past level still is.
    """

    direction: Direction
    mirrored: bool


def _direction(text: str, quantity: Quantity) -> _Way | None:
    """Of "higher" and the like, "more in-to-out", "less open", "square", "steeper"."""
    if text in _DIRECTIONS:
        return _Way(_DIRECTIONS[text], mirrored=False)
    if text in _ZERO and (quantity in _PLAYERS_WORDS or quantity in _FOR_BOTH_HANDS):
        return _Way(Direction.ZERO, mirrored=False)
    match = _MORE.fullmatch(_ONE_WORD.get(text, text))
    if match is None:
        return None
    for mirrored, words in ((True, _PLAYERS_WORDS), (False, _FOR_BOTH_HANDS)):
        plus, minus = words.get(quantity, (frozenset(), frozenset()))
        if match[2] not in plus | minus:
            continue
        if match[1] == "less" and quantity is not Quantity.ATTACK_ANGLE:
            return _Way(Direction.ZERO, mirrored=False)
        rises = (match[2] in plus) == (match[1] == "more")
        return _Way(Direction.HIGHER if rises else Direction.LOWER, mirrored)
    return None


def _for_the_hand(way: _Way, hand: Hand | None, form: Form, words: Scalar) -> Want | None:
    if not way.mirrored:
        return Want(way.direction)
    if hand is None:
        offers = hand_offers(form.where.file)
        form.report(Code.WANT_HAND_NEEDED, words.where, offers, found=brief(words.text))
        return None
    turned = {Direction.HIGHER: Direction.LOWER, Direction.LOWER: Direction.HIGHER}
    return Want(way.direction if hand is Hand.RIGHT else turned[way.direction])


def _upside_down(text: str) -> bool:
    """True for "44 to 38": is that a window, or from 44 down to 38?"""
    if _NEVER_BIGGER & set(re.findall(r"[a-z]+", text.casefold())):
        return False
    ends = [_LEADING_NUMBER.search(end) for end in _BETWEEN.split(text.strip())]
    if len(ends) != 2 or not (ends[0] and ends[1]):  # noqa: PLR2004 - a window has two ends
        return False
    first, second = read_number(ends[0][0]), read_number(ends[1][0])
    return first is not None and second is not None and first > second


def _turned(text: str) -> tuple[str, ...]:
    """A window with its two ends in the other order; none where they are the same."""
    low, high = (end.strip() for end in _BETWEEN.split(text.strip()))
    numbers = [_LEADING_NUMBER.search(end) for end in (low, high)]
    first, last = (number[0] if number else "" for number in numbers)
    if first == last:
        return ()
    if any(map(str.isalpha, low)):  # a unit of its own goes with its number
        return (f"{high} to {low}",)
    return (f"{low.replace(first, last, 1)} to {high.replace(last, first, 1)}",)


def _guard(form: Form, declared: Quantity, coach: Coach) -> Guard | None:
    guards = []
    for entry in form.pairs("must not lose", "carry: 5 m"):
        spread = _SPREAD.fullmatch(entry.key.strip())
        name = (spread[1] or spread[2]) if spread else entry.key
        quantity = _guarded(form, Scalar(name, entry.where, quoted=True), spread is not None)
        value = form.one(entry.key, entry.value)
        if quantity is None or value is None:
            continue
        margin = amount_in(form, brief(entry.key), value, quantity, coach)
        kind = GuardKind.SPREAD if spread else GuardKind.LEVEL
        if margin is not None and quantity is declared and kind is GuardKind.LEVEL:
            offers = one_of([Swap(entry.where, entry.key, f"{quantity} spread"), Cut(entry.where)])
            form.report(Code.GUARD_IS_THE_NUMBER, entry.where, offers, number=quantity)
        elif margin is not None:
            guards.append(Guard(quantity, kind, margin, entry.where))
    for extra in guards[1:]:
        others = (tuple(Cut(g.where) for g in guards if g is not kept) for kept in guards)
        form.report(Code.SECOND_GUARD, extra.where, one_of(others), first=guards[0].quantity)
    return guards[0] if guards else None


def _guarded(form: Form, words: Scalar, spread: bool) -> Quantity | None:
    """As ``quantity_in``; "side spread" alone is the carry's, where shots land."""
    if spread and plain_key(words.text) == "side":
        return Quantity.CARRY_SIDE
    return quantity_in(form, "must not lose", words)
