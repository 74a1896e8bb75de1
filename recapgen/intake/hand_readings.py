"""``readings:`` of the notes: what was counted or paced off by hand."""

import re
from collections.abc import Iterator

from msgspec import Struct
from msgspec.structs import replace

from recapgen.golf.quantity_facts import FACTS
from recapgen.golf.unit_words import unit_words
from recapgen.golf.written_amounts import Unit, own_unit, read_amount, unit_named
from recapgen.intake.blocks import block_in
from recapgen.intake.form import Form, instead, meanings_of
from recapgen.intake.quantities import example_of, size_in, unit_is_missing
from recapgen.intake.yaml_map import ListNode, MapEntry, Node, Scalar, brief, plain_key
from recapgen.model.fix import Change, Cut, Put, Swap, one_of
from recapgen.model.lesson import Declaration
from recapgen.model.people import Coach
from recapgen.model.problem import Code
from recapgen.model.quantity import Dimension, Quantity
from recapgen.model.shots import Block, MissedTo, Shot, ShotTable
from recapgen.model.source import SourceRef
from recapgen.model.units import LengthUnit, SpeedUnit, Units

MOST_BALLS = 300  # a block; nobody counts more by hand
_EXAMPLE = "before: 3 of 10"
_UNIT = "unit"
_PACED_IN = ("ft", "m")
_IN, _OUT = "in", "out"
_OUTCOMES = meanings_of(
    {
        _IN: ("in", "yes", "y", "made", "hit", "holed", "on line", "on", "1", "drin", "dentro",
              "dedans", "入", "성공"),
        _OUT: ("out", "no", "n", "missed", "miss", "off", "0", "daneben", "fuera", "dehors",
               "外", "실패"),
        MissedTo.LEFT: ("left", "l", "links", "izquierda", "gauche", "左", "왼쪽"),
        MissedTo.RIGHT: ("right", "r", "rechts", "derecha", "droite", "右", "오른쪽"),
        MissedTo.SHORT: ("short", "kurz", "corto", "corta", "court", "ショート", "짧음"),
        MissedTo.LONG: ("long", "past", "lang", "largo", "larga", "オーバー", "김"),
    }
)  # fmt: skip
_COUNT = re.compile(r"(\d{1,4})\s*(?:of|out of|from|/|von|de|sur)\s*(\d{1,4})")
_OFFERED = {True: (Quantity.HOLED, Quantity.ON_LINE, Quantity.IN_CIRCLE, Quantity.UP_AND_DOWN),
            False: (Quantity.DISTANCE_LEFT, Quantity.PACE)}  # fmt: skip


class _Ball(Struct, frozen=True):
    """One ball as it was read; ``to`` is where it went instead of in."""

    value: float
    to: MissedTo | None
    where: SourceRef


def read_readings(form: Form, declaration: Declaration | None, coach: Coach) -> ShotTable | None:
    """``readings: {before: [1.2, 0.8], after: 7 of 10}``: a ball each, as shots of the number.

    None where there are none, or where no number says what they are.
    """
    if form.node("readings") is None:
        return None
    if declaration is None:
        if form.node("number") is None:
            form.report(Code.NUMBER_MISSING, form.place("readings"), key="readings")
        return None
    faults = form.costly
    entries = list(form.pairs("readings", _EXAMPLE))
    units = _units(form, entries, declaration, coach)
    balls: dict[Block, list[_Ball]] = {}
    counted = True
    for entry in entries:
        if plain_key(entry.key) == _UNIT:
            continue
        block = block_in(form, "readings", Scalar(entry.key, entry.where, quoted=True))
        if block is None or units is None:
            continue
        counts = _count(form, entry.value, declaration)
        counted = counted and counts is not None
        read = counts if counts is not None else list(_balls(form, entry, declaration, units))
        if len(read) > MOST_BALLS:
            length = {"length": str(len(read)), "most": str(MOST_BALLS)}
            form.report(Code.TOO_MANY, entry.where, key="readings", **length)
            continue
        balls.setdefault(block, []).extend(read)
    in_order = [(block, ball) for block in Block for ball in balls.get(block, ())]
    shots = tuple(
        Shot(
            number=number,
            where=ball.where,
            readings={declaration.quantity: ball.value},
            block=block,
            missed_to=ball.to,
        )
        for number, (block, ball) in enumerate(in_order, 1)
    )
    if form.costly > faults or not shots:
        return None  # of readings that were half read none counts
    return ShotTable(shots, (), by_hand=True, counted=counted)


def _units(
    form: Form, entries: list[MapEntry], declaration: Declaration, coach: Coach
) -> Coach | None:
    """The settings by which bare numbers are read; None where their unit has to be asked for."""
    quantity = declaration.quantity
    if quantity.is_outcome:
        return coach
    for entry in entries:
        if plain_key(entry.key) != _UNIT:
            continue
        words = form.one(_UNIT, entry.value)
        unit = None if words is None else unit_named(words.text)
        if words is None:
            return None
        if unit is None or unit.dimension is not quantity.dimension:
            form.misread(_UNIT, words, ", ".join(unit_words(quantity.dimension).known), None)
            return None
        return _written_in(coach, unit)
    # Who writes in yards still paces a putt off in feet: a bare number is then neither.
    paced_in_yards = quantity.paced and coach.units.length is LengthUnit.YARD
    asking = replace(coach, units_unsaid=(Dimension.LENGTH,)) if paced_in_yards else coach
    bare = (
        words
        for entry in entries
        for words in _parts(entry.value)
        if unit_is_missing(words.text, quantity.dimension, asking, read_amount)
    )
    first = next(bare, None)
    if first is None:
        return coach
    where = SourceRef(form.where.file)
    usual = _PACED_IN if quantity.paced else unit_words(quantity.dimension).usual
    offers = one_of(Put(where, ("readings", _UNIT), unit) for unit in usual)
    facts = {"key": "readings", "found": brief(first.text), "example": example_of(quantity)}
    form.report(Code.UNIT_MISSING, first.where, offers, **facts)
    return None


def _written_in(coach: Coach, unit: Unit) -> Coach:
    """Settings in which a bare number has this unit."""
    units = coach.units
    if unit.dimension is Dimension.LENGTH:
        units = replace(units, length=LengthUnit(unit.sign))
    elif unit.dimension is Dimension.SPEED:
        units = replace(units, speed=SpeedUnit(unit.sign))
    return replace(coach, units=units, units_unsaid=())


def _count(form: Form, node: Node, declaration: Declaration) -> list[_Ball] | None:
    """``7 of 10``, where balls are in or out; None where it is something else."""
    if not isinstance(node, Scalar):
        return None
    match = _COUNT.fullmatch(node.text.strip().casefold())
    if match is None:
        return None
    if not declaration.quantity.is_outcome:
        _unfit(form, node, declaration)
        return []
    were_in, of = int(match[1]), int(match[2])
    if were_in > of or not of:
        offers = instead(node, f"{of} of {were_in}") if of else ()
        form.report(Code.COUNT_IMPOSSIBLE, node.where, offers, found=brief(node.text))
        return []
    ball = [_Ball(1.0, None, node.where)] * were_in
    return ball + [_Ball(0.0, None, node.where)] * (of - were_in)


def _parts(node: Node) -> Iterator[Scalar]:
    """The single readings: of a list, or of words between commas."""
    for item in node.items if isinstance(node, ListNode) else (node,):
        if isinstance(item, Scalar):
            for part in re.split(r"[,;、]\s*(?!\d)|,\s+", item.text):
                if part.strip():
                    yield Scalar(part.strip(), item.where, item.quoted)


def _balls(form: Form, entry: MapEntry, declaration: Declaration, coach: Coach) -> Iterator[_Ball]:
    if not isinstance(entry.value, (Scalar, ListNode)):
        form.report(Code.KEYS_EXPECTED, entry.value.where, key=brief(entry.key), known=_EXAMPLE)
        return
    quantity = declaration.quantity
    for words in _parts(entry.value):
        ball = (
            _outcome(form, words, declaration)
            if quantity.is_outcome
            else _amount(form, words, declaration, coach)
        )
        if ball is not None:
            yield ball


def _outcome(form: Form, words: Scalar, declaration: Declaration) -> _Ball | None:
    plain = plain_key(words.text)
    if plain not in _OUTCOMES and re.search(r"\d", plain):
        _unfit(form, words, declaration)
        return None
    meant = form.meant("readings", words, _OUTCOMES)
    if meant is None:
        return None
    return _Ball(float(meant == _IN), meant if isinstance(meant, MissedTo) else None, words.where)


def _amount(form: Form, words: Scalar, declaration: Declaration, coach: Coach) -> _Ball | None:
    quantity = declaration.quantity
    if quantity.in_clips or (
        plain_key(words.text) in _OUTCOMES
        and read_amount(words.text, quantity.dimension, coach.units) is None
    ):
        _unfit(form, words, declaration)
        return None
    value = size_in(form, "readings", words, quantity.dimension, coach)
    if value is None:
        return None
    low, high = FACTS[quantity].impossible
    if not low <= value <= high:
        facts = {"key": "readings", "found": brief(words.text)}
        unit = own_unit(quantity.dimension, Units())
        least, most = (f"{end:g} {unit.sign}".strip() for end in (low, high))
        form.report(Code.AMOUNT_OUT_OF_RANGE, words.where, least=least, most=most, **facts)
        return None
    return _Ball(value, None, words.where)


def _unfit(form: Form, words: Scalar, declaration: Declaration) -> None:
    """A reading of another kind than the number: of the two, the number may be the slip."""
    number = form.words("number")
    others = _OFFERED[not declaration.quantity.is_outcome]
    ways = (
        (Swap(number.where, number.text, each), *_goal(form, each)) for each in others if number
    )
    offers = one_of(ways)
    facts = {"found": brief(words.text), "number": str(declaration.quantity)}
    facts["example"] = example_of(declaration.quantity)
    form.report(Code.READING_UNFIT, words.where, offers, **facts)


def _goal(form: Form, number: Quantity) -> tuple[Change, ...]:
    """What else has to be said with such a number, or no longer."""
    want = form.words("want")
    if not number.is_outcome:
        way = "zero" if number is Quantity.PACE else "lower"
        return () if want else (Put(SourceRef(form.where.file), ("want",), way),)
    old = (Swap(want.where, want.text, "higher"),) if want else ()
    return (*old, *((Cut(form.place("matters")),) if form.has("matters") else ()))
