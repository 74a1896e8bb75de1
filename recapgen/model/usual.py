"""What is usual for a coach or a student, so that a lesson's notes need not say it."""

from datetime import date

from msgspec import Struct

from recapgen.model.lesson import IntentKind, Practice, Surface
from recapgen.model.quantity import Quantity


class Usual(Struct, frozen=True):
    """``usually:`` of coach.yml or student.yml; None or empty where nothing is said.

    ``moved`` is () where nothing usually is. ``matters`` are the smallest changes worth having,
    number by number, in inside units. ``since`` is the first day of a lesson it holds for.
    """

    ball: str | None = None
    surface: Surface | None = None
    moved: tuple[str, ...] | None = None
    matters: tuple[tuple[Quantity, float], ...] = ()
    practice: Practice | None = None
    kinds: tuple[IntentKind, ...] = ()
    since: date | None = None

    def holds_on(self, day: date) -> bool:
        return self.since is None or self.since <= day
