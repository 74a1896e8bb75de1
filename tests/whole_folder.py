"""A student's whole folder read as a build reads it, for tests that start from files."""

from datetime import date
from pathlib import Path

from recapgen.intake.folder import StudentPaths
from recapgen.intake.reading import StudentFolder, read_student_folder
from recapgen.intake.student import read_student
from recapgen.model.people import Coach


def folder_of(
    root: Path, paths: StudentPaths, coach: Coach, today: date | None = None
) -> StudentFolder:
    """student.yml first, then everything else of the folder."""
    return read_student_folder(root, paths, read_student(root, paths, coach), coach, today)
