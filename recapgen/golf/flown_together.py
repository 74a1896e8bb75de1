"""Balls of several blocks or lessons flown as one array: each step costs the same for few or many.

A step of the flights is some sixty operations on arrays, whose cost hardly depends on how many
balls are in them; so one flight of a hundred balls is a tenth of ten flights of ten.
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

import numpy as np
from msgspec.structs import fields

from recapgen.golf.air import Floats
from recapgen.golf.flight import Flights, Launch, Trajectory, Weather, fly, track

Flown = tuple[Launch, Weather]
NO_WIND_QUOTED_AT_M = 2.0  # of still air: nothing at any height


def fly_together(groups: Sequence[Flown], step_s: float) -> list[Flights]:
    """What ``fly`` gives for each group, to the last bits; one call for all.

    Raises ValueError where a wind is the same at every height: all share one profile.
    """
    if not groups:
        return []
    launch, weather = _as_one(groups)
    flights = fly(launch, weather, step_s=step_s)
    columns = [getattr(flights, field.name) for field in fields(Flights)]
    return [Flights(*(column[part] for column in columns)) for part in _parts(groups)]


def tracks_together(launches: Sequence[Launch]) -> list[list[Trajectory]]:
    """What ``track`` gives for each group of launches in standard air; one call for all."""
    groups = [(launch, Weather()) for launch in launches]
    if not groups:
        return []
    ways = track(_as_one(groups)[0])
    return [ways[part] for part in _parts(groups)]


def weather_of_each(weathers: Sequence[Weather], which: Sequence[int]) -> Weather:
    """The weather of each ball of a row, ``which`` of ``weathers`` it flies through.

    Raises ValueError as ``fly_together`` does.
    """
    if len(weathers) == 1:
        return weathers[0]
    joined = _joined(weathers, [1] * len(weathers))
    of_ball = np.array(which, dtype=np.intp)
    return Weather(*(np.asarray(getattr(joined, field.name))[of_ball] for field in fields(Weather)))


def _as_one(groups: Sequence[Flown]) -> Flown:
    launch = Launch(
        *(
            np.concatenate([getattr(launch, field.name) for launch, _ in groups])
            for field in fields(Launch)
        )
    )
    sizes = [len(launch.ball_speed_mps) for launch, _ in groups]
    return launch, _joined([weather for _, weather in groups], sizes)


def _joined(weathers: Sequence[Weather], sizes: Sequence[int]) -> Weather:
    def along(values: Iterable[Floats | float]) -> Floats:
        each = [np.broadcast_to(value, n) for value, n in zip(values, sizes, strict=True)]
        return np.concatenate(each) if each else np.zeros(0)

    return Weather(
        density_kg_m3=along(w.density_kg_m3 for w in weathers),
        along_mps=along(w.along_mps for w in weathers),
        across_mps=along(w.across_mps for w in weathers),
        quoted_at_m=along(map(_quoted_at_m, weathers)),
        roughness_m=along(w.roughness_m for w in weathers),
        drag_added=along(w.drag_added for w in weathers),
        lift_added=along(w.lift_added for w in weathers),
    )


def _quoted_at_m(weather: Weather) -> Floats | float:
    if weather.quoted_at_m is not None:
        return weather.quoted_at_m
    if np.any(weather.along_mps) or np.any(weather.across_mps):
        raise ValueError("a wind the same at every height has no place in a common profile")
    return NO_WIND_QUOTED_AT_M


def _parts(groups: Sequence[Flown]) -> Iterator[slice]:
    ends = np.cumsum([0, *(len(launch.ball_speed_mps) for launch, _ in groups)]).tolist()
    return (slice(start, end) for start, end in pairwise(ends))
