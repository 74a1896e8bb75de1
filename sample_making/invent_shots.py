"""Seeded shots for invented golfers: a swing pattern, its scatter, and the mishits in between."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta

import numpy as np

from sample_making.ball_flight import ClubHead, Delivery, Landing, Launch, fly, launch

HEADS: Mapping[str, ClubHead] = {
    head.name: head
    for head in (
        ClubHead("driver", 0.80, 0.80, 0.200),
        ClubHead("4 hybrid", 0.78, 0.78, 0.235),
        ClubHead("6 iron", 0.78, 0.77, 0.256),
        ClubHead("7 iron", 0.77, 0.76, 0.262),
        ClubHead("8 iron", 0.76, 0.74, 0.270),
        ClubHead("9 iron", 0.74, 0.72, 0.278),
        ClubHead("pitching wedge", 0.70, 0.69, 0.288),
        ClubHead("sand wedge", 0.66, 0.65, 0.300),
    )
}
_CARRY_OVER = 0.15  # how much of one ball's deviation is still in the next
_WANDER_S = (38.0, 75.0)  # from one ball to the next


@dataclass(frozen=True, slots=True)
class Scatter:
    """A golfer's middle and standard deviation for one part of the delivery."""

    middle: float
    sd: float


@dataclass(frozen=True, slots=True)
class Swing:
    """World frame: plus is right of the target for either hand. ``strike`` is at most 1."""

    speed_mps: Scatter
    attack_deg: Scatter
    path_deg: Scatter
    face_to_path_deg: Scatter
    loft_deg: Scatter
    strike: Scatter = field(default_factory=lambda: Scatter(0.985, 0.012))


@dataclass(frozen=True, slots=True)
class Stretch:
    """A run of balls with one club and one feel; ``mishits`` by position in it, from 1."""

    block: str
    club: str
    balls: int
    swing: Swing
    starts: datetime
    mishits: Mapping[int, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class InventedShot:
    """One ball as a perfect device would have seen it; the exports round it."""

    number: int
    block: str
    club: str
    time: datetime
    tag: str
    delivery: Delivery
    launch: Launch
    landing: Landing


def invent(stretches: tuple[Stretch, ...], seed: int) -> tuple[InventedShot, ...]:
    """Every ball of a lesson in time order, numbered from 1; the same for the same seed."""
    rng = np.random.default_rng(seed)
    shots: list[InventedShot] = []
    for stretch in stretches:
        clock = stretch.starts
        for position, delivery in enumerate(_deliveries(stretch, rng), start=1):
            tag = stretch.mishits.get(position, "")
            struck = _mishit(delivery, tag) if tag else delivery
            ball = launch(struck)
            shots.append(
                InventedShot(
                    number=len(shots) + 1,
                    block=stretch.block,
                    club=stretch.club,
                    time=clock,
                    tag=tag,
                    delivery=struck,
                    launch=ball,
                    landing=fly(ball),
                )
            )
            clock += timedelta(seconds=round(float(rng.uniform(*_WANDER_S))))
    return tuple(shots)


def _deliveries(stretch: Stretch, rng: np.random.Generator) -> Iterator[Delivery]:
    """Scatter about the pattern; a little of each ball's deviation carries over to the next."""
    swing = stretch.swing
    parts = (
        swing.speed_mps,
        swing.attack_deg,
        swing.path_deg,
        swing.face_to_path_deg,
        swing.loft_deg,
        swing.strike,
    )
    fresh = float(np.sqrt(1 - _CARRY_OVER**2))
    deviation = rng.normal(size=len(parts))
    for _ in range(stretch.balls):
        deviation = _CARRY_OVER * deviation + fresh * rng.normal(size=len(parts))
        speed, attack, path, face_to_path, loft, strike = (
            part.middle + part.sd * float(z) for part, z in zip(parts, deviation, strict=True)
        )
        yield Delivery(
            head=HEADS[stretch.club],
            speed_mps=speed,
            attack_deg=attack,
            path_deg=path,
            face_deg=path + face_to_path,
            # A steeper strike leans the shaft, so loft follows a part of the way.
            loft_deg=loft + 0.5 * (attack - swing.attack_deg.middle),
            strike=min(strike, 1.0),
        )


def _mishit(delivery: Delivery, tag: str) -> Delivery:
    """What a poor strike does to the ball, told through face, loft and loss of speed."""
    face, loft, loss = {
        "heel": (1.8, -0.5, 0.93),
        "toe": (-1.5, 0.5, 0.94),
        "thin": (0.0, -5.0, 0.92),
        "fat": (0.3, 1.5, 0.80),
    }[tag]
    return replace(
        delivery,
        face_deg=delivery.face_deg + face,
        loft_deg=delivery.loft_deg + loft,
        strike=delivery.strike * loss,
    )
