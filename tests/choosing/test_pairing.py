"""Which clips are shown: the typical one, or the coach's choice, and never a mishit by itself."""

from pathlib import Path

import pytest

from recapgen.choosing.pairing import pair_up
from recapgen.model.films import ChosenBecause, ClipChoice
from recapgen.model.lesson import ClipFile, View
from recapgen.model.problem import Code
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block, SortedShot
from recapgen.model.source import SourceRef
from tests.evidence.made_shots import NUMBER, lesson

WHERE = SourceRef("anna/2027-04-11/notes.md", 9, 3)
BEFORE = [5.0, 6.0, 5.2, 4.1, 5.5, 5.4, 6.6, 4.8]
AFTER = [8.0, 8.3, 7.2, 8.1, 8.6, 7.9, 8.2, 7.7]


def clip(shot: int | None, block: Block, *, chosen: bool = False) -> ClipFile:
    path = Path(f"{block} {shot}.mov")
    return ClipFile(path, WHERE, View.FACE_ON, block, shot, None, WHERE, chosen)


def now(*clips: ClipFile, shots: tuple[SortedShot, ...] | None = None) -> ClipChoice:
    """The choice for the block after, of one view."""
    (pairing,), problems = pair_up(clips, shots or lesson(BEFORE, AFTER), [NUMBER])
    assert problems == ()
    return pairing.choices[-1]


def test_the_filmed_shot_nearest_to_the_middle_is_shown() -> None:
    shown = now(clip(5, Block.BEFORE), clip(11, Block.AFTER), clip(12, Block.AFTER))
    assert (shown.clip.shot, shown.chosen_because) == (12, ChosenBecause.TYPICAL)
    assert (shown.position, shown.of, shown.rank, shown.filmed) == (4, 8, 1, 2)


def test_where_none_is_typical_the_nearest_says_so() -> None:
    shown = now(clip(11, Block.AFTER))
    assert (shown.clip.shot, shown.chosen_because) == (11, ChosenBecause.NEAREST)


def test_the_coach_may_choose_another_with_its_rank() -> None:
    clips = (clip(11, Block.AFTER, chosen=True), clip(12, Block.AFTER), clip(16, Block.AFTER))
    shown = now(*clips)
    assert (shown.clip.shot, shown.chosen_because) == (11, ChosenBecause.CHOSEN)
    assert (shown.position, shown.of, shown.rank, shown.filmed) == (3, 8, 3, 3)


def test_a_choice_that_is_the_typical_shot_is_typical() -> None:
    shown = now(clip(11, Block.AFTER), clip(12, Block.AFTER, chosen=True))
    assert shown.chosen_because is ChosenBecause.TYPICAL


def test_a_mishit_is_passed_over_and_named_where_nothing_else_was_filmed() -> None:
    shots = lesson(BEFORE, AFTER, tags_after=(3,))
    assert now(clip(12, Block.AFTER), clip(9, Block.AFTER), shots=shots).clip.shot == 9
    clips = (clip(5, Block.BEFORE), clip(12, Block.AFTER))
    (pairing,), (problem,) = pair_up(clips, shots, [NUMBER])
    assert [choice.clip.shot for choice in pairing.choices] == [5]
    assert problem.code is Code.CLIP_MISHIT
    assert problem.facts["file"] == "after 12.mov"


@pytest.mark.parametrize("judged", [(NUMBER,), ()])
def test_a_mishit_is_shown_where_the_coach_chose_it(judged: tuple[Quantity, ...]) -> None:
    shots = lesson(BEFORE, AFTER, tags_after=(3,))
    (pairing,), problems = pair_up([clip(12, Block.AFTER, chosen=True)], shots, judged)
    (choice,) = pairing.choices
    assert problems == ()
    assert (choice.chosen_because, choice.rank) == (ChosenBecause.CHOSEN, None)


def test_without_readings_the_first_clip_stands() -> None:
    shown = now(clip(None, Block.AFTER), clip(3, Block.AFTER), shots=lesson([], []))
    assert (shown.clip.shot, shown.chosen_because, shown.position) == (
        None,
        ChosenBecause.ONLY,
        None,
    )
