"""Whom a page speaks to: their units, their hand, their language."""

from msgspec import Struct

from recapgen.model.evidence import Comparison, Retention, Sample
from recapgen.model.people import AgeBand, Coach, Hand
from recapgen.model.quantity import Quantity
from recapgen.model.recap import StudentRecap
from recapgen.model.units import Units
from recapgen.tools.cache import Cache
from recapgen.words.amounts import amount, middle, signed, size
from recapgen.words.catalogue import Words
from recapgen.words.club_names import club_name
from recapgen.words.goal_sentences import tell_goal, tell_wanted
from recapgen.words.verdict_sentences import tell_retention


class Reader(Struct, frozen=True):
    """``kept`` is where finished drawings are kept between builds; None draws each anew."""

    units: Units
    hand: Hand | None
    words: Words
    coach: Coach
    junior: bool = False  # known only where the student agreed to have it mentioned
    kept: Cache | None = None

    def amount(self, quantity: Quantity, value: float) -> str:
        """A reading, with its side."""
        return amount(quantity, value, self.units, self.hand, self.words)

    def middle(self, quantity: Quantity, sample: Sample) -> str:
        """The middle of a block, or how many of it were in; a dash where it has none."""
        return middle(quantity, sample, self.units, self.hand, self.words)

    def club(self, club: str) -> str:
        """A club by the name the reader gives it."""
        return club_name(club, self.words)

    def goal(self, comparison: Comparison) -> str:
        """What was wanted of the number, in a few words."""
        return tell_goal(comparison, self.units, self.hand, self.words)

    def wanted(self, comparison: Comparison) -> str:
        """The same without how much, for where there is little room."""
        return tell_wanted(comparison, self.units, self.hand, self.words)

    def size(self, quantity: Quantity, value: float) -> str:
        """A difference or a spread, without a side."""
        return size(quantity, value, self.units, self.words)

    def signed(self, quantity: Quantity, value: float) -> str:
        """A difference with its sign, without a side."""
        return signed(quantity, value, self.units, self.words)

    def shot(
        self, number: int, when: str, amount: str, *, mishit: bool = False, tag: str = ""
    ) -> str:
        """One shot, as shown when its dot is tapped; ``tag`` is the coach's word for a mishit."""
        key = "chart.shot-mishit" if mishit and not tag else "chart.shot"
        told = self.words.say(key, shot=str(number), when=when, amount=amount)
        if mishit and tag:
            return self.words.listed((told, self.words.say("page.mishit-tag", tag=tag)))
        return told

    def retention(self, retention: Retention) -> tuple[str, ...]:
        """What stuck, in sentences."""
        return tell_retention(
            retention, lambda value: self.size(retention.quantity, value), self.words
        )


def reader_of(
    student: StudentRecap, coach: Coach, words: Words, kept: Cache | None = None
) -> Reader:
    junior = student.student.age_band is AgeBand.JUNIOR
    return Reader(student.units, student.student.hand, words, coach, junior, kept)
