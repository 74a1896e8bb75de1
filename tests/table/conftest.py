"""Reading a shots file from its bytes, as a lesson's folder would hold it."""

from collections.abc import Callable, Sequence
from pathlib import Path

import pytest

from recapgen.intake.table.all_files import read_shots
from recapgen.intake.table.section_columns import Setting
from recapgen.model.people import Coach, Hand
from recapgen.model.problem import Checked
from recapgen.model.quantity import Quantity
from recapgen.model.shots import ShotTable
from recapgen.model.units import LengthUnit, SpeedUnit, Units

Read = Callable[..., Checked[ShotTable]]
COACH = Coach("Ines Falk", units=Units(SpeedUnit.MPH, LengthUnit.YARD))


@pytest.fixture
def read(tmp_path: Path) -> Read:
    """``read(text, ...)``: one file or several, into the shots of one lesson."""

    def from_text(
        *texts: str | bytes,
        coach: Coach = COACH,
        day: str = "2027-04-23",
        names: Sequence[str] = (),
        club: str | None = None,
        hand: Hand | None = None,
        numbers: frozenset[Quantity] = frozenset(),
    ) -> Checked[ShotTable]:
        folder = tmp_path / "marta" / day
        folder.mkdir(parents=True, exist_ok=True)
        paths = []
        for number, text in enumerate(texts):
            path = folder / (names[number] if names else f"shots {number}.csv")
            path.write_bytes(text if isinstance(text, bytes) else text.encode())
            paths.append(path)
        setting = Setting(coach, hand, club, numbers=numbers)
        return read_shots(tmp_path, tuple(paths), setting)

    return from_text
