"""What is folded on a lesson page: all shots, the conditions, the other numbers."""

from msgspec import Struct
from msgspec.structs import replace

from recapgen.model.carry import Withheld
from recapgen.model.lesson import Conditions
from recapgen.model.quantity import Quantity
from recapgen.model.recap import OtherNumber, Recap
from recapgen.model.shots import Shot, ShotStatus, SortedShot
from recapgen.render.reader import Reader
from recapgen.words.amounts import height, number, percent, quantity_name, speed, temperature
from recapgen.words.catalogue import Words, key_of
from recapgen.words.shot_sentences import tell_assumed, tell_reason, why_withheld

_SAYS_NOTHING = (Withheld.NO_CARRY, Withheld.INDOORS, Withheld.AIR_UNKNOWN)
_MOST_LISTED = 300  # rows beside those compared; a lesson has no more, a season's file has
_MOST_COLUMNS = 4  # beside the declared number; a phone shows no more


class TableRow(Struct, frozen=True):
    """``counts_as`` is its block, or why it does not count."""

    shot: int
    counts_as: str
    cells: tuple[str, ...]


class ShotTableView(Struct, frozen=True):
    """``shots`` is how many there are, ``unlisted`` says how many of them have no row."""

    headings: tuple[str, ...]
    rows: tuple[TableRow, ...]
    tally: str | None
    shots: int
    unlisted: str | None


class ShotFact(Struct, frozen=True):
    name: str
    value: str


class OtherRow(Struct, frozen=True):
    name: str
    then: str
    now: str
    moved: str
    dot: bool


def shot_table(recap: Recap, reader: Reader) -> ShotTableView | None:
    """Every row that was read, the left-out ones with the reason; None without shots.

    None too where the notes hold counts alone: the order of the balls is not recorded.
    """
    if not recap.evidence.shots or recap.evidence.counted:
        return None
    quantities, mishits = columns_shown(recap), _mishits(recap)
    words = reader.words
    tally = recap.evidence.tally
    listed = _listed(recap)
    unlisted = len(recap.evidence.shots) - len(listed)
    return ShotTableView(
        headings=tuple(quantity_name(q, words) for q in quantities),
        rows=tuple(_row(shot, quantities, mishits, reader) for shot in listed),
        tally=None
        if tally is None
        else words.say(
            "page.shots.tally",
            read=tally.read,
            used=tally.used,
            aside=tally.set_aside,
            not_read=tally.not_read,
            left_out=tally.left_out,
        ),
        shots=len(recap.evidence.shots),
        unlisted=words.count("page.shots.unlisted", unlisted) if unlisted else None,
    )


def _listed(recap: Recap) -> tuple[SortedShot, ...]:
    """Every shot that is compared, and as many of the others as a page can hold."""
    room = _MOST_LISTED
    listed = []
    for shot in recap.evidence.shots:
        if recap.number.comparison is None or shot.status is not ShotStatus.USED:
            room -= 1
            if room < 0:
                continue
        listed.append(shot)
    return tuple(listed)


def conditions_by_block(conditions: Conditions, reader: Reader) -> tuple[ShotFact, ...]:
    """The conditions of the lesson, and below them what was other in one block."""
    common = conditions_told(replace(conditions, blocks=()), reader)
    own = tuple(
        ShotFact(
            reader.words.listed((fact.name, reader.words.say(f"page.block.{key_of(block)}"))),
            fact.value,
        )
        for block, there in conditions.blocks
        for fact in conditions_told(there, reader)
        if fact not in common
    )
    return (*common, *own)


def standard_air_told(recap: Recap, reader: Reader) -> tuple[str, ...]:
    """The carries in standard air beside those as read, where the verdict says nothing of it."""
    air, number = recap.evidence.fair_carry, recap.number.comparison
    if air is None or (number is not None and number.air is not None):
        return ()
    if air.withheld in _SAYS_NOTHING:
        return ()
    words = reader.words
    if air.withheld is not None:
        return (words.say("air.unsaid", why=why_withheld(air, words)),)
    carries = (air.before_m, air.after_m, air.before_read_m, air.after_read_m)
    if None in carries:
        return ()
    before, after, before_read, after_read = (
        reader.size(Quantity.CARRY, carry) for carry in carries if carry is not None
    )
    told = words.say(
        "air.standard", before=before, after=after, before_read=before_read, after_read=after_read
    )
    return (told, *tell_assumed(air, words))


def conditions_told(conditions: Conditions, reader: Reader) -> tuple[ShotFact, ...]:
    """The conditions that were noted, one line each."""
    words, units = reader.words, reader.units
    lines: list[tuple[str, str]] = []
    if conditions.surface is not None:
        lines.append(("surface", words.say(f"page.surface.{key_of(conditions.surface)}")))
    if conditions.indoors is not None:
        where = "indoors" if conditions.indoors else "outdoors"
        lines.append(("place", words.say(f"page.place.{where}")))
    if conditions.ball is not None:
        lines.append(("ball", conditions.ball))
    if conditions.temperature_c is not None:
        lines.append(("temperature", temperature(conditions.temperature_c, units, words)))
    if conditions.humidity_percent is not None:
        lines.append(("humidity", percent(conditions.humidity_percent / 100, words)))
    if conditions.pressure_hpa is not None:
        at = "sea" if conditions.pressure_at_sea_level else "here"
        told = number(conditions.pressure_hpa, 0, words)
        lines.append(("pressure", words.say(f"page.pressure.{at}", n=told)))
    if conditions.wind is not None:
        wind = conditions.wind
        told = words.say(
            "page.wind",
            speed=speed(wind.speed_mps, units, words),
            bearing=number(wind.from_deg, 0, words),
            height=height(wind.height_m, units, words),
        )
        lines.append(("wind", told if wind.speed_mps else words.say("page.wind.none")))
    if conditions.target_deg is not None:
        told = words.say("page.bearing", n=number(conditions.target_deg, 0, words))
        lines.append(("target", told))
    if conditions.altitude_m is not None:
        lines.append(("altitude", height(conditions.altitude_m, units, words)))
    return tuple(ShotFact(words.say(f"page.conditions.{name}"), value) for name, value in lines)


def other_rows(others: tuple[OtherNumber, ...], reader: Reader) -> tuple[OtherRow, ...]:
    """Numbers that were looked at but not chosen: middles and how far they lie apart."""
    return tuple(
        OtherRow(
            name=quantity_name(other.quantity, reader.words),
            then=reader.amount(other.quantity, other.before_median),
            now=reader.amount(other.quantity, other.after_median),
            moved=reader.words.say(
                "page.others.moved",
                estimate=reader.signed(other.quantity, other.estimate),
                low=reader.signed(other.quantity, other.low90),
                high=reader.signed(other.quantity, other.high90),
            ),
            dot=other.dot,
        )
        for other in others
    )


def columns_shown(recap: Recap) -> tuple[Quantity, ...]:
    """The declared number first, then the fullest columns in the order of the ball's story."""
    declared = recap.number.comparison.quantity if recap.number.comparison else None
    counts = {
        quantity: sum(quantity in shot.shot.readings for shot in recap.evidence.shots)
        for quantity in Quantity
    }
    present = [q for q in Quantity if counts[q] and q is not declared]
    fullest = sorted(present, key=lambda q: -counts[q])[:_MOST_COLUMNS]
    rest = [q for q in present if q in fullest]
    return (*((declared,) if declared else ()), *rest)


def _row(
    sorted_shot: SortedShot,
    quantities: tuple[Quantity, ...],
    mishits: frozenset[int],
    reader: Reader,
) -> TableRow:
    shot = sorted_shot.shot
    return TableRow(
        shot=shot.number,
        counts_as=_counts_as(sorted_shot, mishits, reader.words),
        cells=tuple(
            _cell(shot, quantity, reader) if quantity in shot.readings else ""
            for quantity in quantities
        ),
    )


def _cell(shot: Shot, quantity: Quantity, reader: Reader) -> str:
    """A reading, and where a ball went that was not in."""
    told = reader.amount(quantity, shot.readings[quantity])
    if shot.missed_to is None:
        return told
    return reader.words.listed((told, reader.words.say(f"side.{shot.missed_to}")))


def _counts_as(sorted_shot: SortedShot, mishits: frozenset[int], words: Words) -> str:
    """The block of a used shot; else what became of it, and the reason."""
    shot, block = sorted_shot.shot, sorted_shot.block
    if sorted_shot.status is not ShotStatus.USED:
        status = words.say(f"page.status.{key_of(sorted_shot.status)}")
        reason = tell_reason(sorted_shot, words)
        return words.say("page.status.because", status=status, reason=reason) if reason else status
    told = words.say(f"page.block.{key_of(block)}") if block else ""
    if shot.number not in mishits:
        return told
    mishit = words.say("page.mishit-tag", tag=shot.tag) if shot.tag else words.say("page.mishit")
    return words.listed((told, mishit))


def _mishits(recap: Recap) -> frozenset[int]:
    number = recap.number.comparison
    if number is None:
        return frozenset()
    return number.before.mishit_numbers | number.after.mishit_numbers
