"""A ball in flight: drag, lift from spin, wind and gravity, many balls at once.

    m dv/dt = -1/2 rho A CD |u| u + 1/2 rho A CL |u| (w x u) + m g,    u = v - wind
    dq/dt   = -lam (rho / 1.204) |u| q / r,   q = surface speed,       S = q / |u|

Drag and lift are least squares through ten published data sets (wind tunnels, launchers,
tracked shots), with a scatter of 0.02 in CD and 0.015 in CL; spin decay after Smits & Smith
1994. Axes: x along the target line, y up, z right. The axis of spin keeps its direction.
Known to be weak: descent 2 to 5 degrees shallow, time 2 to 3% short, lift under 25 m/s.
"""

import math
from collections.abc import Iterator

import numpy as np
from msgspec import Struct
from msgspec.structs import fields
from numpy.typing import NDArray

from recapgen.golf.air import CUT_GRASS_M, STANDARD_AIR, Floats, log_height
from recapgen.golf.ball import AREA_M2, GRAVITY_MPS2, MASS_KG, RAD_PER_S_PER_RPM, RADIUS_M

STEP_S = 0.05  # off a step of nothing: under 1 mm in still air, 50 mm in 5 m/s, 110 mm in 10 m/s
LONGEST_S = 60.0
SPIN_DECAY = 2.0e-5
DECAY_DENSITY_KG_M3 = 1.204
MOST_SPIN_RATIO = 1.5
NO_SPEED = 1e-18  # squared: keeps a ball at rest in its air from a division by nothing
WORTH_KEEPING = 0.85  # of the balls at hand still flying, before the others are put away


class Launch(Struct, frozen=True):
    """How balls leave: parallel arrays (n,). Plus is up, right, and tilted to curve right."""

    ball_speed_mps: Floats
    angle_deg: Floats
    direction_deg: Floats
    spin_rpm: Floats
    axis_deg: Floats


class Weather(Struct, frozen=True):
    """What balls fly through: each field one number for all, or an array (n,).

    ``along_mps`` plus is a tail wind, ``across_mps`` plus blows to the right; both at
    ``quoted_at_m``, falling to nothing at the ground, or the same at every height where
    that is None. The ``*_added`` shift drag and lift coefficients, to see what doubt does.
    """

    density_kg_m3: Floats | float = STANDARD_AIR.density_kg_m3
    along_mps: Floats | float = 0.0
    across_mps: Floats | float = 0.0
    quoted_at_m: Floats | float | None = None
    roughness_m: Floats | float = CUT_GRASS_M
    drag_added: Floats | float = 0.0
    lift_added: Floats | float = 0.0


class Flights(Struct, frozen=True):
    """How balls flew: parallel arrays (n,), NaN where a ball cannot fly or never came down.

    ``carry_m`` is the level distance from the ball to where it lands, ``side_m`` right of
    the target line, ``curve_m`` right of the line it started on.
    """

    carry_m: Floats
    side_m: Floats
    curve_m: Floats
    apex_m: Floats
    descent_deg: Floats
    time_s: Floats
    landing_spin_rpm: Floats


class Trajectory(Struct, frozen=True):
    """One ball's way: parallel arrays (k,) from the ball to where it lands."""

    distance_m: Floats
    height_m: Floats
    side_m: Floats


class _Balls(Struct, frozen=True):
    """What does not change in flight: arrays (m,), or one number where all balls share it."""

    push: Floats | float  # rho A / 2 m
    decay: Floats | float
    axis: Floats  # of spin, (5, m): x, y, z, x, y
    along: Floats | float  # of a profile: per unit of log height
    across: Floats | float
    roughness: Floats | float | None  # None: wind the same at every height, or none
    drag_added: Floats | float
    lift_added: Floats | float

    def of(self, keep: NDArray[np.bool_]) -> "_Balls":
        """Those that ``keep`` (m,) marks."""
        values = (getattr(self, field.name) for field in fields(self))
        return _Balls(
            *(v[..., keep] if isinstance(v, np.ndarray) and v.ndim else v for v in values)
        )


class _Step(Struct, frozen=True):
    """One step of some balls: ``which`` (m,) they are, states (7, m), who flies and who lands."""

    time_s: float
    which: NDArray[np.intp]
    before: Floats
    after: Floats
    flying: NDArray[np.bool_]
    landed: NDArray[np.bool_]


class _Moment(Struct, frozen=True):
    """The states (7, n) before and after the step in which something befell each ball."""

    before: Floats
    after: Floats

    @classmethod
    def of(cls, balls: int) -> "_Moment":
        return cls(np.full((7, balls), np.nan), np.full((7, balls), np.nan))

    def keep(self, step: _Step, befell: NDArray[np.bool_]) -> bool:
        """Notes the step for those whom it ``befell`` (m,); whether it befell any."""
        here = np.flatnonzero(befell)
        if not here.size:
            return False
        which = step.which[here]
        self.before[:, which] = step.before.take(here, axis=1)
        self.after[:, which] = step.after.take(here, axis=1)
        return True


def fly(
    launch: Launch, weather: Weather | None = None, landing_m: float = 0.0, step_s: float = STEP_S
) -> Flights:
    """All balls at once, each to where it comes down ``landing_m`` above where it lay."""
    n = len(launch.ball_speed_mps)
    over, down, down_s = _Moment.of(n), _Moment.of(n), np.full(n, np.nan)
    for step in _steps(launch, weather or Weather(), landing_m, step_s):
        over.keep(step, step.flying & (step.before[4] > 0) & (step.after[4] <= 0))
        if down.keep(step, step.landed):
            down_s[step.which[step.landed]] = step.time_s
    with np.errstate(invalid="ignore"):
        top_m = _top(over.before, over.after, step_s)
        share = _landing_share(down.before, down.after, step_s, landing_m)
    ends = _within(down.before, down.after, step_s, share)
    x, y, z, vx, vy, vz, surface = ends
    heading = np.radians(launch.direction_deg)
    return Flights(
        carry_m=np.hypot(x, z),
        side_m=z,
        curve_m=z * np.cos(heading) - x * np.sin(heading),
        apex_m=np.where(np.isnan(x), np.nan, np.fmax(top_m, np.fmax(y, 0.0))),
        descent_deg=np.degrees(np.arctan2(-vy, np.hypot(vx, vz))),
        time_s=down_s + share * step_s,
        landing_spin_rpm=surface / (RADIUS_M * RAD_PER_S_PER_RPM),
    )


def track(
    launch: Launch, weather: Weather | None = None, step_s: float = STEP_S
) -> list[Trajectory]:
    """The ways of a few balls, point by point; empty for a ball that cannot fly."""
    ways: list[list[Floats]] = [[] for _ in launch.ball_speed_mps]
    for step in _steps(launch, weather or Weather(), 0.0, step_s):
        landed_at = step.after.copy()
        if step.landed.any():
            before, after = step.before[:, step.landed], step.after[:, step.landed]
            share = _landing_share(before, after, step_s, 0.0)
            landed_at[:, step.landed] = _within(before, after, step_s, share)
        for column in np.flatnonzero(step.flying):
            ways[step.which[column]].append(landed_at[:3, column])
    points = [np.array([np.zeros(3), *way] if way else []).reshape(-1, 3) for way in ways]
    return [Trajectory(np.hypot(p[:, 0], p[:, 2]), p[:, 1], p[:, 2]) for p in points]


def _steps(launch: Launch, weather: Weather, landing_m: float, step_s: float) -> Iterator[_Step]:
    """Classical Runge-Kutta steps of all balls that still fly, and of some that landed lately."""
    state, balls = _start(launch, weather)
    can_fly = np.isfinite(state).all(axis=0) & (state[6] >= 0) & (state[3:6] != 0).any(axis=0)
    which = np.flatnonzero(can_fly)
    state, balls = state[:, can_fly], balls.of(can_fly)
    flying = np.ones(len(which), dtype=np.bool_)
    half = step_s / 2
    for number in range(math.ceil(LONGEST_S / step_s)):
        if not flying.any():
            return
        k1 = _rates(state, balls)
        k2 = _rates(state + half * k1, balls)
        k3 = _rates(state + half * k2, balls)
        k4 = _rates(state + step_s * k3, balls)
        k2 += k3
        k2 *= 2
        k2 += k1
        k2 += k4
        k2 *= step_s / 6
        k2 += state
        after = k2
        below = flying & (after[1] < landing_m)
        landed = below & (state[1] >= landing_m)
        yield _Step(number * step_s, which, state, after, flying, landed)
        state = after
        if below.any():
            # Landed, or falling short of a height that was never reached.
            flying = flying & ~(landed | (below & (after[4] < 0)))
            if np.count_nonzero(flying) < WORTH_KEEPING * len(which):
                which, state, balls = which[flying], state[:, flying], balls.of(flying)
                flying = flying[flying]


def _start(launch: Launch, weather: Weather) -> tuple[Floats, _Balls]:
    """States (7, n): place, velocity, surface speed; and the balls."""
    up, heading = np.radians(launch.angle_deg), np.radians(launch.direction_deg)
    tilt, level = np.radians(launch.axis_deg), np.cos(up)
    speed = launch.ball_speed_mps
    state = np.zeros((7, len(speed)))
    state[3] = speed * level * np.cos(heading)
    state[4] = speed * np.sin(up)
    state[5] = speed * level * np.sin(heading)
    state[6] = launch.spin_rpm * RAD_PER_S_PER_RPM * RADIUS_M
    # Level and to the right of the launch, turned about it by the tilt.
    cos, sin = np.cos(tilt), np.sin(tilt)
    axis_x = -np.sin(heading) * cos + np.sin(up) * np.cos(heading) * sin
    axis_y = -level * sin
    axis_z = np.cos(heading) * cos + np.sin(up) * np.sin(heading) * sin
    along, across, roughness = weather.along_mps, weather.across_mps, weather.roughness_m
    profiled = weather.quoted_at_m is not None and bool(np.any(along) or np.any(across))
    if weather.quoted_at_m is not None:
        quoted = log_height(weather.quoted_at_m, roughness)
        along, across = along / quoted, across / quoted
    return state, _Balls(
        push=weather.density_kg_m3 * (AREA_M2 / (2 * MASS_KG)),
        decay=weather.density_kg_m3 * (SPIN_DECAY / (DECAY_DENSITY_KG_M3 * RADIUS_M)),
        axis=np.stack([axis_x, axis_y, axis_z, axis_x, axis_y]),
        along=along,
        across=across,
        roughness=roughness if profiled else None,
        drag_added=weather.drag_added,
        lift_added=weather.lift_added,
    )


def _rates(state: Floats, balls: _Balls) -> Floats:
    """The rates of change (7, m) of states (7, m)."""
    surface = state[6]
    # Velocity in the air as x, y, z, x, y, so that each axis has the next two beside it.
    u = np.empty((5, state.shape[1]))
    u[:3] = state[3:6]
    if balls.roughness is not None:
        blowing = log_height(state[1], balls.roughness)
        u[0] -= balls.along * blowing
        u[2] -= balls.across * blowing
    else:
        u[0] -= balls.along
        u[2] -= balls.across
    u[3:] = u[:2]
    squared = u[:3] * u[:3]
    speed = np.sqrt(squared[0] + squared[1] + squared[2] + NO_SPEED)
    ratio = np.minimum(surface / speed, MOST_SPIN_RATIO)
    push = balls.push * speed
    rates = np.empty_like(state)
    rates[:3] = state[3:6]
    across = balls.axis[1:4] * u[2:5]
    across -= balls.axis[2:5] * u[1:4]
    across *= push * lift_coefficient(ratio, balls.lift_added)
    along = push * drag_coefficient(ratio, balls.drag_added) * u[:3]
    along[1] += GRAVITY_MPS2
    np.subtract(across, along, out=rates[3:6])
    np.multiply(speed * surface, -balls.decay, out=rates[6])
    return rates


# The two laws, each fraction S / (S + b) written as 1 - b / (S + b): it is quicker.


def drag_coefficient(spin_ratio: Floats, added: Floats | float = 0.0) -> Floats:
    """0.187 + 0.237 S^2 / (S^2 + 0.0859) + 0.0745 S."""
    rising = 0.0745 * spin_ratio - 0.237 * 0.0859 / (spin_ratio * spin_ratio + 0.0859)
    return np.asarray(rising + (0.187 + 0.237 + added))


def lift_coefficient(spin_ratio: Floats, added: Floats | float = 0.0) -> Floats:
    """0.550 S / (S + 0.328) + 0.0343 (1 - exp(-50 S))."""
    falling = 0.550 * 0.328 / (spin_ratio + 0.328) + 0.0343 * np.exp(-50 * spin_ratio)
    return np.asarray((0.550 + 0.0343 + added) - falling)


def _within(before: Floats, after: Floats, step_s: float, share: Floats) -> Floats:
    """States (7, m) part of the way through a step: places by Hermite, the rest straight."""
    between = before + share * (after - before)
    for axis in range(3):
        between[axis] = _hermite(
            before[axis],
            after[axis],
            step_s * before[axis + 3],
            step_s * after[axis + 3],
            share,
        )
    return between


def _hermite(start: Floats, end: Floats, out: Floats, into: Floats, share: Floats) -> Floats:
    """Cubic from ``start`` to ``end`` with slopes ``out`` and ``into`` (per whole step)."""
    back = 1 - share
    return np.asarray(
        start * (1 + 2 * share) * back**2
        + out * share * back**2
        + end * share**2 * (3 - 2 * share)
        - into * share**2 * back
    )


def _landing_share(before: Floats, after: Floats, step_s: float, landing_m: float) -> Floats:
    """The part of the step (m,) after which the ball is down.

    Newton from the step's end: a falling ball's height is concave, so this closes in on the
    later of two crossings and never passes it.
    """
    start, end = before[1] - landing_m, after[1] - landing_m
    out, into = step_s * before[4], step_s * after[4]
    share = np.ones_like(start)
    for _ in range(6):
        height = _hermite(start, end, out, into, share)
        slope = (
            6 * share * (1 - share) * (end - start)
            + out * (1 - share) * (1 - 3 * share)
            + into * share * (3 * share - 2)
        )
        share = np.asarray(np.clip(share - height / np.minimum(slope, -1e-9), 0.0, 1.0))
    return np.asarray(share)


def _top(before: Floats, after: Floats, step_s: float) -> Floats:
    """The highest point (m,) within a step that a ball enters rising and leaves falling."""
    share = np.asarray(before[4] / (before[4] - after[4]))
    return _hermite(before[1], after[1], step_s * before[4], step_s * after[4], share)
