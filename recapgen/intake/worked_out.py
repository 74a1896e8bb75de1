"""What follows from a lesson's readings by physics, and where they contradict each other."""

import math
from collections.abc import Iterator, Mapping, Sequence

from msgspec.structs import replace

from recapgen.golf.air import air_of, wind_on_target
from recapgen.golf.derived import Derived, derive
from recapgen.golf.flight import Weather
from recapgen.golf.flown_together import weather_of_each
from recapgen.intake.shot_spans import block_of
from recapgen.model.lesson import Conditions, Notes, conditions_in
from recapgen.model.people import Coach
from recapgen.model.problem import Checked, Code, Problem
from recapgen.model.quantity import Quantity
from recapgen.model.row_rules import Check, RowRule, leans_on
from recapgen.model.shots import Shot, ShotTable, WorkedFrom, WorkedOut

BREEZE_MPS = 3.0  # from here on what a wind does to a carry is known too poorly to doubt a reading
MOST_LINES_NAMED = 8
_EXACT = frozenset({WorkedFrom.SPEEDS, WorkedFrom.FACE_AND_PATH})
_FROM_LAUNCH = frozenset(
    {Check.CARRY_FAR_FROM_LAUNCH, Check.APEX_FAR_FROM_LAUNCH, Check.DESCENT_FAR_FROM_LAUNCH}
)


def work_out(table: ShotTable, notes: Notes, coach: Coach) -> Checked[ShotTable]:
    """The table with what follows from its readings, and doubts where they disagree.

    Rows that cannot be are left alone. Where the declared number is in no column but is plain
    arithmetic of two others (face less path, ball speed over club speed), it counts as read,
    and the table says how it was worked out.
    """
    shots = list(table.shots)
    sound = [at for at, s in enumerate(shots) if s.impossible is None and s.readings]
    if sound:
        worked = _derived([shots[at] for at in sound], notes, coach)
        for at, shot in zip(sound, worked, strict=True):
            shots[at] = shot
    problems = tuple(_disagreements(table, shots))
    number = notes.declaration.quantity if notes.declaration else None
    way = _way_to(number, shots) if number is not None else None
    if number is not None and way is not None:
        shots = [_taken_as_read(shot, number) for shot in shots]
    return Checked(replace(table, shots=tuple(shots), worked_number=way), problems)


def _derived(shots: Sequence[Shot], notes: Notes, coach: Coach) -> Iterator[Shot]:
    """The shots of all blocks, worked out at once, each in the air of its own block."""
    quantities = {quantity for shot in shots for quantity in shot.readings}
    columns = {q: [shot.readings.get(q, math.nan) for shot in shots] for q in quantities}
    clubs = [shot.club or notes.club for shot in shots]
    blocks = [block_of(notes.spans, shot.number) or shot.block for shot in shots]
    noted = {
        block: conditions_in(notes.conditions, block, coach.altitude_m)
        for block in dict.fromkeys(blocks)
    }
    which = [list(noted).index(block) for block in blocks]
    weather = weather_of_each([_weather(conditions) for conditions in noted.values()], which)
    found = derive(columns, clubs, weather)
    by_row = _by_row(found, len(shots))
    for at, (shot, block) in enumerate(zip(shots, blocks, strict=True)):
        wind = noted[block].wind
        blowing = wind is not None and wind.speed_mps > BREEZE_MPS
        rules = tuple(
            r for r in found.doubts.get(at, ()) if not (blowing and r.check in _FROM_LAUNCH)
        )
        yield replace(shot, doubts=(*shot.doubts, *rules), derived=by_row[at] or None)


def _weather(conditions: Conditions) -> Weather:
    """What balls flew through; standard air indoors and where the day's is not known."""
    air = None if conditions.indoors else air_of(conditions)
    if air is None:
        return Weather()
    if conditions.wind is None or conditions.target_deg is None:
        return Weather(air.density_kg_m3)
    wind = wind_on_target(conditions.wind, conditions.target_deg)
    return Weather(air.density_kg_m3, wind.along_mps, wind.across_mps, wind.height_m)


def _by_row(found: Derived, rows: int) -> list[dict[Quantity, WorkedOut]]:
    by_row: list[dict[Quantity, WorkedOut]] = [{} for _ in range(rows)]
    for worked in found.worked:
        for at, (value, doubt) in enumerate(
            zip(worked.values.tolist(), worked.doubt.tolist(), strict=True)
        ):
            if math.isfinite(value):
                by_row[at][worked.quantity] = WorkedOut(value, doubt, worked.way)
    return by_row


def _disagreements(table: ShotTable, shots: Sequence[Shot]) -> Iterator[Problem]:
    """One for each rule that was added; what rests on a calculated column is stated on the page."""
    doubtful: dict[RowRule, list[Shot]] = {}
    for before, shot in zip(table.shots, shots, strict=True):
        for rule in shot.doubts[len(before.doubts) :]:
            if not leans_on(rule, table.calculated):
                doubtful.setdefault(rule, []).append(shot)
    for rule, rows in doubtful.items():
        lines = ", ".join(str(shot.where.line) for shot in rows[:MOST_LINES_NAMED])
        facts = {"rows": str(len(rows)), "lines": lines}
        yield Problem(Code.SHOTS_ROW_DOUBTFUL, rows[0].where, facts, rule=rule)


def _way_to(number: Quantity, shots: Sequence[Shot]) -> WorkedFrom | None:
    """How the declared number follows, where no row has a reading of it."""
    if any(number in shot.readings for shot in shots):
        return None
    ways = (shot.derived[number].way for shot in shots if shot.derived and number in shot.derived)
    way = next(ways, None)
    return way if way in _EXACT else None


def _taken_as_read(shot: Shot, number: Quantity) -> Shot:
    derived: Mapping[Quantity, WorkedOut] = shot.derived or {}
    if number not in derived:
        return shot
    rest = {quantity: worked for quantity, worked in derived.items() if quantity is not number}
    readings = {**shot.readings, number: derived[number].value}
    return replace(shot, readings=readings, derived=rest or None)
