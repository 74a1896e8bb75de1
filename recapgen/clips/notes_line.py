"""The very words a coach would add to the notes for a clip."""

import json
import re

from recapgen.model.lesson import ClipFile


def is_listed(clip: ClipFile) -> bool:
    """Has the clip a line of its own under ``clips:``?"""
    return clip.where.file == clip.impact_where.file and clip.where.line is not None


def line_for(clip: ClipFile, words: str) -> str:
    """``words`` alone where the clip has its line, else the whole line to write."""
    return words if is_listed(clip) else whole_line(clip, words)


def whole_line(clip: ClipFile, words: str) -> str:
    return f"- {{file: {_as_yaml(clip.path.name)}, {words}}}"


def _as_yaml(name: str) -> str:
    plain = re.fullmatch(r"[A-Za-z][\w .()-]*", name)
    return name if plain else json.dumps(name, ensure_ascii=False)
