"""``build`` and ``check``: as last time, where nothing has changed since, and anew elsewhere."""

from datetime import date
from pathlib import Path
from time import monotonic

from msgspec import Struct

from recapgen.app.chosen_students import EVERYTHING, Scope
from recapgen.console import Console, Outcome
from recapgen.intake.worksheets_asked import worksheets_asked
from recapgen.model.public import FRONT_PAGE
from recapgen.publish.last_run import (
    LastRun,
    build_as_last_time,
    check_as_last_time,
    stamps_of_lessons,
)
from recapgen.publish.output import OutputPlaces, claim
from recapgen.tools.clock import today
from recapgen.tools.stamps import Stamps


class Options(Struct, frozen=True):
    """``jobs`` is how many students or clips are worked on at a time; None is one a core."""

    out: Path | None = None
    jobs: int | None = None
    today: date | None = None
    scope: Scope = EVERYTHING


def check(lessons: Path, day: date | None) -> Outcome:
    """Every problem of the lessons; nothing is written beside them and no clip is converted."""
    built, on = OutputPlaces(output_of(lessons, None)), today(day)
    last = check_as_last_time(built, lessons, on, _stamps(lessons))
    if last is not None:
        return Outcome(ran=True, problems=last.checked)
    from recapgen.app.checking import check_anew  # noqa: PLC0415  heavy, and not always needed

    return check_anew(lessons, on, built)


def build(lessons: Path, options: Options, console: Console) -> Outcome:
    """Every student's site, the cases, the card and the book."""
    started = monotonic()
    out, day = output_of(lessons, options.out), today(options.today)
    stamps = _stamps(lessons)
    last = _as_last_time(lessons, out, day, stamps) if options.scope == EVERYTHING else None
    if last is not None:
        return _told_again(last, OutputPlaces(out.resolve()), monotonic() - started)
    from recapgen.app.build_run import build_anew  # noqa: PLC0415  heavy, and not always needed

    return build_anew(
        lessons, out, day, stamps, jobs=options.jobs, scope=options.scope, console=console
    )


def output_of(lessons: Path, out: Path | None) -> Path:
    """The output folder of ``lessons``: ``out`` where given, else "<lessons>_out" beside them."""
    root = lessons.resolve()
    return out or root.with_name(f"{root.name}_out")


def _stamps(lessons: Path) -> Stamps | None:
    return stamps_of_lessons(lessons, worksheets_asked(lessons))


def _as_last_time(lessons: Path, out: Path, day: date, stamps: Stamps | None) -> LastRun | None:
    places = OutputPlaces(out)
    to_clear = places.one_pages.exists() or places.bundles.exists()
    if not places.last_run.is_file() or to_clear:
        return None
    claimed = claim(out, lessons)
    if claimed.value is None:
        return None  # to be told of by who looks closer
    try:
        return build_as_last_time(claimed.value, lessons, day, stamps)
    finally:
        claimed.value.release()


def _told_again(last: LastRun, places: OutputPlaces, seconds: float) -> Outcome:
    return Outcome(
        ran=True,
        problems=last.told,
        lessons=last.lessons,
        kept=len(last.pages),
        site=places.site / FRONT_PAGE,
        book=places.book / FRONT_PAGE,
        pages=tuple((name, places.root / page) for name, page in last.pages),
        seconds=seconds,
    )
