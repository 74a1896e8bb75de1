"""Changes to the program that would hurt somebody: for each, a test that fails.

All of them with ``python -m pytest -m campaign tests/sabotage``; that the list still fits the
program is tested each time.
"""

import os
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest
import yaml

ROOT = Path(__file__).parents[2]
_FAILED = 1  # what pytest ends with where tests ran and some failed


@dataclass(frozen=True, slots=True)
class Mutation:
    """``was`` in ``file`` becomes ``now``; some of ``tests`` must fail."""

    what: str
    file: str
    was: str
    now: str
    tests: str


MUTATIONS = [
    Mutation(**each)
    for each in yaml.safe_load((Path(__file__).parent / "mutations.yml").read_text("utf-8"))
]


@pytest.mark.parametrize("mutation", MUTATIONS, ids=lambda each: each.what)
def test_the_list_fits_the_program(mutation: Mutation) -> None:
    assert (ROOT / mutation.file).read_text("utf-8").count(mutation.was) == 1
    assert (ROOT / mutation.tests.partition("::")[0]).is_file()


@pytest.mark.campaign
def test_where_nothing_is_changed_all_of_them_pass(tmp_path: Path) -> None:
    _copy(tmp_path)
    done = _run(tmp_path, *dict.fromkeys(mutation.tests for mutation in MUTATIONS))
    assert done.returncode == 0, done.stdout[-2000:]


@pytest.mark.campaign
@pytest.mark.parametrize("mutation", MUTATIONS, ids=lambda each: each.what)
def test_none_survives(mutation: Mutation, tmp_path: Path) -> None:
    _copy(tmp_path)
    changed = tmp_path / mutation.file
    text = changed.read_text("utf-8")
    changed.write_text(text.replace(mutation.was, mutation.now), "utf-8")
    done = _run(tmp_path, mutation.tests)
    assert done.returncode == _FAILED, f"survived: {mutation.what}\n{done.stdout[-2000:]}"


def _copy(into: Path) -> None:
    for folder in ("recapgen", "site_template", "tests"):
        shutil.copytree(ROOT / folder, into / folder, ignore=_needless)
    shutil.copy(ROOT / "pyproject.toml", into)


def _run(place: Path, *tests: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-x", "-p", "no:randomly", *tests],
        cwd=place,
        env={**os.environ, "PYTHONPATH": str(place)},
        capture_output=True,
        text=True,
        check=False,
    )


def _needless(_: str, names: list[str]) -> set[str]:
    return {name for name in names if name in {"golden", "cases", "__pycache__"}}
