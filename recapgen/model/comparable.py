"""Like with like: which blocks, and which lessons, may be set beside each other."""

from recapgen.model.lesson import Notes, Swing
from recapgen.model.shots import Block


def swing_in(notes: Notes, block: Block) -> Swing:
    """How the balls of ``block`` were swung; full where the notes don't say.

    The closing block repeats the old feel, so it is swung as the block before.
    """
    said = {each.block: each.swing for each in notes.swings}
    if block is Block.CLOSING:
        return said.get(block, swing_in(notes, Block.BEFORE))
    return said.get(block, Swing.FULL)


def swings_compared(notes: Notes) -> tuple[Swing, Swing]:
    return swing_in(notes, Block.BEFORE), swing_in(notes, Block.AFTER)


def swung_alike(notes: Notes) -> bool:
    """Both blocks were swung in the same way, or the coach asked for just this comparison."""
    before, after = swings_compared(notes)
    if swing_in(notes, Block.CLOSING) is not before:
        return False
    return before is after or notes.compare == (before, after)


def balls_alike(notes: Notes) -> bool:
    """No two blocks that are compared were hit with different kinds of ball."""
    compared = (Block.BEFORE, Block.AFTER, Block.CLOSING)
    kinds = {_folded(kind) for block, kind in notes.conditions.balls if block in compared}
    return len(kinds) <= 1


def lessons_alike(one: Notes, other: Notes) -> bool:
    """The same club, swing and kind of ball; a ball that one of them doesn't name is no bar."""
    balls = {_folded(kind) for kind in (ball_of(one), ball_of(other)) if kind is not None}
    swings = {*swings_compared(one), *swings_compared(other)}
    return one.club == other.club and len(swings) == 1 and len(balls) <= 1


def ball_of(notes: Notes) -> str | None:
    """The kind of ball of the compared blocks, where it was noted."""
    by_block = dict(notes.conditions.balls)
    return by_block.get(Block.BEFORE) or by_block.get(Block.AFTER) or notes.conditions.ball


def _folded(kind: str) -> str:
    return " ".join(kind.casefold().split())
