"""Whoever leaves the way through the house is noticed, for every pair of rooms."""

import re
import shutil
import subprocess
import sys
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import grimp
import pytest
from importlinter.contracts.protected import ProtectedContract

ROOT = Path(__file__).parents[2]
HOUSE = ROOT / "recapgen"
ROOMS = sorted(
    path.stem
    for path in HOUSE.iterdir()
    if path.name not in {"__init__.py", "__pycache__"} and path.suffix in {"", ".py"}
)
DOOR_ROOM, DOOR, DOOR_CONTRACT = "choosing", "clip_choice", "Choosing clips has one door"
ROW = re.compile(r"^\| `(\w+)(?:/|\.py)` \| [^|]+ \| ([^|]+) \|$", re.MULTILINE)


def test_the_table_for_contributors_says_what_the_contracts_hold() -> None:
    page = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    told = {
        room: {name.strip() for name in may.split(",")} - {"nothing"}
        for room, may in ROW.findall(page)
    }
    assert told == {room: _may_enter(room) for room in ROOMS if room != "__main__"}


def test_every_arrow_allowed_is_walked() -> None:
    walked = {
        (_room(source), _room(target))
        for source in _graph().modules
        for target in _graph().find_modules_directly_imported_by(source)
    }
    idle = [
        (room, other) for room in ROOMS for other in _may_enter(room) if (room, other) not in walked
    ]
    assert idle == []


@pytest.mark.parametrize("room", ROOMS)
def test_every_forbidden_arrow_is_noticed(room: str) -> None:
    for other in set(ROOMS) - {room}:
        graph = _graph()
        before = set(graph.find_modules_directly_imported_by(f"recapgen.{room}"))
        target = f"recapgen.{other}"
        graph.add_import(
            importer=f"recapgen.{room}", imported=target, line_number=1, line_contents="import"
        )
        kept = _contract(other).check(graph, verbose=False).kept
        if target not in before:
            graph.remove_import(importer=f"recapgen.{room}", imported=target)
        assert kept == (other in _may_enter(room)), f"{room} imports {other}"


def test_choosing_clips_has_one_door() -> None:
    """The room's other modules are closed to the only room that may enter it."""
    (contract,) = [one for one in _all_contracts() if one["name"] == DOOR_CONTRACT]
    assert contract["source_modules"] == [f"recapgen.{room}" for room in _who_may_enter(DOOR_ROOM)]
    inside = {path.stem for path in (HOUSE / DOOR_ROOM).glob("*.py")} - {"__init__", DOOR}
    assert contract["forbidden_modules"] == [
        f"recapgen.{DOOR_ROOM}.{name}" for name in sorted(inside)
    ]


@pytest.mark.campaign
def test_a_way_around_the_door_is_noticed(tmp_path: Path) -> None:
    for name in sorted(path.stem for path in (HOUSE / DOOR_ROOM).glob("*.py")):
        broken = _broken(tmp_path / name, "app", [f"{DOOR_ROOM}.{name}"])
        assert (DOOR_CONTRACT in broken) == (name not in {"__init__", DOOR}), name


@pytest.mark.campaign
@pytest.mark.parametrize("room", ROOMS)
def test_an_import_written_into_a_file_is_noticed(room: str, tmp_path: Path) -> None:
    forbidden = sorted(set(ROOMS) - {room} - _may_enter(room))
    broken = _broken(tmp_path, room, forbidden)
    assert {name for name in broken if name.startswith("Who may enter")} == {
        f"Who may enter {other}" for other in forbidden
    }


def _broken(tmp_path: Path, room: str, imports: list[str]) -> set[str]:
    """The contracts that are broken where ``room`` imports these modules as well."""
    shutil.copytree(HOUSE, tmp_path / "recapgen", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    door = tmp_path / "recapgen" / room
    file = door / "__init__.py" if door.is_dir() else door.with_suffix(".py")
    lines = "".join(f"import recapgen.{other}\n" for other in imports)
    file.write_text(file.read_text(encoding="utf-8") + "\n" + lines, encoding="utf-8")
    run = subprocess.run(
        [str(Path(sys.executable).with_name("lint-imports")), "--no-cache"],
        cwd=tmp_path,
        env={"PYTHONPATH": str(tmp_path)},
        capture_output=True,
        text=True,
        check=False,
    )
    return set(re.findall(r"^(.+) BROKEN", run.stdout, re.MULTILINE))


@cache
def _graph() -> grimp.ImportGraph:
    return grimp.build_graph("recapgen")


@cache
def _all_contracts() -> list[dict[str, Any]]:
    config = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    contracts: list[dict[str, Any]] = config["tool"]["importlinter"]["contracts"]
    return contracts


@cache
def _contracts() -> dict[str, dict[str, list[str]]]:
    """The contract of each room that says who may enter it."""
    return {
        _room(contract["protected_modules"][0]): contract
        for contract in _all_contracts()
        if contract["type"] == "protected"
    }


def _contract(room: str) -> ProtectedContract:
    said = _contracts()[room]
    options = {name: said[name] for name in ("protected_modules", "allowed_importers")}
    return ProtectedContract(str(said["name"]), {"root_packages": ["recapgen"]}, options)


def _may_enter(room: str) -> set[str]:
    """The rooms that this room may import."""
    return {
        other
        for other, contract in _contracts().items()
        if f"recapgen.{room}" in contract["allowed_importers"]
    }


def _who_may_enter(room: str) -> list[str]:
    return [_room(module) for module in _contracts()[room]["allowed_importers"]]


def _room(module: str) -> str:
    return module.split(".")[1] if "." in module else ""
