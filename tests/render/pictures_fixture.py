"""Every kind of picture, made of invented lessons."""

from collections.abc import Callable, Sequence
from datetime import date

from msgspec.structs import replace

from recapgen.evidence.dispersion import dispersion_change
from recapgen.golf.clubs import Family
from recapgen.golf.flight_line import flight_lines
from recapgen.model.carry import FlightLines
from recapgen.model.evidence import Comparison, ShareChange, Verdict
from recapgen.model.lesson import Direction, Want
from recapgen.model.people import Hand
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block, ShotStatus, SortedShot
from recapgen.model.units import Units
from recapgen.render.charts.chart_parts import Picture
from recapgen.render.charts.dispersion_chart import where_they_finished
from recapgen.render.charts.lesson_strip import in_order_of_time
from recapgen.render.charts.progress import ProgressPoint, over_the_lessons
from recapgen.render.charts.share_bars import inside_then_and_now
from recapgen.render.charts.strip import lessons_together, then_and_now
from recapgen.render.reader import Reader
from recapgen.words.amounts import day
from recapgen.words.catalogue import words
from tests.render.recaps_fixture import (
    COACH,
    IMPERIAL,
    comparison,
    earlier_path,
    faster,
    full_recap,
    path_comparison,
    sample,
    shots,
    too_early,
)

READER = Reader(Units(), Hand.RIGHT, words("en"), COACH)
YARDS = Reader(IMPERIAL, None, words("en"), COACH)


def strip(told: Comparison | None, reader: Reader = READER) -> Picture:
    assert told is not None
    picture = then_and_now(told, reader, {})
    assert picture is not None
    return picture


def together(reader: Reader = READER) -> Picture:
    """Two lessons on one scale, the middles of both at its very edge."""
    told = path_comparison()
    at_the_edge = replace(told, after=sample(20, (9.4, 9.5, 9.6)))
    days = [day(date(2027, month, 23), reader.words) for month in (1, 12)]
    picture = lessons_together([(days[0], told), (days[1], at_the_edge)], reader)
    assert picture is not None
    return picture


def all_pictures(reader: Reader, yards: Reader) -> dict[str, Callable[[], Picture]]:
    """Every kind of picture, told to a reader and to one who counts in yards."""
    return {
        "window": lambda: strip(path_comparison(), reader),
        "yards": lambda: strip(too_early().number.comparison, yards),
        "higher": lambda: strip(faster().number.comparison, reader),
        "progress": lambda: over_the_lessons(
            [
                ProgressPoint(r.on, r.number.comparison)
                for r in (earlier_path(), full_recap())
                if r.number.comparison
            ],
            reader,
        ),
        "one-sided": lambda: strip(
            comparison(
                Quantity.SMASH_FACTOR,
                Want(Direction.LOWER),
                (sample(1, (1.4,) * 9 + (1.41,) * 4), sample(20, ())),
                Verdict.TOO_EARLY,
            ),
            reader,
        ),
        "zero": lambda: strip(
            comparison(
                Quantity.FACE_ANGLE,
                Want(Direction.ZERO),
                (sample(1, (5.2, 6.1, 4.8, 5.5, 5.9)), sample(20, (2.2, 1.6, 2.9, 1.8, 2.4))),
                Verdict.CHANGED,
            ),
            reader,
        ),
        "share": lambda: inside_then_and_now(share_of(path_comparison()), reader),
        "finish": lambda: finish_of(landed(), reader),
        "order": lambda: order(shots(path_comparison()), reader),
        "order-long": lambda: order(long_lesson(), reader),
    }


PICTURES = all_pictures(READER, YARDS)


def share_of(told: Comparison) -> ShareChange:
    assert told.inside is not None
    return told.inside


def landed() -> tuple[SortedShot, ...]:
    """The path lesson, each ball with a place where it came down."""
    return tuple(
        replace(
            s,
            shot=replace(
                s.shot,
                readings={
                    **s.shot.readings,
                    Quantity.CARRY: 180 + (7 * s.shot.number) % 23,
                    Quantity.CARRY_SIDE: (5 * s.shot.number) % 17 - 4,
                },
            ),
        )
        for s in shots(path_comparison())
    )


def finish_of(told: tuple[SortedShot, ...], reader: Reader = READER) -> Picture:
    found = dispersion_change(told)
    picture = where_they_finished(replace(path_comparison(), dispersion=found), told, reader, {})
    assert picture is not None
    return picture


def order(told: Sequence[SortedShot], reader: Reader = READER) -> Picture:
    picture = in_order_of_time(path_comparison(), told, reader, {})
    assert picture is not None
    return picture


def long_lesson() -> tuple[SortedShot, ...]:
    """Six short blocks of twelve balls in all, whose names do not fit beside each other."""
    blocks = (Block.WARM_UP, Block.BEFORE, Block.DRILL, Block.AFTER, Block.CLOSING, None)
    return tuple(
        replace(s, block=block, status=ShotStatus.USED if block else ShotStatus.SET_ASIDE)
        for s, block in zip(
            shots(path_comparison()), [b for b in blocks for _ in "ab"], strict=False
        )
    )


def flown(speed_mps: float) -> FlightLines:
    def line(mps: float) -> dict[Quantity, float]:
        return {
            Quantity.BALL_SPEED: mps,
            Quantity.LAUNCH_ANGLE: 16.0,
            Quantity.SPIN_RATE: 6500.0,
        }

    then, now = flight_lines([([line(mps)], Family.IRON) for mps in (speed_mps, speed_mps + 4)])
    return FlightLines(then, now)
