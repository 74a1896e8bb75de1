"""What the last build came to, which is what the next comes to if nothing at all has changed.

One look at the disk then answers for everything: lessons, what is kept beside them, and all that
was made are as they were left, on the same day, by the same program. Any doubt means: no answer.
"""

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from recapgen.model.as_data import FAULTS, as_text, from_text
from recapgen.model.problem import Problem
from recapgen.publish.build_state import digest_of, recipe
from recapgen.publish.output import OutputPlaces
from recapgen.tools.atomic import write_text
from recapgen.tools.stamps import Stamps, stamps_below
from recapgen.tools.template_folder import template_folder

_BESIDE = ".recapgen"  # what we keep among the lessons: we write there ourselves


class LastRun(Struct, frozen=True):
    """``told`` is every problem reported, ``checked`` those of them that a check reports.

    ``pages`` are the students' front pages, as paths below the output, with shown names.
    """

    told: tuple[Problem, ...]
    checked: tuple[Problem, ...]
    pages: tuple[tuple[str, str], ...]
    lessons: int


class _LastRunKept(Struct, frozen=True):
    """``told_of`` digests the run's options, the stamps are of all that it read and made."""

    told_of: str
    lessons: Stamps
    beside: Stamps
    site: Stamps
    book: Stamps
    run: LastRun


def build_as_last_time(
    places: OutputPlaces, root: Path, day: date, lessons: Stamps | None
) -> LastRun | None:
    """What a build of the lessons in ``root`` comes to, where nothing is other than it was left.

    ``lessons`` are their stamps as of now. The output must be claimed meanwhile.
    """
    kept = _kept(places, root, day, lessons)
    if kept is None or not kept.site.still_hold(places.site):
        return None
    return kept.run if kept.book.still_hold(places.book) else None


def check_as_last_time(
    places: OutputPlaces, root: Path, day: date, lessons: Stamps | None
) -> LastRun | None:
    """The same for a check, which does not care what was made."""
    kept = _kept(places, root, day, lessons)
    return None if kept is None else kept.run


def stamps_of_lessons(root: Path, asked: Sequence[str]) -> Stamps | None:
    """To be taken before anything is read, and handed to what compares and keeps them.

    ``asked`` is what the coach asks for beside the lessons, and may ask for while a build runs.
    """
    found = stamps_below(root, without=_BESIDE)
    return None if found is None else replace(found, digest=digest_of(found.digest, *asked))


def keep_last_run(
    places: OutputPlaces, root: Path, day: date, lessons: Stamps | None, run: LastRun | None
) -> None:
    """Keep what the run came to; None where the next may come to something else. Raises OSError."""
    places.last_run.unlink(missing_ok=True)
    beside = stamps_below(root / _BESIDE)
    site, book = (stamps_below(each, ours=True) for each in (places.site, places.book))
    if run is None or lessons is None or beside is None or site is None or book is None:
        return
    kept = _LastRunKept(_told_of(root, day), lessons, beside, site, book, run)
    write_text(places.last_run, as_text(kept, _LastRunKept) + "\n")


def _kept(
    places: OutputPlaces, root: Path, day: date, lessons: Stamps | None
) -> _LastRunKept | None:
    try:
        kept = from_text(places.last_run.read_text("utf-8"), _LastRunKept)
    except (OSError, *FAULTS):
        return None
    as_it_was = (
        lessons is not None
        and kept.told_of == _told_of(root, day)
        and kept.lessons.still_hold(root, lessons)
        and kept.beside.still_hold(root / _BESIDE)
    )
    return kept if as_it_was else None


def _told_of(root: Path, day: date) -> str:
    return digest_of(recipe(template_folder()), str(root.resolve()), day.isoformat())
