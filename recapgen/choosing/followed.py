"""A number that is read from clips: the travel of the marked patch, put on the shots they show."""

from collections.abc import Mapping, Sequence
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from recapgen.evidence.sorting import sort_shots
from recapgen.model.films import Travel
from recapgen.model.lesson import ClipFile, Lesson
from recapgen.model.problem import Code, Problem
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block, Shot, ShotTable

_IN_TIME = tuple(Block)
Travels = Mapping[Path, Travel]


class Followed(Struct, frozen=True):
    """The lesson with what its clips measured; the clips, each with the shot it now shows."""

    lesson: Lesson
    clips: tuple[ClipFile, ...]
    problems: tuple[Problem, ...] = ()


def with_travel(lesson: Lesson, clips: Sequence[ClipFile], travels: Travels) -> Followed:
    """One reading for each followed clip, where the lesson's number or guard is read from clips.

    ``travels`` are those of the clips that were to be followed, by path; where one is not steady
    its shot has no reading. A clip that shows a shot of the table adds to that shot; where there
    is no table, it is that shot. One of which only the block is known is a shot of its own.
    """
    declaration = lesson.notes.declaration
    followed = [clip for clip in clips if clip.path in travels]
    if declaration is None or not declaration.in_clips or not followed:
        return Followed(lesson, tuple(clips))
    measured, numbers = _measured(lesson, followed, travels)
    problems: tuple[Problem, ...] = ()
    if not any(travels[clip.path].steady for clip in followed):
        names = ", ".join(clip.path.name for clip in followed)
        facts = {"number": str(declaration.in_clips[0]), "files": names}
        problems = (Problem(Code.NUMBER_NOT_STEADY, declaration.where, facts),)
    shown = tuple(replace(clip, shot=numbers.get(clip.path, clip.shot)) for clip in clips)
    return Followed(measured, shown, problems)


def _measured(
    lesson: Lesson, followed: Sequence[ClipFile], travels: Travels
) -> tuple[Lesson, dict[Path, int]]:
    """The lesson with the readings; and the number that each clip without a shot was given.

    Such a clip goes behind the shots of its block. Of two clips of one shot the first counts.
    """
    told = {clip.shot: clip for clip in reversed(followed) if clip.shot is not None}
    table = lesson.shots or ShotTable(
        tuple(Shot(shot, clip.where, {}, clip.block) for shot, clip in sorted(told.items())), ()
    )
    rows = [
        _read(shot, travels[told[shot.number].path]) if shot.number in told else shot
        for shot in table.shots
    ]
    blocks = [each.block for each in sort_shots(lesson.notes, table, None, None)]
    taken = (*(shot.number for shot in rows), *(span.last for span in lesson.notes.spans))
    untold = sorted((clip for clip in followed if clip.shot is None), key=_when)
    numbers = {}
    for number, clip in enumerate(untold, max(taken, default=0) + 1):
        numbers[clip.path] = number
        place = _behind(blocks, clip)
        row = _read(Shot(number, clip.where, {}, clip.block), travels[clip.path])
        rows.insert(place, row)
        blocks.insert(place, clip.block)
    return replace(lesson, shots=replace(table, shots=tuple(rows))), numbers


def _read(shot: Shot, travel: Travel) -> Shot:
    if not travel.steady:
        return shot
    travelled = {Quantity.TRAVEL_ACROSS: travel.across, Quantity.TRAVEL_UP: travel.up}
    return replace(shot, readings={**shot.readings, **travelled})


def _when(clip: ClipFile) -> int:
    return len(_IN_TIME) if clip.block is None else _IN_TIME.index(clip.block)


def _behind(blocks: Sequence[Block | None], clip: ClipFile) -> int:
    """The place after the last shot of the clip's block or an earlier one."""
    if clip.block is None:
        return len(blocks)
    so_far = _IN_TIME[: _when(clip) + 1]
    return max((at for at, block in enumerate(blocks, 1) if block in so_far), default=0)
