"""What every run begins with: whose folders there are, whether the settings will do, workers."""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path

from msgspec.structs import replace

from recapgen.intake.folder import Survey, survey
from recapgen.intake.kept_readings import KeptReadings
from recapgen.intake.settings import read_coach
from recapgen.intake.which_folder import part_of_the_lessons
from recapgen.model.people import Coach
from recapgen.model.problem import Checked, Cost, Problem, in_order
from recapgen.privacy.addresses import make_secret, read_secret, secret_mark
from recapgen.privacy.forgotten import is_forgotten
from recapgen.publish.build_state import PartState, Seen, program, see_all
from recapgen.publish.output import Output, OutputPlaces, check_secret, secret_lost
from recapgen.tools.apart import interruptible
from recapgen.tools.cache import Cache
from recapgen.tools.side_by_side import Crew, Threads


def surveyed(lessons: Path, command: str) -> Checked[Survey]:
    """Everybody's paths, but for the forgotten; one student's or lesson's folder is refused.

    Raises OSError where it cannot be read who is forgotten.
    """
    part = part_of_the_lessons(lessons, command)
    if part is not None:
        return Checked(None, (part,))
    found = survey(lessons)
    return found if found.value is None else Checked(_remembered(found.value), found.problems)


def _remembered(found: Survey) -> Survey:
    """Without the folders of those who were forgotten, which the coach has yet to delete."""
    secret = read_secret(found.root).value
    if secret is None:
        return found
    keys = [student.key for student in found.students]
    gone = frozenset(key for key in keys if is_forgotten(found.root, secret, key))
    students = tuple(student for student in found.students if student.key not in gone)
    return replace(found, students=students, passed_over=gone)


def seen_today(found: Survey, before: PartState | None) -> dict[str, Seen]:
    """All files of the lessons as they are now, but for those of the forgotten.

    ``before`` is the state of everything at the last build.
    """
    seen = see_all(found.root, before)
    return {at: file for at, file in seen.items() if at.partition("/")[0] not in found.passed_over}


def not_there(found: Survey, out: Path) -> bool:
    """Nothing at all where something was built from: a drive that is not mounted, not a wish."""
    root = found.root
    anything = found.students or (root / ".recapgen").exists() or any(root.glob("[Cc]oach.y*ml"))
    return not anything and (out / "site").is_dir()


def stops(settings: Checked[Coach]) -> bool:
    """Whether coach.yml is in such doubt that nothing can be built from it."""
    return settings.value is None or any(p.cost is Cost.RUN for p in settings.problems)


def to_tell(root: Path, problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """In order, with the lines to paste."""
    return in_order(pasted(root, in_order(problems)))


def pasted(root: Path, problems: tuple[Problem, ...]) -> tuple[Problem, ...]:
    """Each problem with the lines to paste, where it offers any."""
    if not any(problem.offers for problem in problems):
        return problems
    from recapgen.intake.pasting import with_fixes  # noqa: PLC0415  heavy, and not always needed

    return with_fixes(root, problems)


def secret_of(root: Path, output: Output) -> Checked[bytes]:
    """The secret behind the addresses, made where there never was one for these links."""
    secret = read_secret(root)
    if secret.value is None and not secret.problems:
        lost = secret_lost(output)
        secret = Checked(None, lost) if lost else make_secret(root)
    if secret.value is None:
        return secret
    changed = check_secret(output, secret_mark(secret.value))
    return Checked(None, changed) if changed else secret


def settings_of(root: Path, out: Path) -> Checked[Coach]:
    """As ``read_coach``, with what was kept of it if there is an output."""
    kept = OutputPlaces(out).cache
    return (
        KeptReadings(Cache(kept), program()).read_coach(root) if kept.is_dir() else read_coach(root)
    )


@contextmanager
def workers(jobs: int) -> Iterator[tuple[Threads, Crew]]:
    """Threads for clips, and processes for students; what has not begun in the end never does."""
    pool = Threads(jobs)
    try:
        with interruptible(), Crew(jobs) as crew:
            yield pool, crew
    finally:
        pool.shutdown()
