"""Students and lessons whose folder is gone: what is kept waits, is reported, and is cleared.

What is public comes down at once. What the coach cannot see, the words a lesson keeps of its
drills, stills and films, waits for a folder that was only moved out of the way.
"""

import shutil
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from datetime import date
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from recapgen.app.build_context import BuildContext
from recapgen.app.consent_first import ConsentNow, is_student, key_of
from recapgen.intake.folder import StudentPaths
from recapgen.intake.kept_drills import KEPT_BELOW
from recapgen.intake.text_file import KEPT_BEFORE
from recapgen.intake.worksheets_asked import FILE as WORKSHEETS_ASKED
from recapgen.intake.worksheets_asked import worksheets_asked
from recapgen.model.naming import file_stem, folded
from recapgen.model.public import FolderGone
from recapgen.privacy.lasting_links import forget, keep_memory, read_memory
from recapgen.publish.build_state import PartState
from recapgen.publish.gone import Since, read_gone, write_gone
from recapgen.publish.output import Output, OutputPlaces
from recapgen.tools.atomic import write_text

_DAY = len("2027-04-11")


class GoneFolders(Struct, frozen=True):
    """What is gone by today, as it was noticed."""

    since: Mapping[str, Since]
    today: date

    def told(self) -> tuple[FolderGone, ...]:
        """Each with the days that what is kept of it still waits."""
        return tuple(
            FolderGone(at, s.days_left(self.today)) for at, s in sorted(self.since.items())
        )

    def due(self) -> frozenset[str]:
        """Those of which nothing is to be kept any more."""
        return frozenset(gone.folder for gone in self.told() if gone.days_left == 0)


def notice_gone(
    everyone: Sequence[StudentPaths],
    states: Mapping[str, PartState],
    inputs: Iterable[str],
    *,
    context: BuildContext,
    output: Output,
    clock_s: float,
    called_now: Callable[[str], str],
) -> GoneFolders:
    """What was known of at the last build, or is kept of, and lies among the lessons no more.

    Written down before the build state forgets it. ``inputs`` are the paths of the last build's
    files. ``called_now`` gives the path of today for what was known again under another name.
    """
    there = _there(everyone)
    before = {called_now(at): since for at, since in read_gone(output.gone).items()}
    known = {*before, *_in_states(states, inputs), *kept_of(context.root, output)}
    gone = {at for at in known if folded(at) not in there}
    within = {at for at in gone if "/" in at and at.partition("/")[0] in gone}
    now = Since(context.today, clock_s)
    since = {at: before.get(at, now) for at in gone - within}
    write_gone(output.gone, since)
    return GoneFolders(since, context.today)


def clear_due(gone: GoneFolders, context: BuildContext, output: Output, started_s: float) -> None:
    """Nothing is left of those whose time is over: words, stills, and films no longer used.

    Nor is any kept text that this run, which began at ``started_s`` by the system clock, did not
    use: anybody may be named in it. Their links are forgotten with them, and lead to nobody again.
    """
    due = gone.due()
    if not due:
        return
    memory = read_memory(context.root, output.links).value
    if memory is not None:
        keep_memory(context.root, output.links, forget(memory, due, context.secret))
    for at in due:
        for kept in (context.root / KEPT_BELOW, context.root / KEPT_BEFORE, output.stills):
            shutil.rmtree(kept / at, ignore_errors=True)
            (kept / f"{at}.json").unlink(missing_ok=True)
            _drop_empty((kept / at).parent, kept)
    _forget_asked(context.root, due)
    context.cache.clear_texts(started_s)
    context.cache.clear_unused(max(gone.since[at].clock_s for at in due))
    write_gone(output.gone, {at: s for at, s in gone.since.items() if at not in due})


def _forget_asked(root: Path, due: Iterable[str]) -> None:
    """Worksheets that were asked for are listed by the names of folders."""
    asked = worksheets_asked(root)
    gone = tuple(folded(at) for at in due)
    left = [each for each in asked if not _within(folded(each), gone)]
    if len(left) < len(asked):
        write_text(root / WORKSHEETS_ASKED, "".join(f"{each}\n" for each in left))


def _within(lesson: str, folders: Iterable[str]) -> bool:
    return any(lesson == at or lesson.startswith(f"{at}/") for at in folders)


def without_the_gone(
    states: Mapping[str, PartState], gone: GoneFolders, consents: Iterable[ConsentNow]
) -> dict[str, PartState]:
    """The states; where names are to be cleared, they know of today's students alone."""
    if not gone.due():
        return dict(states)
    names = {name for s in consents for name in (s.student.name, s.paths.key)}
    return {
        part: replace(state, knew=tuple(name for name in state.knew if name in names))
        for part, state in states.items()
    }


def _there(everyone: Iterable[StudentPaths]) -> set[str]:
    """Every student's and lesson's folder, as what is kept of them may be called."""
    there = set()
    for student in everyone:
        there.add(folded(student.key))
        for lesson in student.dated:
            there |= {
                folded(f"{student.key}/{name}") for name in (lesson.key, file_stem(lesson.key))
            }
    return there


def _in_states(states: Mapping[str, PartState], inputs: Iterable[str]) -> Iterator[str]:
    students = {key_of(part) for part in states if is_student(part)}
    yield from students
    for path in inputs:
        student, _, rest = path.partition("/")
        lesson, within, _ = rest.partition("/")
        if student in students and within and _begins_with_a_day(lesson):
            yield f"{student}/{lesson}"


def kept_of(root: Path, output: OutputPlaces) -> Iterator[str]:
    """Every student's and lesson's folder of which words, old files or stills are kept."""
    for kept in (root / KEPT_BELOW, output.stills):
        for student in _in(kept):
            yield student.name
            yield from (f"{student.name}/{lesson.name}" for lesson in _lessons_in(student))
    for student in filter(Path.is_dir, _in(root / KEPT_BEFORE)):
        yield student.name
        yield from (f"{student.name}/{each.name}" for each in _in(student) if each.is_dir())


def _lessons_in(kept: Path) -> Iterator[Path]:
    for each in _in(kept):
        yield each.with_name(each.name.removesuffix(".json"))


def _in(folder: Path) -> list[Path]:
    try:
        return [each for each in folder.iterdir() if not each.name.startswith(".")]
    except OSError:
        return []


def _begins_with_a_day(name: str) -> bool:
    try:
        date.fromisoformat(name[:_DAY])
    except ValueError:
        return False
    return True


def _drop_empty(folder: Path, root: Path) -> None:
    while folder != root and folder.is_relative_to(root):
        with suppress(OSError):  # something is in it
            folder.rmdir()
        folder = folder.parent
