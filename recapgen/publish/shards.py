"""Outputs that hold a share of all students each, and how they become one."""

import json
import shutil
from collections.abc import Sequence
from pathlib import Path

from msgspec import Struct

from recapgen.model.problem import Checked, Code, Problem
from recapgen.model.source import SourceRef
from recapgen.publish.build_state import WHOLE, read_states, write_states
from recapgen.publish.output import Output, OutputPlaces
from recapgen.tools.atomic import write_text

_OF_ALL = frozenset({"cases", "card", WHOLE})  # parts that are made of all students


class KeptShard(Struct, frozen=True):
    """A share as it was built: which ("2/3"), of which lessons, by which secret."""

    places: OutputPlaces
    share: str
    root: Path
    secret: str


def keep_shard(places: OutputPlaces, root: Path, share: str, secret: str) -> None:
    """Write down what the output is a share of. Raises OSError."""
    told = {"share": share, "lessons": str(root.resolve()), "secret": secret}
    write_text(places.share, json.dumps(told) + "\n")


def read_shards(folders: Sequence[Path]) -> Checked[tuple[KeptShard, ...]]:
    """The shares in ``folders``, if they are all of one whole and none is missing or twice."""
    shares = []
    for folder in folders:
        places = OutputPlaces(folder)
        try:
            kept = json.loads(places.share.read_text("utf-8"))
            share = KeptShard(places, kept["share"], Path(kept["lessons"]), kept["secret"])
        except (OSError, ValueError, KeyError, TypeError):
            return _refused(Code.SHARE_NOT_ONE, found=str(folder))
        shares.append(share)
    first = shares[0]
    of = first.share.partition("/")[2]
    for each in shares:
        same = (each.root, each.secret) == (first.root, first.secret)
        if not same or each.share.partition("/")[2] != of:
            found, other = each.places.root, first.places.root
            return _refused(Code.SHARES_DIFFER, found=str(found), other=str(other))
    there = [each.share for each in shares]
    wanted = [f"{number}/{of}" for number in range(1, int(of) + 1)]
    amiss = [each for each in wanted if there.count(each) != 1]
    if amiss:
        return _refused(Code.SHARE_MISSING, found=", ".join(there), missing=", ".join(amiss))
    return Checked(tuple(shares), ())


def gather(shares: Sequence[KeptShard], output: Output) -> None:
    """Put the students' sites of all ``shares``, and what was kept of them, into ``output``.

    What lies there under the same name is left: a build looks at everything again. Raises OSError.
    """
    if not shares:
        return
    states = read_states(output.state_file)
    for share in shares:
        _gather_pages(share.places.site, output.site)
        _gather_pages(share.places.unsealed, output.unsealed)
        theirs = read_states(share.places.state_file)
        for part, state in theirs.items():
            if part not in _OF_ALL and state.made and part not in states:
                states[part] = state
        for entry in sorted(share.places.cache.iterdir()):
            goal = output.cache / entry.name
            if goal.exists() or entry.name.startswith("making-"):
                continue
            if entry.is_dir():
                shutil.copytree(entry, goal)
            else:
                shutil.copy2(entry, goal)
    write_states(output.state_file, states)


def _gather_pages(theirs: Path, ours: Path) -> None:
    for folder in sorted(theirs.glob("*")):
        if folder.is_dir() and not (ours / folder.name).exists():
            shutil.copytree(folder, ours / folder.name)


def _refused(code: Code, **facts: str) -> Checked[tuple[KeptShard, ...]]:
    return Checked(None, (Problem(code, SourceRef(""), facts),))
