"""``copy-for``: everything about one student, for that student, with nobody else in it."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path

from msgspec import Struct

from recapgen.app.consent_first import people_in
from recapgen.app.forgetting import Whom, whom
from recapgen.intake.folder import CLIP_ENDINGS, StudentPaths, survey
from recapgen.intake.kept_readings import KeptReadings
from recapgen.intake.settings import read_coach
from recapgen.model.people import Coach, Student
from recapgen.model.problem import Checked, Code, Problem
from recapgen.model.public import FRONT_PAGE
from recapgen.model.source import SourceRef
from recapgen.privacy.forbidden import Forbidden, forbidden_in, named
from recapgen.privacy.leaks import find_leaks
from recapgen.publish.build_state import program
from recapgen.publish.checks import vocabulary
from recapgen.publish.emptying import is_emptying
from recapgen.publish.student_copy import pack
from recapgen.tools.cache import Cache
from recapgen.tools.clock import today
from recapgen.tools.html_reading import ReadSite, read_site
from recapgen.tools.leftovers import temporary_folder
from recapgen.tools.walking import files_below

_TEXTS = frozenset({".md", ".yml", ".yaml", ".csv", ".tsv", ".json", ".txt"})
_PRIVATE = "private.md"


class StudentCopy(Struct, frozen=True):
    """Where it lies, how many files it holds, and what of the student's is not in it."""

    file: Path
    files: int
    left_out: tuple[str, ...]


def copy_for(
    student: Path, out: Path | None, day: date | None, *, private: bool
) -> Checked[StudentCopy]:
    """Write the student's pages and own files into one zip below ``copies`` in the output.

    What names anybody else, a clip in which somebody is marked, and what cannot be searched is
    left out. Raises OSError.
    """
    found = whom(student, out, day)
    of = found.value
    if of is None:
        return Checked(None, found.problems)
    everyone = survey(of.root).value
    own = next((s for s in everyone.students if s.key == of.key), None) if everyone else None
    if everyone is None or own is None:
        facts = {"path": str(student), "near": of.key}
        return Checked(None, (Problem(Code.FORGET_NOBODY, SourceRef(""), facts),))
    coach = read_coach(of.root).value or Coach("")
    with temporary_folder() as kept:
        reader = KeptReadings(Cache(kept, behind=of.places.cache), program())
        people = people_in(everyone, coach, today(day), reader)
        read = {key: each.who.value or Student(key, key) for key, each in people.items()}
        alone = frozenset(_clips_alone(own, of, coach, read[own.key], reader))
    forbidden = forbidden_in(
        read[own.key],
        [named(each, key) for key, each in read.items() if key != own.key],
        coach=coach,
        private=(),
        root=str(of.root),
        vocabulary=vocabulary(of.language, coach.language, "en"),
        handed_over=True,
    )
    held, pages = _pages(of, forbidden)
    left_out = [] if pages is not None or not held else ["pages/"]
    held = held if pages is not None else {}
    for file in files_below(own.folder):
        path = f"lessons/{file.relative_to(own.folder).as_posix()}"
        if file.name.casefold() == _PRIVATE and not private:
            continue
        if _may_go(file, path, alone, forbidden):
            held[path] = file
        else:
            left_out.append(path)
    place = of.places.copies / f"{of.key}.zip"
    place.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    pack(place, held, left_out, pages, of.language)
    return Checked(StudentCopy(place, len(held), tuple(left_out)), ())


def _clips_alone(
    own: StudentPaths, of: Whom, coach: Coach, student: Student, reader: KeptReadings
) -> Iterator[Path]:
    """Clips of lessons that can be read, in which nobody else is marked."""
    for paths in own.lessons:
        lesson = reader.read_lesson(of.root, paths, coach, student).value
        if lesson is not None:
            yield from (clip.path for clip in lesson.clips if not clip.directions.blur)


def _pages(of: Whom, forbidden: Forbidden) -> tuple[dict[str, Path], str | None]:
    """The files of the site as it can be read; no front page where they may not go."""
    places = (folder / at for at in of.addresses for folder in (of.places.unsealed, of.places.site))
    site = next((p for p in places if (p / FRONT_PAGE).is_file() and not is_emptying(p)), None)
    if site is None:
        return {}, None
    held = {f"pages/{file.relative_to(site).as_posix()}": file for file in files_below(site)}
    leaks = find_leaks(read_site(site), forbidden)
    return held, None if leaks else f"pages/{FRONT_PAGE}"


def _may_go(file: Path, path: str, alone: frozenset[Path], forbidden: Forbidden) -> bool:
    ending = file.suffix.lower()
    if ending in CLIP_ENDINGS:
        told: tuple[str, ...] = ()
        if file not in alone:
            return False
    elif ending in _TEXTS:
        try:
            told = tuple(file.read_text("utf-8-sig").splitlines())
        except UnicodeDecodeError:
            return False
    else:
        return False
    return not find_leaks(ReadSite({}, {}, {path: 0}, {path: told}), forbidden)
