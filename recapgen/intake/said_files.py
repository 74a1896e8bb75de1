"""``files:`` in notes.md: the block, the place or the emptiness of a whole file of shots."""

from recapgen.intake.blocks import BLOCK_WORDS
from recapgen.intake.form import Form, shown
from recapgen.intake.near_words import nearest
from recapgen.intake.table.cell_words import block_named
from recapgen.intake.yaml_map import MapEntry, Scalar, brief, plain_key
from recapgen.model.lesson import FileSaid
from recapgen.model.shots import Block

MOST_FILES = 99
IGNORE = "ignore"
_IGNORE = frozenset({IGNORE, "ignored", "nothing", "skip", "no shots", "not shots"})


def read_said_files(form: Form) -> tuple[FileSaid, ...]:
    """``files: {range.csv: before, bay.csv: after, scores.csv: ignore}``, or places from 1."""
    said: list[FileSaid] = []
    for entry in form.pairs("files", "shots.csv: before"):
        words = form.one(entry.key, entry.value)
        if words is not None:
            found = _said(form, entry, words)
            said.extend([found] if found is not None else [])
    return tuple(said)


def _said(form: Form, entry: MapEntry, words: Scalar) -> FileSaid | None:
    name, where, text = entry.key, entry.where, plain_key(words.text)
    if text in _IGNORE:
        return FileSaid(name, None, None, where)
    if text.isdecimal():
        place = form.whole_in(name, words, 1, MOST_FILES)
        return None if place is None else FileSaid(name, None, place, where)
    block = block_named(words.text)
    if block is None:
        known = ", ".join((shown(BLOCK_WORDS), "1", IGNORE))
        form.misread(brief(name), words, known, nearest(text, (*Block, IGNORE)))
        return None
    return FileSaid(name, block, None, where)
