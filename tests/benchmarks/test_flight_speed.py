"""How much the flights cost beside the bare sums they are made of."""

import time
from collections.abc import Callable

import numpy as np
import numpy.typing as npt
import pytest

from recapgen.golf.flight import STEP_S, Launch, Weather, fly

Floats = npt.NDArray[np.float64]
BALLS = 1000
RUNS = 15
MOST = 1.2


def launches() -> Launch:
    rng = np.random.default_rng(20270411)
    return Launch(
        rng.uniform(35, 72, BALLS),
        rng.uniform(9, 30, BALLS),
        rng.normal(0, 3, BALLS),
        rng.uniform(2200, 9500, BALLS),
        rng.normal(0, 6, BALLS),
    )


def bare(launch: Launch, steps: int, weather: Weather) -> Floats:
    """Runge-Kutta and the same forces over all balls at once, and nothing else.

    No landing, apex or curve; every ball flies on until the last one is down. (7, n) states.
    """
    up, heading = np.radians(launch.angle_deg), np.radians(launch.direction_deg)
    tilt, level, speed = np.radians(launch.axis_deg), np.cos(up), launch.ball_speed_mps
    ax = -np.sin(heading) * np.cos(tilt) + np.sin(up) * np.cos(heading) * np.sin(tilt)
    ay = -level * np.sin(tilt)
    az = np.cos(heading) * np.cos(tilt) + np.sin(up) * np.sin(heading) * np.sin(tilt)
    along, across = (w / np.log(2.0 / 0.03 + 1) for w in (weather.along_mps, weather.across_mps))
    push = 1.1993 * 1.42997e-3 / (2 * 0.04593)
    decay = 2.0e-5 * 1.1993 / 1.204 / 0.021335

    def rates(s: Floats) -> Floats:
        blowing = np.log(np.maximum(s[1], 0) / 0.03 + 1)
        ux, vy, uz = s[3] - along * blowing, s[4], s[5] - across * blowing
        fast = np.sqrt(ux * ux + vy * vy + uz * uz)
        ratio = np.minimum(s[6] / fast, 1.5)
        squared = ratio * ratio
        drag = push * fast * (0.187 + 0.237 * squared / (squared + 0.0859) + 0.0745 * ratio)
        lift = 0.550 * ratio / (ratio + 0.328) + 0.0343 * (1 - np.exp(-50 * ratio))
        lift = push * fast * lift
        out = np.empty_like(s)
        out[:3] = s[3:6]
        out[3] = lift * (ay * uz - az * vy) - drag * ux
        out[4] = lift * (az * ux - ax * uz) - drag * vy - 9.80665
        out[5] = lift * (ax * vy - ay * ux) - drag * uz
        out[6] = -decay * fast * s[6]
        return out

    state = np.zeros((7, BALLS))
    state[3] = speed * level * np.cos(heading)
    state[4] = speed * np.sin(up)
    state[5] = speed * level * np.sin(heading)
    state[6] = launch.spin_rpm * 2 * np.pi / 60 * 0.021335
    for _ in range(steps):
        k1 = rates(state)
        k2 = rates(state + STEP_S / 2 * k1)
        k3 = rates(state + STEP_S / 2 * k2)
        k4 = rates(state + STEP_S * k3)
        state = state + STEP_S / 6 * (k1 + 2 * (k2 + k3) + k4)
    return state


def quickest(*works: Callable[[], object]) -> list[float]:
    """Seconds of this process alone for each work, by turns: a busy spell strikes all alike."""
    took: list[list[float]] = [[] for _ in works]
    for _ in range(RUNS):
        for work, times in zip(works, took, strict=True):
            start = time.process_time()
            work()
            times.append(time.process_time() - start)
    return [min(times) for times in took]


@pytest.mark.campaign
def test_a_thousand_flights_beside_their_bare_sums(
    record_property: Callable[[str, object], None],
) -> None:
    launch = launches()
    weather = Weather(along_mps=-3.0, across_mps=2.0, quoted_at_m=2.0)
    flights = fly(launch, weather)
    assert np.isfinite(flights.carry_m).all()
    steps = int(np.ceil(flights.time_s.max() / STEP_S))
    whole, plain = quickest(lambda: fly(launch, weather), lambda: bare(launch, steps, weather))
    record_property("ratio", round(whole / plain, 2))
    print(f"1000 flights {whole:.3f} s, bare sums {plain:.3f} s, ratio {whole / plain:.2f}")  # noqa: T201 - the figure is what a campaign is for
    assert whole <= MOST * plain
