"""What each part of the output was made from, so that a run with nothing new does nothing.

A part is a student's site, the cases, the card, the book. Its line holds every input as it was
read, the recipe (program, templates, libraries, settings), what was made and the day on which
it would be made differently. Any doubt means: make it again.
"""

import hashlib
import json
import os
import sys
import time
from collections.abc import Iterable, Mapping
from contextlib import suppress
from datetime import date
from functools import cache
from importlib.metadata import version
from operator import itemgetter
from pathlib import Path
from typing import Any

from msgspec import Struct
from msgspec.structs import asdict, replace

import recapgen
from recapgen.model.fix import Edit, Fix, Sureness
from recapgen.model.problem import Code, Cost, Problem
from recapgen.model.quantity import Quantity
from recapgen.model.row_rules import Check, RowRule
from recapgen.model.source import SourceRef
from recapgen.tools.atomic import write_text
from recapgen.tools.cache import sha256_of_file
from recapgen.tools.stamps import SETTLED_NS
from recapgen.tools.walking import plain_below

_FORMAT = 1
WHOLE = "everything"
"""The part that is all of the output."""
_LIBRARIES = (
    "altair",
    "av",
    "babel",
    "imageio-ffmpeg",
    "jinja2",
    "markdown-it-py",
    "mkdocs",
    "mkdocs-material",
    "numpy",
    "pandas",
    "scipy",
    "vl-convert-python",
)


class Seen(Struct, frozen=True):
    """An input as it was read: its stamp, its content, and whether the stamp can be trusted.

    A file changed in the instant it was read keeps its stamp, so a young one is not.
    """

    stamp: tuple[int, ...]
    digest: str
    settled: bool


class PartState(Struct, frozen=True):
    """One part of the output. Paths are relative, inputs to the lessons, made to the output.

    Valid from ``made_on`` until the day before ``changes_on``; ``granted`` names what had been
    agreed to when it was made, ``knew`` the names that were looked for in it and not met,
    ``students`` a digest of whose they are, ``hidden_by`` the recipe by which people in its
    films were hidden.
    """

    recipe: str
    inputs: Mapping[str, Seen]
    made: Mapping[str, tuple[int, int]]
    made_on: date
    changes_on: date | None
    problems: tuple[Problem, ...]
    granted: tuple[str, ...] = ()
    knew: tuple[str, ...] = ()
    students: str = ""
    hidden_by: str = ""

    def stands(self, recipe: str, inputs: Mapping[str, Seen], today: date, out: Path) -> bool:
        """Would making it again give the same, and is what was made still there?"""
        return self.would_stand(recipe, inputs, today) and self._still_there(out)

    def would_stand(self, recipe: str, inputs: Mapping[str, Seen], today: date) -> bool:
        """Would making it again give the same?"""
        in_time = self.made_on <= today and (self.changes_on is None or today < self.changes_on)
        same = {path: seen.digest for path, seen in inputs.items()} == {
            path: seen.digest for path, seen in self.inputs.items()
        }
        return in_time and same and recipe == self.recipe

    def _still_there(self, out: Path) -> bool:
        try:
            return all(
                _size_and_time(f"{out}/{path}") == stamp for path, stamp in self.made.items()
            )
        except OSError:
            return False


def read_states(file: Path) -> dict[str, PartState]:
    """The lines by part; none where the file is missing, broken or of another format."""
    try:
        kept = json.loads(file.read_text("utf-8"))
        if kept["format"] != _FORMAT:
            return {}
        return {part: _state(state) for part, state in kept["parts"].items()}
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return {}


def write_states(file: Path, states: Mapping[str, PartState]) -> None:
    """Keep the states; the old file or the new one is there, never half of one."""
    kept = {"format": _FORMAT, "parts": {part: _record(state) for part, state in states.items()}}
    write_text(file, json.dumps(kept, separators=(",", ":")) + "\n")  # any name, in ASCII


def in_doubt(state: PartState, granted: Iterable[str]) -> PartState:
    """What to know of a part while it is made anew: nothing certain, and the widest consent.

    Kept before the swap, so that a run killed after it leaves a doubt and not a lie: what is up
    may show what was granted before or what is granted now.
    """
    return replace(state, recipe="", granted=tuple(sorted({*state.granted, *granted})))


def see(files: Iterable[Path], root: Path, before: PartState | None) -> dict[str, Seen]:
    """The inputs as they are now; what still has the stamp of ``before`` is not read again.

    A file that cannot be read is the same until it can be: it has no content for anybody. One
    that is gone since it was met is none.
    """
    found = []
    for file in files:
        with suppress(OSError):
            found.append((file.relative_to(root).as_posix(), file.stat()))
    return _seen(found, root, before)


def see_all(root: Path, before: PartState | None) -> dict[str, Seen]:
    """The same of every plain file below ``root`` that is not hidden."""
    return _seen(plain_below(root), root, before)


def _seen(
    files: Iterable[tuple[str, os.stat_result]], root: Path, before: PartState | None
) -> dict[str, Seen]:
    known = before.inputs if before is not None else {}
    seen: dict[str, Seen] = {}
    for path, state in sorted(files, key=itemgetter(0)):
        stamp, last = _stamp(state), known.get(path)
        if last is not None and last.settled and last.stamp == stamp:
            seen[path] = last
        else:
            young = time.time_ns() - max(stamp[1:3]) <= SETTLED_NS
            seen[path] = Seen(stamp, _content(root / path), settled=not young)
    return seen


def unchanged(seen: Mapping[str, Seen], root: Path) -> bool:
    """Whether every file still has the stamp with which it was ``seen``."""
    try:
        return all(_stamp((root / path).stat()) == file.stamp for path, file in seen.items())
    except OSError:
        return False


def made(folders: Iterable[Path], out: Path) -> dict[str, tuple[int, int]]:
    """What lies in ``folders`` of the output, for the next run to find again."""
    return {
        file.relative_to(out).as_posix(): _size_and_time(file)
        for folder in folders
        for file in sorted(folder.rglob("*") if folder.is_dir() else [folder])
        if file.is_file()
    }


def recipe(template: Path, *facts: str) -> str:
    """How things are made: program, templates, libraries, and ``facts`` such as settings."""
    return digest_of(program(), _all_of(template), *facts)


def digest_of(*facts: str) -> str:
    """A digest of ``facts``, from which none of them can be read back."""
    return hashlib.sha256(json.dumps(facts).encode()).hexdigest()


@cache
def program() -> str:
    """What everything is made by: the program and its libraries, the templates apart.

    By content, not by version alone, so that a changed sentence shows.
    """
    whole = hashlib.sha256(sys.version.encode())
    for name in _LIBRARIES:
        whole.update(f"{name} {version(name)}\n".encode())
    return whole.hexdigest() + _all_of(Path(recapgen.__file__).parent)


@cache
def _all_of(folder: Path) -> str:
    whole = hashlib.sha256()
    for file in sorted(folder.rglob("*")):
        if file.is_file() and "__pycache__" not in file.parts:
            whole.update(file.relative_to(folder).as_posix().encode())
            whole.update(bytes.fromhex(sha256_of_file(file)))
    return whole.hexdigest()


def _content(file: Path) -> str:
    try:
        return sha256_of_file(file)
    except OSError:
        return ""


def _stamp(state: os.stat_result) -> tuple[int, ...]:
    return (state.st_size, state.st_mtime_ns, state.st_ctime_ns, state.st_ino)


def _size_and_time(file: Path | str) -> tuple[int, int]:
    state = os.stat(file)  # noqa: PTH116  thousands of them
    return (state.st_size, state.st_mtime_ns)


def _record(state: PartState) -> dict[str, Any]:
    return {
        "recipe": state.recipe,
        "inputs": {
            path: [seen.stamp, seen.digest, seen.settled] for path, seen in state.inputs.items()
        },
        "made": state.made,
        "made_on": state.made_on.isoformat(),
        "changes_on": state.changes_on.isoformat() if state.changes_on else None,
        "granted": state.granted,
        "knew": state.knew,
        "students": state.students,
        "hidden_by": state.hidden_by,
        "problems": [
            {
                "code": problem.code.name,
                "where": asdict(problem.where),
                "facts": dict(problem.facts),
                "costs": problem.costs.name if problem.costs else None,
                "rule": asdict(problem.rule) if problem.rule else None,
                "fixes": [
                    {"edits": [asdict(edit) for edit in fix.edits], "sure": fix.sureness.name}
                    for fix in problem.fixes
                ],
            }
            for problem in state.problems
        ],
    }


def _state(kept: dict[str, Any]) -> PartState:
    return PartState(
        recipe=kept["recipe"],
        inputs={
            path: Seen(tuple(stamp), digest, settled)
            for path, (stamp, digest, settled) in kept["inputs"].items()
        },
        made={path: (size, at) for path, (size, at) in kept["made"].items()},
        made_on=date.fromisoformat(kept["made_on"]),
        changes_on=date.fromisoformat(kept["changes_on"]) if kept["changes_on"] else None,
        problems=tuple(
            Problem(
                Code[problem["code"]],
                SourceRef(**problem["where"]),
                problem["facts"],
                Cost[problem["costs"]] if problem["costs"] else None,
                rule=_rule(problem.get("rule")),
                fixes=tuple(_fix(fix) for fix in problem.get("fixes", ())),
            )
            for problem in kept["problems"]
        ),
        granted=tuple(kept["granted"]),
        knew=tuple(kept.get("knew", ())),
        students=kept.get("students", ""),
        hidden_by=kept.get("hidden_by", ""),
    )


def _rule(kept: dict[str, Any] | None) -> RowRule | None:
    if kept is None:
        return None
    return RowRule(Check(kept["check"]), Quantity(kept["quantity"]) if kept["quantity"] else None)


def _fix(kept: dict[str, Any]) -> Fix:
    edits = (Edit(**{**edit, "lines": tuple(edit["lines"])}) for edit in kept["edits"])
    return Fix(tuple(edits), Sureness[kept["sure"]])
