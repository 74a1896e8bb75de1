"""The door: what was found in the clips goes in, the films to be made come out."""

from msgspec.structs import replace

from recapgen.choosing.clip_choice import choose_clips
from recapgen.model.films import ClipPairing, FilmedClip, Travel
from recapgen.model.lesson import ClipFile, Guard, GuardKind
from recapgen.model.problem import Code
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block, Shot
from tests.choosing.test_followed import LINE, clip, lesson, shot, told

SPEED_KEPT = Guard(Quantity.BALL_SPEED, GuardKind.LEVEL, 1.0, LINE)
UP_TO_FOUR = [shot(n, Block.BEFORE if n < 3 else Block.AFTER) for n in range(1, 5)]


def found(*clips: ClipFile, across: float | None = None) -> list[FilmedClip]:
    travel = None if across is None else Travel(across, 0.0, 0.9, steady=True)
    return [FilmedClip(each, None, travel) for each in clips]


def shown(pairing: ClipPairing) -> list[tuple[str, Block | None]]:
    return [(choice.clip.path.name, choice.clip.block) for choice in pairing.choices]


def test_a_clip_gets_the_block_of_its_shot_and_stands_for_it() -> None:
    clips = clip("one.mov", 2, None), clip("two.mov", 3, None)
    chosen = choose_clips(lesson(UP_TO_FOUR, told(Quantity.CARRY)), found(*clips))
    (pairing,) = chosen.pairings
    assert shown(pairing) == [("one.mov", Block.BEFORE), ("two.mov", Block.AFTER)]
    assert [each.block for each in chosen.clips] == [Block.BEFORE, Block.AFTER]
    assert chosen.problems == ()


def test_what_a_clip_measured_stands_on_the_lesson_before_a_clip_is_chosen() -> None:
    """Without its travel no shot has a reading of the number, and none could be typical."""
    clips = clip("one.mov", None, Block.BEFORE), clip("two.mov", None, Block.AFTER)
    given = lesson(None, told(Quantity.TRAVEL_ACROSS))
    chosen = choose_clips(given, found(*clips, across=0.4))
    assert chosen.lesson.shots is not None
    assert [s.readings[Quantity.TRAVEL_ACROSS] for s in chosen.lesson.shots.shots] == [0.4, 0.4]
    (pairing,) = chosen.pairings
    assert [choice.position for choice in pairing.choices] == [1, 1]


def test_every_step_is_heard() -> None:
    twice = clip("one.mov", 2, None), clip("two.mov", 2, None)
    mishit = [replace(each, tag="thin") if each.number == 2 else each for each in UP_TO_FOUR]
    chosen = choose_clips(lesson(mishit, told(Quantity.CARRY)), found(*twice))
    assert [p.code for p in chosen.problems] == [Code.CLIP_SHOT_SHARED, Code.CLIP_MISHIT]
    assert chosen.pairings == ()


def test_the_shot_shown_is_typical_of_what_must_not_be_lost_too() -> None:
    """Two shots lie as near to the middle of the number; the earlier one lost its ball speed."""
    carries, speeds = (40.0, 41.0, 42.0, 43.0, 44.0), (60.0, 52.0, 61.0, 60.0, 60.0)
    shots = [
        Shot(n, LINE, {Quantity.CARRY: carry, Quantity.BALL_SPEED: speed}, Block.AFTER)
        for n, (carry, speed) in enumerate(zip(carries, speeds, strict=True), 1)
    ]
    filmed = found(clip("lost.mov", 2, None), clip("kept.mov", 4, None))
    for guard, shows in ((None, "lost.mov"), (SPEED_KEPT, "kept.mov")):
        (pairing,) = choose_clips(lesson(shots, told(Quantity.CARRY, guard)), filmed).pairings
        assert shown(pairing) == [(shows, Block.AFTER)]
