"""The clips that a lesson shows: each brought to its shot, measured, and the best one chosen."""

from collections.abc import Sequence

from msgspec import Struct

from recapgen.choosing.followed import with_travel
from recapgen.choosing.matching import match
from recapgen.choosing.pairing import in_blocks, pair_up
from recapgen.evidence.sorting import sorted_shots
from recapgen.model.films import ClipChoice, ClipPairing, FilmedClip
from recapgen.model.lesson import ClipFile, Lesson
from recapgen.model.problem import Problem


class ClipChoices(Struct, frozen=True):
    """What is shown of a lesson's clips.

    ``lesson`` has the readings that were taken from clips; ``clips`` are those given, in their
    order, each with the shot and the block that it shows. ``pairings`` has one film a view.
    """

    lesson: Lesson
    clips: tuple[ClipFile, ...]
    pairings: tuple[ClipPairing, ...]
    problems: tuple[Problem, ...]


def choose_clips(lesson: Lesson, filmed: Sequence[FilmedClip]) -> ClipChoices:
    """Takes the lesson's clips that can be shown; gives the films to be made of them.

    In three steps: which shot a clip shows (notes, name, then time), the readings taken from a
    followed patch, and for each view the clip that stands for its block. What cannot be
    settled is a problem, never a guess.
    """
    matched, asked = match(filmed, sorted_shots(lesson), lesson.notes.timed)
    travels = {one.clip.path: one.travel for one in filmed if one.travel is not None}
    followed = with_travel(lesson, matched, travels)
    shots = sorted_shots(followed.lesson)
    clips = in_blocks(followed.clips, shots)
    declaration = lesson.notes.declaration
    pairings, unshown = pair_up(clips, shots, declaration.judged if declaration is not None else ())
    return ClipChoices(followed.lesson, clips, pairings, (*asked, *followed.problems, *unshown))


def each_alone(lesson: Lesson, filmed: Sequence[FilmedClip]) -> ClipChoices:
    """A film of every clip, in the coach's order: none shows a shot or stands for others."""
    clips = tuple(one.clip for one in filmed)
    pairings = tuple(ClipPairing(clip.view, (ClipChoice(clip),)) for clip in clips)
    return ClipChoices(lesson, clips, pairings, ())
