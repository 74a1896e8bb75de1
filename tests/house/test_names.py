"""A name means one thing in the house: who reads it need not ask which one is meant."""

import ast
import re
from collections import defaultdict
from collections.abc import Iterator, Mapping
from pathlib import Path

HOUSE = Path(__file__).parents[2] / "recapgen"
MODULES = sorted(path for path in HOUSE.rglob("*.py") if path.name != "__init__.py")
ROOMS = sorted(path.parent for path in HOUSE.rglob("__init__.py"))
SHARED = {("Floats", "NDArray[np.float64]"), ("Floats", "npt.NDArray[np.float64]")}
TYPE_NAME = re.compile(r"_?[A-Z][a-z]\w*")


def test_no_two_modules_share_a_name() -> None:
    """Nor does one share it with a room, but for the values in model/ that a room makes."""
    places = defaultdict(list)
    for path in MODULES:
        places[path.stem].append(path)
    for room in ROOMS:
        places[room.name].append(room)
    assert _twice(places) == {}


def test_no_two_classes_share_a_name() -> None:
    """Nor do names for types; two rooms may call the same arrays the same."""
    places = defaultdict(list)
    for path in MODULES:
        for name, meaning in _types_of(ast.parse(path.read_text(encoding="utf-8"))):
            if (name, meaning) not in SHARED:
                places[name].append(path)
    assert _twice(places) == {}


def _types_of(module: ast.Module) -> Iterator[tuple[str, str]]:
    """Classes, and names that a module gives to types, with what they stand for."""
    for node in module.body:
        match node:
            case ast.ClassDef(name=name):
                yield name, "class"
            case (
                ast.AnnAssign(target=ast.Name(id=name), value=ast.expr() as value)
                | ast.Assign(targets=[ast.Name(id=name)], value=value)
            ) if TYPE_NAME.fullmatch(name):
                yield name, ast.unparse(value)
            case _:
                pass


def _twice(places: Mapping[str, list[Path]]) -> dict[str, list[str]]:
    """What stands in two places or more, a room and its values in model/ counted as one."""
    found = {}
    for name, where in places.items():
        values = [path for path in where if path.parent == HOUSE / "model"]
        rooms = [path for path in where if path.parent == HOUSE and path.is_dir()]
        if len(where) > (2 if values and rooms else 1):
            found[name] = [path.relative_to(HOUSE).as_posix() for path in where]
    return found
