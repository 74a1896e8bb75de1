"""One lesson's folder, read whole and checked against itself."""

from collections.abc import Callable
from pathlib import Path

from msgspec.structs import replace

from recapgen.intake.by_the_clock import place_by_time
from recapgen.intake.folder import LessonPaths
from recapgen.intake.lesson_checks import (
    check_against_shots,
    check_clips,
    check_followed,
    check_order,
    check_without_shots,
    readings_beside_shots,
)
from recapgen.intake.noted_number import check_noted
from recapgen.intake.notes import NotesFile, read_notes
from recapgen.intake.seal_file import read_seal
from recapgen.intake.table.all_files import read_shots
from recapgen.intake.table.section_columns import Setting
from recapgen.intake.text_file import file_of, read_text
from recapgen.intake.worked_out import work_out
from recapgen.model.aim import with_what_was_sealed
from recapgen.model.lesson import Lesson, Notes
from recapgen.model.people import Coach, Student
from recapgen.model.problem import Checked, Problem
from recapgen.model.shots import ShotTable
from recapgen.model.source import SourceRef

TableReader = Callable[[Path, tuple[Path, ...], Setting], Checked[ShotTable]]
"""Reads a lesson's files of shots."""


def setting_of(notes: Notes | None, coach: Coach, student: Student) -> Setting:
    """What a lesson's shots are read with."""
    if notes is None:
        return Setting(coach, student.hand)
    return Setting(
        coach,
        student.hand,
        notes.club,
        files=notes.files,
        numbers=frozenset(notes.declaration.judged if notes.declaration is not None else ()),
        sides=frozenset(notes.declaration.sided if notes.declaration is not None else ()),
        placed=bool(notes.spans or notes.timed)
        or any(said.block is not None for said in notes.files),
        notes=SourceRef(notes.where.file),
        players=(student.name, student.key, *student.players),
        known_as=student.players,
        student=SourceRef(student.where.file),
    )


def read_lesson(
    root: Path,
    paths: LessonPaths,
    coach: Coach,
    student: Student,
    read_table: TableReader = read_shots,
    *,
    noted: Checked[NotesFile] | None = None,
) -> Checked[Lesson]:
    """The lesson; None where its notes cannot be read. Every problem at once.

    ``read_table`` may know the files of shots from before. ``noted`` are notes that are not in the
    folder yet.
    """
    problems: list[Problem] = []
    written, found = noted or read_notes(root, paths, coach, student)
    problems.extend(found)
    table = None
    if paths.tables:
        setting = setting_of(written.notes if written else None, coach, student)
        table, found = read_table(root, paths.tables, setting)
        problems.extend(found)
    seal = None
    if paths.seal is not None:
        seal, found = read_seal(root, paths.seal, coach)
        problems.extend(found)
    private = None
    if paths.private is not None:
        private, found = read_text(root, paths.private)
        problems.extend(found)
    if written is None:
        return Checked(None, tuple(problems))
    notes = written.notes
    if seal is not None and notes.declaration is not None:
        declaration = with_what_was_sealed(notes.declaration, seal)
        notes = replace(notes, declaration=declaration)
    if table is not None:
        placed, found = place_by_time(notes, table)
        notes = placed or notes
        problems.extend(found)
    table, found = _by_hand_or(table, replace(written, notes=notes), paths, coach)
    problems.extend(found)
    checked, found = check_noted(notes, table)
    notes = checked or notes
    problems.extend(found)
    problems.extend(check_followed(written.clips, notes))
    if table is None and not paths.tables and written.readings_where is None:
        problems.extend(check_without_shots(notes))
    elif table is not None:
        problems.extend(check_order(notes, table, written.clips))
        problems.extend(check_against_shots(notes, seal, table, written.club_where))
        problems.extend(check_clips(written.clips, notes, table))
    lesson = Lesson(
        key=paths.key,
        on=paths.on,
        folder=paths.folder,
        where=SourceRef(file_of(root, paths.folder)),
        notes=notes,
        private=private,
        seal=seal,
        shots=table,
        clips=written.clips,
    )
    return Checked(lesson, tuple(problems))


def _by_hand_or(
    table: ShotTable | None, written: NotesFile, paths: LessonPaths, coach: Coach
) -> Checked[ShotTable]:
    """The files' shots with what follows from them, or what was read by hand; never a mixture."""
    both: tuple[Problem, ...] = ()
    if written.readings_where is not None:
        if table is None or not table.shots:
            return Checked(written.readings, ())
        both = (readings_beside_shots(written.readings_where, paths.tables),)
    if table is None:
        return Checked(None, both)
    worked, problems = work_out(table, written.notes, coach)
    return Checked(worked, (*problems, *both))
