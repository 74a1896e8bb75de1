"""Folders of invented lessons without clips, as many as asked for, the same each time.

Every lesson has 25 shots with what a usual device tells, in one of four settings: indoors,
outdoors and calm, outdoors in a wind, nothing said. Balls fly as ``recapgen.golf`` has them,
so that no reading is in doubt.
"""

from datetime import date, timedelta
from pathlib import Path

import numpy as np

from recapgen.golf.air import Floats
from recapgen.golf.flight import Flights, Launch, fly

SHOTS, BEFORE, DRILL = 25, 10, 5
FIRST_DAY, APART = date(2024, 1, 6), timedelta(days=21)
AFTER_ALL = date(2024, 9, 1)

COACH = "coach: Ines Falk\nlanguage: en\nplace: {altitude: 90 m}\n"
STUDENT = """name: {name}
hand: right
age band: adult
agreed: {{page: yes, clips: no, body: no, cases: no, since: 2023-12-01}}
"""
NOTES = """---
intent: {intent}
feels like: a lazy underarm throw
club: 7 iron
number: {number}
chosen: before the after-shots
moved: nothing
conditions: {conditions}
practice:
  sessions a week: 2
  balls: 30
  minutes: 30
  weeks: 4
  steps:
    - {{do: "Half swings along the wall", balls: 10}}
    - {{do: "Full swings, a rest after every five", balls: 20}}
---
The ball was away before you knew it. Keep that, and leave the grip alone.
"""
NUMBERS = (
    "club path\nwant: 2 left to 2 right\nmatters: 1 deg",
    "carry\nwant: higher\nmatters: 3 m",
    "attack angle\nwant: lower\nmatters: 1 deg",
    "face to path\nwant: zero\nmatters: 1 deg",
)
CONDITIONS = (
    "{indoors: yes, surface: mat, ball: range}",
    "{indoors: no, surface: grass, ball: range, temperature: 9 C, wind: calm}",
    "{surface: grass, ball: range, temperature: 24 C, wind: 3 m/s from 250 at 2 m, target: 020}",
    "{surface: grass, ball: range}",
)
HEADINGS = (
    "Shot,Phase,Club Speed [m/s],Ball Speed [m/s],Attack Angle [deg],Club Path [deg; + right],"
    "Face Angle [deg; + right],Dynamic Loft [deg],Launch Angle [deg],"
    "Launch Direction [deg; + right],Spin Rate [rpm],Spin Axis [deg; + right],Apex [m],"
    "Descent Angle [deg],Carry [m],Carry Side [m; + right]"
)


def lay_out(root: Path, students: int, lessons: int, seed: int = 20270411) -> None:
    """``root`` is made; each student has ``lessons`` lessons, three weeks apart."""
    root.mkdir(parents=True)
    (root / "coach.yml").write_text(COACH, encoding="utf-8")
    tables = iter(_tables(np.random.default_rng(seed), students * lessons))
    for which in range(students):
        student = root / f"student {which:03d}"
        student.mkdir()
        told = STUDENT.format(name=f"Ab{_letters(which)}")
        (student / "student.yml").write_text(told, encoding="utf-8")
        for number in range(lessons):
            lesson = student / (FIRST_DAY + number * APART).isoformat()
            lesson.mkdir()
            notes = NOTES.format(
                intent=f"Turn past the {_letters(7 * which + number)} until you count {number}",
                number=NUMBERS[(which + number) % len(NUMBERS)],
                conditions=CONDITIONS[(which + number // 2) % len(CONDITIONS)],
            )
            (lesson / "notes.md").write_text(notes, encoding="utf-8")
            (lesson / "shots.csv").write_text(next(tables), encoding="utf-8")


def _letters(number: int) -> str:
    """A word of its own for each number below 17,576; none that people read."""
    return "".join(chr(ord("a") + number // 26**place % 26) for place in (2, 1, 0)) + "ur"


def _tables(rng: np.random.Generator, lessons: int) -> list[str]:
    """A CSV file for each lesson; some lessons moved something, most a little."""
    size = (lessons, SHOTS)
    now = np.arange(SHOTS) >= BEFORE + DRILL
    moved = rng.normal(0.8, 1.2, (lessons, 1)) * now

    def about(middle: float, scatter: float, by: float = 0.0) -> Floats:
        return np.asarray(rng.normal(middle, scatter, size) + by * moved)

    head, attack, loft = about(38.0, 0.6, 0.3), about(-3.5, 0.9, -0.8), about(24.0, 0.8, -0.4)
    path, face = about(3.0, 1.2, -1.0), about(1.0, 1.2, -0.4)
    apart = face - path
    ball = head * about(1.36, 0.01)
    launch = Launch(
        ball_speed_mps=ball.ravel(),
        angle_deg=(0.75 * loft + 0.25 * attack).ravel(),
        direction_deg=(0.75 * face + 0.25 * path).ravel(),
        spin_rpm=(6000 + 120 * (loft - attack - 27) + about(0, 100)).ravel(),
        axis_deg=(1.5 * apart).ravel(),
    )
    columns = np.stack(
        [
            column.reshape(size)
            for column in (head, ball, attack, path, face, loft, *_told(launch, fly(launch)))
        ]
    )
    phases = ["before"] * BEFORE + ["drill"] * DRILL + ["after"] * (SHOTS - BEFORE - DRILL)
    return [
        "\n".join(
            [
                HEADINGS,
                *(
                    f"{at + 1},{phases[at]},"
                    + ",".join(f"{reading:.2f}" for reading in columns[:, lesson, at].tolist())
                    for at in range(SHOTS)
                ),
                "",
            ]
        )
        for lesson in range(lessons)
    ]


def _told(launch: Launch, flights: Flights) -> tuple[Floats, ...]:
    return (
        launch.angle_deg,
        launch.direction_deg,
        launch.spin_rpm,
        launch.axis_deg,
        flights.apex_m,
        flights.descent_deg,
        flights.carry_m,
        flights.side_m,
    )
