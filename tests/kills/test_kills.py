"""Builds killed at any change of a file and at any moment: nothing half done is ever up.

Every chain of kills can be had again by its seed, as far as moments can.
"""

import os
import random
import re
import shutil
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from recapgen.publish.build_state import read_states
from recapgen.publish.emptying import is_emptying
from tests.clips.phone_clips import film
from tests.end_to_end.small_lessons import TODAY, tree
from tests.kills.book_in_motion import STATES, lay_out, parts_of
from tests.kills.killed_runs import Blow, Ended, Runs, a_blow, runs_in

SEED = 20270601
KILLS = 500
ANEW = 0.04  # how many chains begin without any output
_INTERRUPTED = "Interrupted. What was published before is still up.\n"
_LINK = re.compile(r'(?:href|src|poster)="([^":#?]+)["#?]')
_ENDED_WELL = {0, 1}


@dataclass(slots=True)
class Book:
    """Lessons and output on their way through the states."""

    root: Path
    out: Path
    clip: Path
    runs: Runs
    wanted: list[dict[str, str]]
    may_be_up: set[int] = field(default_factory=set)
    begun: bool = False
    met: Counter[str] = field(default_factory=Counter)
    events: int = 1_000
    took_s: float = 1.0

    def become(self, state: int) -> None:
        lay_out(self.root, STATES[state], self.clip)
        self.may_be_up.add(state)

    def build(self, blow: Blow | None) -> Ended:
        return self.runs.run(blow, "build", self.root, "--out", self.out, "--today", TODAY)

    def begin_anew(self) -> None:
        shutil.rmtree(self.out, ignore_errors=True)
        self.may_be_up.clear()
        self.begun = False

    def whole(self) -> None:
        """Whatever is up is one of the versions that it may be, to the last byte."""
        found = parts_of(self.out)
        for part, told in found.items():
            allowed = {self.wanted[state].get(part) for state in self.may_be_up}
            assert told in allowed, f"{part} is a mix"
        if self.begun:
            versions = [self.wanted[state].keys() for state in self.may_be_up]
            assert set(versions[0]).intersection(*versions) <= found.keys(), "something is missing"
        for page in (self.out / "site").rglob("*.html"):
            for address in _LINK.findall(page.read_text("utf-8")):
                target = page.parent / address
                there = target.is_file() or (target / "index.html").is_file()
                # what is not agreed comes down before the card that leads to it is made anew
                gone = page.parent.name == "site" and address.startswith("cases/")
                assert there or gone, f"{page} leads to {address}"
        ledger = self.out / ".recapgen" / "ledger.json"
        assert not ledger.exists() or read_states(ledger)

    def as_clean(self, state: int) -> None:
        """What a clean build gives, and nothing beside it."""
        assert parts_of(self.out) == self.wanted[state]
        for folder in (self.out / "site").iterdir():
            if folder.is_dir() and is_emptying(folder):
                assert set(tree(folder)) == {"index.html", "sw.js"}
        book = self.out / "coach_book"
        assert all(f.read_text("utf-8").rstrip().endswith("</html>") for f in book.glob("*.html"))

    def no_litter(self, temporary: Path) -> None:
        """Nothing left in the lessons, in the output's own folder, among temporary files."""
        kept = tree(self.root / ".recapgen")
        assert {name for name in kept if not name.startswith("drills/")} == {"secret"}
        assert not [name for name in kept if name.endswith(".tmp")]
        own = self.out / ".recapgen"
        assert not list((own / "staging").iterdir())
        assert not [*own.rglob("*.tmp"), *own.rglob("making-*")]
        left = {file.name for file in temporary.iterdir()}
        assert left <= {f"_jinja2-cache-{os.getuid()}"}  # compiled templates, which any run may use


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    """Built once from nothing in each of its states."""
    root, clip = tmp_path / "lessons", tmp_path / "face on.mp4"
    root.mkdir()
    film(clip, range(30))
    with runs_in(tmp_path / "runs") as runs:
        wanted = []
        lay_out(root, STATES[0], clip)
        runs.warm(root, TODAY)
        for state in STATES:
            lay_out(root, state, clip)
            clean = tmp_path / "clean"
            ended = runs.run(None, "build", root, "--out", clean, "--today", TODAY)
            assert ended.code in _ENDED_WELL, ended.err
            wanted.append(parts_of(clean))
            shutil.rmtree(clean)
        assert len({str(parts) for parts in wanted}) == len(STATES)
        yield Book(root, tmp_path / "out", clip, runs, wanted)


@pytest.mark.campaign
@pytest.mark.ffmpeg
def test_five_hundred_kills_leave_nothing_half_done(book: Book, tmp_path: Path) -> None:
    draw = random.Random(SEED)  # noqa: S311 - kills that can be had again
    chain = 0
    while book.met.total() - book.met["finished"] < KILLS:
        chain += 1
        if draw.random() < ANEW:
            book.begin_anew()
        for _ in range(draw.choice((2, 3, 4))):
            book.become(draw.randrange(len(STATES)))
            blow = a_blow(draw, book.events, book.took_s)
            strike(book, blow, f"chain {chain} of seed {SEED}: {blow}")
        state = draw.randrange(len(STATES))
        book.become(state)
        ended = book.build(None)
        assert ended.code in _ENDED_WELL, ended.err
        book.as_clean(state)
        book.no_litter(tmp_path / "runs" / "tmp")
        book.may_be_up, book.begun = {state}, True
        if ended.events > 100:
            book.events, book.took_s = ended.events, ended.took_s
    print(f"{chain} chains, seed {SEED}: {dict(book.met)}")  # noqa: T201 - a figure to read


def strike(book: Book, blow: Blow, what: str) -> None:
    """One build that is killed, and a look at what it left."""
    ended = book.build(blow)
    if ended.code in _ENDED_WELL:
        book.met["finished"] += 1
        return
    if ended.code == 130:
        assert ended.err.endswith(_INTERRUPTED), f"{what}: {ended.err}"
    else:
        assert ended.code == -blow.signal, f"{what}: {ended.code} {ended.err}"
    kind = "at a change of a file" if blow.event else "at a moment"
    book.met[f"{'interrupted' if ended.code == 130 else 'killed'} {kind}"] += 1
    try:
        book.whole()
    except AssertionError as fault:
        raise AssertionError(f"{what}, then {sorted(book.may_be_up)}: {fault}") from fault
