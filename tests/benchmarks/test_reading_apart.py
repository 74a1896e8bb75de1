"""What it costs to read clips in a process of their own: processor seconds against a cold build.

The samples are checked, which reads every clip cold and converts none, in turn with the reader
apart and within the program itself; one build tells what there is to compare with.
"""

import resource
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from sample_making.make_samples import SAMPLE_LESSONS

pytestmark = [pytest.mark.campaign, pytest.mark.ffmpeg]

ROUNDS = 3
MOST = 0.05
WITHIN = """
import recapgen.tools.apart as tools
tools.apart = lambda work, *told, seconds: work(*told)
"""
RUN = "from recapgen.cli import main; main()"


def processor_s(*arguments: str, within: bool = False) -> float:
    """Of one run of the program and of everything that it has started and waited for."""
    script = (WITHIN if within else "") + RUN
    before = sum(resource.getrusage(resource.RUSAGE_CHILDREN)[:2])
    done = subprocess.run(
        [sys.executable, "-c", script, *arguments], capture_output=True, text=True, check=False
    )
    assert done.returncode in {0, 1}, done.stderr
    assert "Traceback" not in done.stderr
    return sum(resource.getrusage(resource.RUSAGE_CHILDREN)[:2]) - before


def test_a_reader_apart_costs_little_of_a_cold_build(tmp_path: Path) -> None:
    lessons = tmp_path / "lessons"
    shutil.copytree(SAMPLE_LESSONS, lessons)
    there, here = [], []
    for _ in range(ROUNDS):
        there.append(processor_s("check", str(lessons)))
        here.append(processor_s("check", str(lessons), within=True))
    build_s = processor_s("build", str(lessons))
    more_s = min(there) - min(here)
    print(  # noqa: T201 - the figures are the result
        f"\nreading every clip: {min(there):.2f} s apart, {min(here):.2f} s within, of processor"
        f"\na cold build: {build_s:.1f} s; the reader's own process is {more_s / build_s:.1%} of it"
    )
    assert more_s <= MOST * build_s
