"""Whatever was edited in whatever order: what is kept between builds never shows.

A failure names its seed and the fewest of its edits that still show it.
"""

import random
import shutil
import signal
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.clips.phone_clips import film
from tests.edits.compared import Comparing
from tests.edits.edited_book import FIRST_DAY, Book
from tests.edits.edits import EDITS, apply, drawn
from tests.kills.killed_runs import Runs, a_blow, runs_in

SEED = 20270611
EDITS_IN_ALL, IN_A_CHAIN = 1_000, 14
_BUILD = "build"
_EVENTS, _TOOK_S = 700, 1.0  # about what a small build needs

# Every kind, with what holds somebody back at the end.
_ONCE = (
    ("words", "shots", "coach", "private", "name"),
    ("student", "log", "drill", "plan", "lesson new"),
    ("student renamed", "lesson renamed", "student gone", "agreed", "day"),
    ("student back", "seal gone", "lesson gone", "mended", "template"),
    ("notes", "unreadable", "question"),
)

Step = tuple[str, int]
"""An edit and its seed, a build, or a kill and the seed of its moment."""


@dataclass(slots=True)
class Bench:
    """Where chains are run, each in a folder of its own."""

    folder: Path
    runs: Runs
    first: Path
    clip: Path | None = None
    chains: int = 0

    def run(self, steps: Sequence[Step], *, thoroughly: bool) -> Counter[str]:
        """What was compared how often. Raises AssertionError."""
        self.chains += 1
        folder = self.folder / f"chain {self.chains}"
        folder.mkdir()
        met: Counter[str] = Counter()
        book = Book(folder / "lessons", self.clip)
        comparing = Comparing(folder, self.runs, book, self.first)
        for kind, seed in steps:
            if kind == _BUILD:
                met[comparing.compare(thoroughly=thoroughly or seed == 1)] += 1
            elif kind == "kill":
                blow = a_blow(random.Random(seed), _EVENTS, _TOOK_S)  # noqa: S311
                ended = comparing.strike(blow)
                met["killed" if ended.code == -signal.SIGKILL else "ran through a kill"] += 1
            else:
                apply(kind, seed, book)
        shutil.rmtree(folder)
        return met

    def smaller(self, steps: Sequence[Step]) -> list[Step]:
        """The fewest steps that still fail, found by leaving out one after the other."""
        left = list(steps)
        for step in steps:
            without = [each for each in left if each is not step]
            try:
                self.run(without, thoroughly=True)
            except AssertionError:
                left = without
        return left


def chain(draw: random.Random, edits: int, kills: float) -> list[Step]:
    """One to three edits, now and then a kill, and a build; one in three is looked at closely."""
    steps: list[Step] = []
    while edits > 0:
        several = min(edits, draw.choice((1, 1, 2, 3)))
        steps += (drawn(draw) for _ in range(several))
        edits -= several
        if draw.random() < kills:
            steps.append(("kill", draw.randrange(1_000_000)))
            if draw.random() < 0.5:
                steps.append(drawn(draw))
        steps.append((_BUILD, draw.choice((0, 0, 1))))
    return steps


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """A process that has built such a book once, and what came out of it."""
    with runs_in(tmp_path / "runs") as runs:
        book = Book(tmp_path / "first" / "lessons", None)
        yield Bench(tmp_path, runs, runs.warm(book.root, FIRST_DAY.isoformat()))


def _told(bench: Bench, seed: int, steps: Sequence[Step], fault: AssertionError) -> str:
    fewest = bench.smaller(steps)
    return f"seed {seed}, {len(steps)} steps: {fault}\nthe fewest: {fewest}"


def test_every_kind_of_edit_once(bench: Bench) -> None:
    draw = random.Random(SEED)  # noqa: S311 - edits that can be had again
    assert {kind for kinds in _ONCE for kind in kinds} == EDITS.keys()
    steps: list[Step] = []
    for number, kinds in enumerate(_ONCE):
        steps += ((kind, draw.randrange(1_000_000)) for kind in kinds)
        steps.append((_BUILD, int(number == len(_ONCE) - 1)))
    met = bench.run(steps, thoroughly=False)
    assert met == {"from nothing": 4, "in doubt": 1}


@pytest.mark.campaign
@pytest.mark.ffmpeg
def test_a_thousand_edits_show_nothing_that_was_kept(bench: Bench, tmp_path: Path) -> None:
    clip = tmp_path / "face on.mp4"
    film(clip, range(30))
    met: Counter[str] = Counter()
    for number in range(-(-EDITS_IN_ALL // IN_A_CHAIN)):
        seed = SEED + number
        bench.clip = clip if number % 8 == 7 else None
        steps = chain(random.Random(seed), IN_A_CHAIN, kills=0.15)  # noqa: S311
        try:
            met += bench.run(steps, thoroughly=False)
        except AssertionError as fault:
            raise AssertionError(_told(bench, seed, steps, fault)) from fault
        met["edits"] += sum(kind in EDITS for kind, _ in steps)
    print(f"seed {SEED}: {dict(met)}")  # noqa: T201 - a figure to read
    assert met["edits"] >= EDITS_IN_ALL
