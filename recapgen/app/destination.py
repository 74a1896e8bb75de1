"""One folder of site/: what it must not tell, and what stands there when something new would."""

from collections.abc import Iterable
from contextlib import suppress
from functools import partial
from pathlib import Path

from msgspec import Struct

from recapgen.model.problem import Code, Problem
from recapgen.model.source import SourceRef
from recapgen.privacy.forbidden import Forbidden
from recapgen.privacy.leaks import Leak, Up, all_along, find_line
from recapgen.tools.html_reading import read_site

OWN_LEAKS = frozenset({Code.PRIVATE_WORDS_SHOWN, Code.DETAIL_SHOWN, Code.OUTSIDE_ADDRESS})
NOBODYS_LEAKS = frozenset({Code.OUTSIDE_ADDRESS})  # private words are another's there
_TYPED = (".md", ".yml", ".csv")
_NEVER_SHOWN = ("private.md", "student.yml")


class Destination(Struct, frozen=True):
    """Where a site goes.

    A leak of its ``own`` takes down what is up; another's name only where it was among those
    that what is up was clean of when it was made (``knew``).
    """

    goal: Path
    forbidden: Forbidden
    own: frozenset[Code]
    knew: frozenset[str]

    def up(self) -> Up | None:
        """What is there now."""
        return Up(partial(read_site, self.goal), self.knew) if self.goal.is_dir() else None

    def leaked_all_along(self) -> bool:
        """Must what is there come down?"""
        up = self.up()
        return up is not None and all_along(up, self.forbidden, self.own)


def clean_of(forbidden: Forbidden, problems: Iterable[Problem]) -> tuple[str, ...]:
    """The names looked for and not met."""
    met = {p.facts["word"] for p in problems if p.code is Code.STUDENT_NAMED_BEFORE}
    return tuple(sorted(forbidden.names() - met))


def line_of(leak: Leak, root: Path, forbidden: Forbidden, near: str) -> SourceRef | None:
    """Where the coach wrote it: beside the file ``near``, in coach.yml or in a drill."""
    folder = (root / near).parent
    for files in (folder.rglob("*"), root.glob("*"), root.glob("[Dd]rills/*")):
        for file in sorted(files):
            shown = file.suffix.lower() in _TYPED and file.name.lower() not in _NEVER_SHOWN
            if shown and file.is_file():
                with suppress(OSError, ValueError):
                    number = find_line(leak, file.read_text("utf-8"), forbidden)
                    if number is not None:
                        return SourceRef(file.relative_to(root).as_posix(), number, 1)
    return None
