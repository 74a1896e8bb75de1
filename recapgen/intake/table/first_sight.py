"""A file of shots before it is known whose it is: who is named in it, and when it was hit."""

from collections import Counter
from datetime import datetime
from pathlib import Path

from msgspec import Struct

from recapgen.intake.table.header import Headings
from recapgen.intake.table.one_file import laid_out, read_file
from recapgen.intake.table.players import is_nobody, player_in
from recapgen.intake.table.section_columns import Setting
from recapgen.model.people import Coach


class TableSight(Struct, frozen=True):
    """``players`` are those named, most shots first, a device's guests left out.

    ``times`` are those of the shots by the clock on the wall, where they have a day as well.
    """

    players: tuple[str, ...]
    times: tuple[datetime, ...]


def at_first_sight(root: Path, path: Path, coach: Coach) -> TableSight:
    """What the file ``path`` below ``root`` says; what cannot be read says nothing."""
    headings = Headings(coach.columns)
    setting = Setting(coach)
    shots: Counter[str] = Counter()
    for grid, layout in laid_out(root, path, headings, setting):
        for section in layout.sections:
            roles = [heading.role for heading in section.headings]
            column = roles.index("player") if "player" in roles else None
            if column is not None:
                shots.update(player_in(grid.rows[row], column) for row in section.rows)
    named = [name for name, _ in shots.most_common() if name and not is_nobody(name)]
    found, _ = read_file(root, path, headings, setting)
    parts = found.parts if found is not None else []
    times = (time.replace(tzinfo=None) for part in parts for time in part.drafts.times if time)
    return TableSight(tuple(named), tuple(sorted(times)))
