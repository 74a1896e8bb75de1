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
@pytest.mark.parametrize("mutation", MUTATIONS, ids=lambda each: each.what)
def test_none_survives(mutation: Mutation, tmp_path: Path) -> None:
    for folder in ("recapgen", "site_template", "tests"):
        shutil.copytree(ROOT / folder, tmp_path / folder, ignore=_needless)
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    changed = tmp_path / mutation.file
    text = changed.read_text("utf-8")
    changed.write_text(text.replace(mutation.was, mutation.now), "utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-x", "-p", "no:randomly", mutation.tests],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(tmp_path)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == _FAILED, f"survived: {mutation.what}\n{done.stdout[-2000:]}"


def _needless(_: str, names: list[str]) -> set[str]:
    return {name for name in names if name in {"golden", "cases", "__pycache__"}}
