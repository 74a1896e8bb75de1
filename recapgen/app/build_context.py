"""What every student's stages share."""

from datetime import date
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from recapgen.intake.kept_readings import KeptReadings
from recapgen.locking.signing import public_key
from recapgen.model.people import Coach
from recapgen.model.source import SourceRef
from recapgen.privacy.lasting_links import LastingLinks
from recapgen.tools.cache import Cache
from recapgen.tools.side_by_side import Threads
from recapgen.words.catalogue import Words

COACH_FILE = SourceRef("coach.yml")
BOOK_LANGUAGE = "en"  # the coach's own book, whatever language the pages have


class BuildContext(Struct, frozen=True):
    """What holds for every student of one run; ``converts`` is False for a check.

    ``program`` is the digest of the code that reads lessons and works out results.
    """

    root: Path
    coach: Coach
    secret: bytes
    today: date
    cache: Cache
    pool: Threads
    converts: bool
    program: str
    links: LastingLinks

    @property
    def readings(self) -> KeptReadings:
        """The reader of students and lessons, which knows those that it read before."""
        return KeptReadings(self.cache, self.program)

    @property
    def signed_by(self) -> str:
        """The public half of the key that signs what is published."""
        return public_key(self.secret)

    def coach_named(self, spoken: Words) -> Coach:
        """The coach, called so on the page where there is no coach.yml with a name yet."""
        coach = self.coach
        return coach if coach.name else replace(coach, name=spoken.say("page.coach.unnamed"))
