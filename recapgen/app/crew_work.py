"""Results of many students worked out in parallel: a helper's work, and when it is worth it."""

from collections.abc import Iterator, Sequence

from msgspec import Struct

from recapgen.app.consent_first import ConsentNow
from recapgen.app.kept_students import KeptStudents
from recapgen.app.student_results import StudentResult
from recapgen.tools.side_by_side import Crew

_WORTH_HELP = 24  # lessons: a helper needs as long to begin as for a few of them


class _ToTell(Struct, frozen=True):
    consent: ConsentNow
    known: KeptStudents


def tell_by_crew(
    crew: Crew, consents: Sequence[ConsentNow], known: KeptStudents
) -> Iterator[StudentResult | None]:
    """Each one's result, as ``KeptStudents.tell``; None where that fails, empty for a few."""
    if not worth_help(crew, consents):
        return iter(())
    return crew.each(_tell, [_ToTell(each, known.of_one(each.paths.key)) for each in consents])


def worth_help(crew: Crew, consents: Sequence[ConsentNow]) -> bool:
    """Whether there is work for more than one process."""
    lessons = sum(len(consent.paths.dated) for consent in consents)
    return min(crew.most, len(consents)) > 1 and lessons >= _WORTH_HELP


def _tell(work: _ToTell) -> StudentResult:
    return work.known.tell(work.consent)
