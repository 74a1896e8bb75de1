"""Every clip of a lesson's folder: as its notes list it, or as its name tells."""

from collections.abc import Iterator
from pathlib import Path

from recapgen.intake.clip_names import read_clip_name
from recapgen.intake.folder import LessonPaths
from recapgen.intake.text_file import file_of
from recapgen.model.lesson import ClipFile, Lesson
from recapgen.model.source import SourceRef


def clips_as_noted(root: Path, paths: LessonPaths, lesson: Lesson) -> tuple[ClipFile, ...]:
    """Those of ``lesson`` first, in their order; then what its list leaves out."""
    listed = {clip.path for clip in lesson.clips}
    return (*lesson.clips, *_unlisted(root, [p for p in paths.clips if p not in listed]))


def _unlisted(root: Path, clips: list[Path]) -> Iterator[ClipFile]:
    for path in clips:
        named, where = read_clip_name(path.stem), SourceRef(file_of(root, path))
        yield ClipFile(path, where, named.view, named.block, named.shot, None, where)
