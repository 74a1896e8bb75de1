"""Which folders of the lessons are gone, and since when: kept until what is kept of them is not."""

import json
from collections.abc import Mapping
from datetime import date
from pathlib import Path

from msgspec import Struct

from recapgen.tools.atomic import write_text

KEPT_DAYS = 30


class Since(Struct, frozen=True):
    """The day of the build that missed the folder, and that moment by the system clock."""

    on: date
    clock_s: float

    def days_left(self, today: date) -> int:
        """How many days what is kept still waits; none where it is to be cleared."""
        return max(0, min(KEPT_DAYS, KEPT_DAYS - (today - self.on).days))


def read_gone(file: Path) -> dict[str, Since]:
    """A folder's path below the lessons -> since when; what cannot be read begins anew."""
    try:
        kept = json.loads(file.read_text("utf-8"))
        return {
            str(folder): Since(date.fromisoformat(day), float(clock_s))
            for folder, (day, clock_s) in kept.items()
            if _lies_below(folder)
        }
    except (OSError, ValueError, AttributeError, TypeError):
        return {}


def _lies_below(folder: str) -> bool:
    """Whether it is a path below the lessons, so that nothing else is ever cleared by its name."""
    return not {"", ".", ".."} & {*folder.split("/")}


def write_gone(file: Path, gone: Mapping[str, Since]) -> None:
    """Keep them where they are others than before; without any there is no file."""
    if gone == read_gone(file):
        return
    if not gone:
        file.unlink(missing_ok=True)
        return
    kept = {folder: (since.on.isoformat(), since.clock_s) for folder, since in gone.items()}
    write_text(file, json.dumps(kept, sort_keys=True) + "\n", mode=0o600)
