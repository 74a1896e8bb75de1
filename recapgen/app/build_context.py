"""What every student's stages share."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from recapgen.model.people import Coach
from recapgen.tools.cache import Cache


@dataclass(frozen=True, slots=True)
class BuildContext:
    """What holds for every student of one run; ``converts`` is False for a check."""

    root: Path
    coach: Coach
    secret: bytes
    today: date
    cache: Cache
    pool: ThreadPoolExecutor
    converts: bool
