"""What was read, file by file and sheet by sheet, and which block of the lesson each part is."""

from collections.abc import Sequence
from pathlib import PurePath

from msgspec import Struct, field

from recapgen.intake.table.cell_words import block_in_name, block_named
from recapgen.intake.table.rows import Drafts
from recapgen.model.lesson import FileSaid
from recapgen.model.shots import Block


class Part(Struct):
    """The shots of one file, or of one sheet of a workbook, under the name a coach may use.

    ``words`` are the names that may say its block, the nearest one first; ``said`` is what
    notes.md says of it.
    """

    name: str
    file: str
    words: tuple[str, ...]
    said: FileSaid | None = None
    drafts: Drafts = field(default_factory=Drafts)
    by_name: Block | None = None

    @property
    def blocks(self) -> set[Block | None]:
        return set(self.drafts.blocks)


def part_of(
    path: PurePath, file: str, sheet: str, said: Sequence[FileSaid], *, alone: bool
) -> Part:
    """The part that a sheet is; ``alone`` where it is the only one written on in its file."""
    names = (f"{path.name}/{sheet}", path.name) if sheet else (path.name,)
    told = next((one for name in names for one in said if _same(one.name, name)), None)
    words = (sheet, path.stem) if sheet else (path.stem,)
    return Part(path.name if alone else names[0], file, words, told)


def said_of(path: PurePath, said: Sequence[FileSaid]) -> FileSaid | None:
    """What notes.md says of a whole file."""
    return next((one for one in said if _same(one.name, path.name)), None)


def _same(one: str, other: str) -> bool:
    return one.casefold() == other.casefold()


def take_blocks(parts: Sequence[Part]) -> None:
    """Gives each part the block that notes.md or its name says.

    notes.md goes before what is in the file; a name only counts where nothing in the file says
    a block. The only part of a lesson needs a name that says the block and nothing else.
    """
    named = block_in_name if len(parts) > 1 else block_named
    for part in parts:
        if part.said is not None and part.said.block is not None:
            part.drafts.blocks = [part.said.block] * len(part.drafts.blocks)
        elif not any(part.drafts.blocks):
            part.by_name = next((b for b in map(named, part.words) if b is not None), None)
            part.drafts.blocks = [part.by_name] * len(part.drafts.blocks)
