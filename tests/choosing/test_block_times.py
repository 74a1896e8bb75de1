"""A clip whose shot is not known belongs to the block in whose time it was filmed, or is asked."""

from datetime import UTC, datetime

import pytest
from msgspec.structs import replace

from recapgen.choosing.block_times import blocks_by_time
from recapgen.choosing.matching import match
from recapgen.model.clock_marks import ClockSpan, TimedBlock
from recapgen.model.films import FilmedClip
from recapgen.model.shots import Block
from tests.choosing.test_matching import NOTES, clip, shots

NOON = datetime(2031, 2, 3, 12, 0, tzinfo=UTC).timestamp()


def at(clock: str) -> float:
    """Seconds since 1970 of a time of day, as if the phone were in London."""
    hour, minute, second = map(int, f"{clock}:0".split(":")[:3])
    return NOON + (hour - 12) * 3600.0 + minute * 60 + second


def block(kind: Block, first: str, last: str) -> TimedBlock:
    first_s, last_s = (int(at(clock) - at("0:00")) for clock in (first, last))
    return TimedBlock(kind, ClockSpan(first_s, last_s, False, f"{first}-{last}", NOTES))


NOTED = (block(Block.BEFORE, "10:02", "10:11"), block(Block.AFTER, "10:20", "10:31"))


def filmed(*clocks: str, zone_s: float = 0.0) -> list[FilmedClip]:
    """Clips that a phone made ``zone_s`` from the place's own time."""
    return [FilmedClip(clip(f"IMG_{n}.mov"), at(c) - zone_s) for n, c in enumerate(clocks)]


@pytest.mark.parametrize("zone_s", [0, 7200, -5 * 3600, 5.5 * 3600, 20.0])
def test_two_clips_find_their_blocks_whatever_the_zone(zone_s: float) -> None:
    clips = filmed("10:05:30", "10:25", zone_s=zone_s)
    found = blocks_by_time(clips, NOTED, ())
    assert [found[one] for one in clips] == [Block.BEFORE, Block.AFTER]


def test_blocks_of_a_devices_shots_do_as_well() -> None:
    timed = shots()  # 10:00 to 10:04, and 10:10 to 10:15
    clips = filmed("10:00:40", "10:12")
    matched, problems = match(clips, timed)
    assert [each.block for each in matched] == [Block.BEFORE, Block.AFTER]
    assert [each.shot for each in matched] == [None, None]
    assert problems == ()


@pytest.mark.parametrize(
    "clocks",
    [
        ("10:05",),  # alone it fits either block, in one zone or another
        ("10:05", "10:15:30"),  # in the pause
        ("10:05", "10:25", "12:40"),  # at no time of the lesson
        ("10:11:30", "10:25"),  # so near the end that the phone may be a minute slow
    ],
)
def test_what_is_not_clear_is_left_open(clocks: tuple[str, ...]) -> None:
    near = (block(Block.BEFORE, "10:02", "10:11"), block(Block.AFTER, "10:12", "10:31"))
    assert blocks_by_time(filmed(*clocks), near if len(clocks) == 2 else NOTED, ()) == {}


def test_a_block_that_is_known_settles_the_zone_or_speaks_against_it() -> None:
    one, other = filmed("10:05", "10:08")
    known = replace(other, clip=replace(other.clip, block=Block.BEFORE))
    assert blocks_by_time((one, known), NOTED, ()) == {one: Block.BEFORE}
    against = replace(other, clip=replace(other.clip, block=Block.DRILL))
    assert blocks_by_time((one, against), NOTED, ()) == {}


def test_over_midnight_too() -> None:
    late = (block(Block.BEFORE, "23:40", "23:52"), block(Block.AFTER, "0:05", "0:20"))
    clips = filmed("23:45", "0:10")
    found = blocks_by_time(clips, late, ())
    assert [found[one] for one in clips] == [Block.BEFORE, Block.AFTER]
