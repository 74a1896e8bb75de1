"""What a lesson's folder shows: its shots read, its clips looked into, each brought to a shot."""

from pathlib import Path

from msgspec.structs import replace

from recapgen.choosing.clip_choice import choose_clips
from recapgen.clips.footage import Footage, inspect
from recapgen.intake.by_the_clock import place_by_time
from recapgen.intake.clip_list import clips_by_name
from recapgen.intake.first_notes import SeenClip, SeenLesson, likely_spans
from recapgen.intake.folder import LessonPaths
from recapgen.intake.last_time import said_last_time
from recapgen.intake.lesson_folder import setting_of
from recapgen.intake.notes import KEYS, KNOWN, read_notes
from recapgen.intake.table.all_files import read_shots
from recapgen.intake.text_file import file_of
from recapgen.model.films import FilmedClip
from recapgen.model.lesson import ClipFile, Lesson, Notes
from recapgen.model.people import Coach, Student
from recapgen.model.source import SourceRef
from recapgen.tools.cache import Cache


def see_lesson(
    root: Path, paths: LessonPaths, coach: Coach, student: Student, cache: Cache
) -> SeenLesson:
    """Whatever of ``paths`` can be read; what is wrong with it the build says.

    Notes that are there already say how shots are read and which clips are which; clips that they
    do not list are seen as well.
    """
    where = SourceRef(file_of(root, paths.notes), 1, 1)
    notes, clips = Notes(where, ""), clips_by_name(root, paths.clips, where)
    written = read_notes(root, paths, coach, student).value if paths.notes.is_file() else None
    if written is not None:
        listed = {clip.path for clip in written.clips}
        further = (clip for clip in clips if clip.path not in listed)
        notes, clips = written.notes, (*written.clips, *further)
    setting = setting_of(notes, coach, student)
    table = read_shots(root, paths.tables, setting).value if paths.tables else None
    if table is not None:
        notes = place_by_time(notes, table).value or notes
        spans = notes.spans or (() if notes.timed else likely_spans(table, where))
        notes = replace(notes, spans=spans)
    lesson = Lesson(
        key=paths.key, on=paths.on, folder=paths.folder, where=where, notes=notes,
        private=None, seal=None, shots=table, clips=clips,
    )  # fmt: skip
    return SeenLesson(
        on=paths.on,
        coach=coach,
        student=student,
        shots=table,
        clips=tuple(_seen(lesson, cache)),
        last=said_last_time(root, paths, KEYS, KNOWN),
    )


def _seen(lesson: Lesson, cache: Cache) -> list[SeenClip]:
    looks = {clip.path: inspect(clip, cache).value for clip in lesson.clips}
    usable = [look for look in looks.values() if look is not None]
    chosen = choose_clips(lesson, [FilmedClip(look.clip, look.struck_at) for look in usable])
    found = {clip.path: clip for clip in chosen.clips}
    return [_clip(clip, found.get(clip.path, clip), looks[clip.path]) for clip in lesson.clips]


def _clip(named: ClipFile, found: ClipFile, look: Footage | None) -> SeenClip:
    said = named.shot is not None or named.block is not None
    by_time = not said and (found.shot is not None or found.block is not None)
    if look is None:
        return SeenClip(found)
    return SeenClip(found, by_time, look.strike, look.impacts_s)
