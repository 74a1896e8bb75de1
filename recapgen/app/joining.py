"""``join``: outputs that hold a share of all students each become one."""

from collections.abc import Sequence
from pathlib import Path

from msgspec.structs import replace

from recapgen.app.building import Options, build
from recapgen.app.chosen_students import Scope
from recapgen.console import Console, Outcome
from recapgen.publish.shards import read_shards


def join(folders: Sequence[Path], options: Options, console: Console) -> Outcome:
    """What one build of all students would have made; what the shares made is not made again.

    The lessons are read where the shares read them: cases, card and book are made of all.
    """
    shares = read_shards(folders)
    if shares.value is None:
        return Outcome(ran=False, problems=shares.problems)
    return build(shares.value[0].root, replace(options, scope=Scope(joined=shares.value)), console)
