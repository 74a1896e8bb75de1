"""What a coach would add to the notes for a clip."""

from recapgen.model.fix import Add, Change, Put
from recapgen.model.lesson import ClipFile
from recapgen.model.source import SourceRef


def is_listed(clip: ClipFile) -> bool:
    """Has the clip a line of its own under ``clips:``?"""
    return clip.where.file == clip.impact_where.file and clip.where.line is not None


def said_of(clip: ClipFile, key: str, value: str) -> tuple[Change, ...]:
    """``key: value`` on the clip's line.

    Where there is no list yet, one of all clips: what is not listed beside one that is would not
    be shown.
    """
    if is_listed(clip):
        return (Put(clip.where, (key,), value),)
    notes = SourceRef(clip.impact_where.file)
    own = Add(notes, ("clips",), {"file": clip.path.name, key: value})
    return (own, *(Add(notes, ("clips",), {"file": name}) for name in clip.beside))
