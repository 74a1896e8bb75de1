"""The words for the stretches of a lesson."""

from recapgen.intake.form import Form, meanings_of
from recapgen.intake.table.cell_words import block_named
from recapgen.intake.yaml_map import Scalar
from recapgen.model.shots import Block

BLOCK_WORDS = meanings_of(
    {
        Block.WARM_UP: ("warm-up", "warmup"),
        Block.BEFORE: ("before", "then"),
        Block.DRILL: ("drill", "drills"),
        Block.AFTER: ("after", "now"),
        Block.CLOSING: ("closing", "old feel again"),
    }
)


def block_in(form: Form, key: str, words: Scalar) -> Block | None:
    """The block that ``words`` name: the same words as in a phase column of the shots."""
    return block_named(words.text) or form.meant(key, words, BLOCK_WORDS)
