"""What is installed is known by its hash, and by no address."""

import json
import re
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PIN = re.compile(r"^([\w.-]+)==([^\s;]+)", re.MULTILINE)


def pinned(file: Path) -> dict[str, str]:
    return {name.lower().replace("_", "-"): at for name, at in PIN.findall(file.read_text("utf-8"))}


@pytest.mark.parametrize("name", ["runs", "tests"])
def test_every_pin_has_its_hashes_and_the_version_the_tests_ran_with(name: str) -> None:
    file = ROOT / "pins" / f"{name}.txt"
    text = file.read_text("utf-8")
    assert "://" not in text
    for pin in re.split(r"\n(?=\w)", text):
        assert "--hash=sha256:" in pin, pin
    assert pinned(file).items() <= pinned(ROOT / "constraints.txt").items()


@pytest.mark.parametrize("extra", [False, True])
def test_whatever_is_asked_for_is_pinned(extra: bool) -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    asked = project["optional-dependencies"]["test"] if extra else project["dependencies"]
    names = {re.split(r"[<>=~ ]", each)[0].lower() for each in asked}
    assert names <= pinned(ROOT / "pins" / ("tests.txt" if extra else "runs.txt")).keys()


@pytest.mark.parametrize("name", ["browser", "lighthouse", "style"])
def test_the_whole_tree_of_npms_packages_is_pinned_without_addresses(name: str) -> None:
    text = (ROOT / "pins" / name / "package-lock.json").read_text("utf-8")
    assert "://" not in text
    tree = json.loads(text)["packages"]
    wanted = json.loads((ROOT / "pins" / name / "package.json").read_text("utf-8"))
    asked, held = wanted["dependencies"], wanted.get("overrides", {})
    assert tree.pop("")["dependencies"] == asked
    assert all(each["integrity"].startswith("sha512-") for each in tree.values())
    for each, version in {**asked, **held}.items():
        assert tree[f"node_modules/{each}"]["version"] == version
    tags = {
        name
        for each in tree.values()
        for name, wish in each.get("dependencies", {}).items()
        if wish == "latest"
    }
    assert tags <= held.keys()  # "latest" is another one tomorrow, and then nothing installs


def test_what_is_installed_is_installed_by_hash_first() -> None:
    told = (ROOT / "Makefile").read_text("utf-8")
    assert "--require-hashes -r pins/$(1).txt" in told
    assert all(f"$(call by_hash,{name})" in told for name in ("runs", "tests"))
    trees = ("browser", "lighthouse", "style")
    assert all(f"npm ci --prefix $(VENV)/{name} " in told for name in trees)
    assert "npm install" not in told
