"""The column that says in which block a shot was hit, where its heading is not known."""

from itertools import groupby

from recapgen.intake.table.cell_words import block_named
from recapgen.intake.table.cells import is_missing
from recapgen.intake.table.header import Heading
from recapgen.intake.table.section_columns import Source

_FEWEST, _MOST = 2, 6
_MOSTLY = 0.9


def phase_column(source: Source) -> int | None:
    """The one column of an unknown heading in which every cell names a block, two at least.

    None where a heading says which it is, or where several columns could be it.
    """
    if any(map(_is_phase, source.headings)):
        return None
    found = [
        index
        for index, heading in enumerate(source.headings)
        if not heading.known and _names_blocks(source, index)
    ]
    return found[0] if len(found) == 1 else None


def may_tell_blocks(source: Source, index: int) -> bool:
    """Whether an unknown column parts the shots as blocks do: a few words, one after another.

    Asked only where a verdict needs the blocks, and neither notes nor headings tell them.
    """
    setting = source.setting
    if setting.placed or not setting.numbers or any(map(_is_phase, source.headings)):
        return False
    words = [cell.strip().casefold() for cell in source.cells[index] if not is_missing(cell)]
    runs = [word for word, _ in groupby(words)]
    filled = len(words) >= _MOSTLY * len(source.cells[index])
    plain = all(any(map(str.isalpha, word)) for word in runs)
    return filled and plain and _FEWEST <= len(runs) <= _MOST and len(runs) < len(words)


def _is_phase(heading: Heading) -> bool:
    return heading.role == "phase"


def _names_blocks(source: Source, index: int) -> bool:
    words = {cell for cell in source.cells[index] if not is_missing(cell)}
    blocks = {block_named(word) for word in words}
    return None not in blocks and len(blocks) >= _FEWEST
