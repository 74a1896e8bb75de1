"""A file that costs more to read than a lesson's shots can is one problem, soon."""

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from recapgen.intake.table.all_files import read_shots
from recapgen.intake.table.section_columns import Setting
from recapgen.model.people import Coach
from recapgen.model.problem import Code, Cost
from tests.table.hostile import HEAD, TABLES

MOST_BYTES = 1_000_000_000
MOST_S = 30.0
_QUICK = (
    "brackets.csv",
    "columns.csv",
    "brackets in headings.csv",
    "claimed.xlsx",
    "far rows.xlsx",
)
_REFUSED = {"brackets.csv", "columns.csv", "far rows.xlsx"}
_READING = """
import sys
from pathlib import Path
from recapgen.intake.table.all_files import read_shots
from recapgen.intake.table.section_columns import Setting
from recapgen.model.people import Coach
path = Path(sys.argv[1])
read_shots(path.parent, (path,), Setting(Coach("")))
"""


@pytest.mark.parametrize("name", _QUICK)
def test_a_hostile_table_is_soon_one_problem(tmp_path: Path, name: str) -> None:
    path = tmp_path / name
    path.write_bytes(TABLES[name]())
    began = time.process_time()
    found = read_shots(tmp_path, (path,), Setting(Coach("")))
    assert time.process_time() - began < MOST_S / 3
    if name in _REFUSED:
        (problem,) = found.problems
        assert (problem.code, problem.cost) == (Code.SHOTS_TOO_MUCH, Cost.STUDENT)


def test_a_quote_that_stays_open_in_every_line_is_read_line_by_line(tmp_path: Path) -> None:
    """Each such line once read on to the end of the file, or to the longest cell there may be."""
    took = []
    for lines in (2_000, 16_000):
        path = tmp_path / f"{lines}.csv"
        path.write_text("\n".join([HEAD, *['1,"7 Iron,2.5'] * lines]), encoding="utf-8")
        began = time.process_time()
        read_shots(tmp_path, (path,), Setting(Coach("")))
        took.append(time.process_time() - began)
    assert took[1] < 24 * max(took[0], 0.05)


@pytest.mark.campaign
@pytest.mark.parametrize("name", TABLES)
def test_a_hostile_table_needs_neither_much_memory_nor_long(tmp_path: Path, name: str) -> None:
    path = tmp_path / name
    path.write_bytes(TABLES[name]())
    running = subprocess.Popen([sys.executable, "-c", _READING, str(path)])
    _, ended, used = os.wait4(running.pid, 0)
    running.returncode = os.waitstatus_to_exitcode(ended)
    sys.stderr.write(
        f"{name}: {used.ru_utime + used.ru_stime:.1f} s, {used.ru_maxrss / 1024:.0f} MB\n"
    )
    assert running.returncode == 0
    assert used.ru_utime + used.ru_stime < MOST_S
    assert used.ru_maxrss * 1024 < MOST_BYTES
