"""A seal means the same when it is read back, whatever units the coach writes by then."""

from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import example, given
from hypothesis import strategies as st

from recapgen.desk.sealing import seal_text
from recapgen.intake.seal_file import read_seal
from recapgen.model.aim import same_aim
from recapgen.model.lesson import Direction, Guard, GuardKind, Seal, Want
from recapgen.model.people import Coach
from recapgen.model.quantity import Quantity
from recapgen.model.source import SourceRef
from recapgen.model.units import LengthUnit, SpeedUnit, Units

SIDED = {q for q in Quantity if q.sideways} | {Quantity.ATTACK_ANGLE, Quantity.TRAVEL_UP}
AMOUNTS = [q for q in Quantity if not q.is_outcome]  # the others take "higher" alone
WHERE = SourceRef("marta/2027-04-11/seal.json", 1, 1)
NINE = datetime(2027, 4, 11, 9, 0, tzinfo=UTC)
YARDS = Units(SpeedUnit.MPH, LengthUnit.YARD)
amounts = st.floats(0.01, 60, allow_nan=False).map(lambda value: round(value, 3))
units = st.sampled_from([Units(), YARDS, Units(SpeedUnit.KMH, LengthUnit.FOOT)])


@st.composite
def wants(draw: st.DrawFn) -> Want:
    direction = draw(st.sampled_from(Direction))
    if direction is not Direction.WINDOW:
        return Want(direction)
    low = draw(st.floats(-40, 40, allow_nan=False).map(lambda value: round(value, 3)))
    return Want(direction, low, low + draw(amounts))


@st.composite
def seals(draw: st.DrawFn) -> Seal:
    quantity, guarded = draw(st.lists(st.sampled_from(AMOUNTS), min_size=2, max_size=2,
                                      unique=True))  # fmt: skip
    guard = Guard(guarded, draw(st.sampled_from(GuardKind)), draw(amounts), WHERE)
    return Seal(
        quantity=quantity,
        want=draw(wants().filter(lambda w: w.direction is not Direction.ZERO or quantity in SIDED)),
        smallest_change=draw(st.none() | amounts),
        guard=draw(st.none() | st.just(guard)),
        planned_before=draw(st.none() | st.integers(1, 60)),
        planned_after=draw(st.none() | st.integers(1, 60)),
        sealed_at=NINE,
        where=WHERE,
    )


ODD = Seal(Quantity.SPIN_RATE, Want(Direction.LOWER), 1.625, None, 1, 1, NINE, WHERE)

HOLED = Seal(Quantity.HOLED, Want(Direction.HIGHER), None, None, 10, 10, NINE, WHERE)


@example(ODD, YARDS, YARDS)
@example(HOLED, YARDS, YARDS)
@given(seals(), units, units)
def test_a_seal_is_read_back_as_it_was_written(seal: Seal, then: Units, now: Units) -> None:
    with TemporaryDirectory() as folder:
        path = Path(folder).resolve() / "seal.json"
        path.write_text(seal_text(seal, then, []), "utf-8")
        read, problems = read_seal(path.parent, path, Coach("Ines Falk", units=now))
    assert problems == ()
    assert read is not None
    assert same_aim(seal, read)
    plans = [(s.planned_before, s.planned_after, s.sealed_at, s.earlier_at) for s in (seal, read)]
    assert plans[0] == plans[1]
