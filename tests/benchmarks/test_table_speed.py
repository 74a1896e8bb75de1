"""How long a season of shots takes to read, as a multiple of a bare pass over the same file."""

import csv
import gc
import random
import statistics
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from recapgen.intake.table.all_files import read_shots
from recapgen.intake.table.section_columns import Setting
from recapgen.model.people import Coach

pytestmark = pytest.mark.campaign

ROWS = 100_000
MOST = 4.0
WORDS = 3  # columns that are no numbers
HEADINGS = (
    "Shot,Club,Time,Club Speed (mph),Ball Speed (mph),Smash Factor,Attack Angle (deg),"
    "Club Path (deg),Face Angle (deg),Face to Path (deg),Dynamic Loft (deg),Launch Angle (deg),"
    "Launch Direction (deg),Spin Rate (rpm),Spin Axis (deg),Apex (ft),Carry (yd),Carry Side (yd)"
)


def season(path: Path) -> Path:
    draw = random.Random(7)  # noqa: S311 - invented shots, the same each time
    with path.open("w", encoding="utf-8") as out:
        out.write(HEADINGS + "\n")
        for i in range(ROWS):
            head, club_path, face = draw.gauss(85, 2), draw.gauss(1, 1.5), draw.gauss(0, 1.5)
            numbers = (
                head, head * 1.38, 1.38, draw.gauss(-3, 1), club_path, face, face - club_path,
                draw.gauss(24, 1), draw.gauss(17, 1), 0.75 * face + 0.25 * club_path,
                draw.gauss(6500, 300), draw.gauss(0, 4), draw.gauss(88, 5), draw.gauss(155, 4),
                draw.gauss(0, 5),
            )  # fmt: skip
            clock = f"2027-04-23T{i // 3600 % 24:02d}:{i // 60 % 60:02d}:{i % 60:02d}"
            out.write(f"{i + 1},7 Iron,{clock}," + ",".join(f"{n:.2f}" for n in numbers) + "\n")
    return path


def bare_pass(path: Path) -> list[list[float]]:
    with path.open(encoding="utf-8", newline="") as source:
        rows = csv.reader(source)
        next(rows)
        return [[float(cell) for cell in row[WORDS:]] for row in rows]


def seconds(work: Callable[[], object]) -> float:
    gc.collect()
    began = time.process_time()
    kept = work()
    took = time.process_time() - began
    del kept
    return took


def test_reading_recognising_and_checking_costs_a_few_bare_passes(tmp_path: Path) -> None:
    path = season(tmp_path / "shots.csv")
    table, problems = read_shots(tmp_path, (path,), Setting(Coach("Ines Falk")))
    assert table is not None
    assert len(table.shots) == ROWS
    assert problems == ()
    assert all(len(shot.readings) == HEADINGS.count(",") + 1 - WORDS for shot in table.shots)
    del table
    bare = [seconds(lambda: bare_pass(path)) for _ in range(3)]
    ours = [
        seconds(lambda: read_shots(tmp_path, (path,), Setting(Coach("Ines Falk"))))
        for _ in range(3)
    ]
    ratio = statistics.median(ours) / statistics.median(bare)
    print(f"\n{ROWS:,} rows read, recognised and checked: {ratio:.2f} bare passes")  # noqa: T201 - the figure is the result
    assert ratio <= MOST
