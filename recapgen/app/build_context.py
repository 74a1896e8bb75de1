"""What every student's stages share."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from recapgen.model.people import Coach
from recapgen.tools.cache import Cache


@dataclass(frozen=True, slots=True)
class BuildContext:
    """``converts`` is False for a check; ``threads`` is how many one clip is decoded with."""

    root: Path
    coach: Coach
    secret: bytes
    today: date
    cache: Cache
    pool: ThreadPoolExecutor
    threads: int
    converts: bool
