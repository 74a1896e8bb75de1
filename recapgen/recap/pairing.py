"""Which clips are shown: for each view the one nearest to the middle of its block."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from recapgen.evidence.typical import typical_shot
from recapgen.model.films import Film, Standing
from recapgen.model.lesson import ClipFile, View
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block, SortedShot


@dataclass(frozen=True, slots=True)
class Choice:
    """A clip, and why it stands for its block."""

    clip: ClipFile
    standing: Standing = Standing.ONLY
    position: int | None = None
    of: int | None = None


@dataclass(frozen=True, slots=True)
class Pairing:
    """What one film shows: then and now, or the only clip there is."""

    view: View | None
    choices: tuple[Choice, ...]

    def explain(self, film: Film) -> Film:
        """``film``, made of these clips, with the reasons they were chosen."""
        sides = tuple(
            replace(side, standing=choice.standing, position=choice.position, of=choice.of)
            for side, choice in zip(film.sides, self.choices, strict=True)
        )
        return replace(film, sides=sides)


def in_blocks(clips: Iterable[ClipFile], shots: Sequence[SortedShot]) -> tuple[ClipFile, ...]:
    """``clips`` with the block of their shot, where the coach did not name one."""
    block_of = {s.shot.number: s.block for s in shots}
    return tuple(
        replace(clip, block=block_of.get(clip.shot))
        if clip.block is None and clip.shot is not None
        else clip
        for clip in clips
    )


def pair_up(
    clips: Sequence[ClipFile], shots: Sequence[SortedShot], quantity: Quantity | None
) -> tuple[Pairing, ...]:
    """One pairing per view; a clip of neither block is shown where the view has no other."""
    views = sorted({clip.view for clip in clips}, key=lambda view: (view is None, view or ""))
    pairings = []
    for view in views:
        here = [clip for clip in clips if clip.view is view]
        then_and_now = [
            _stands_for(here, shots, block, quantity) for block in (Block.BEFORE, Block.AFTER)
        ]
        found = tuple(choice for choice in then_and_now if choice is not None)
        pairings.append(Pairing(view, found or (Choice(here[0]),)))
    return tuple(pairings)


def _stands_for(
    clips: Sequence[ClipFile],
    shots: Sequence[SortedShot],
    block: Block,
    quantity: Quantity | None,
) -> Choice | None:
    """The clip of the block's most typical filmed shot; without readings the first there is."""
    of_block = [clip for clip in clips if clip.block is block]
    filmed = {clip.shot: clip for clip in reversed(of_block) if clip.shot is not None}
    typical = typical_shot(shots, block, tuple(sorted(filmed)), quantity) if quantity else None
    if typical is not None and typical.ranking:
        clip = filmed[typical.ranking[0]]
        if typical.shot is None:
            return Choice(clip, Standing.NEAREST)
        return Choice(clip, Standing.TYPICAL, typical.position, typical.of)
    return Choice(of_block[0]) if of_block else None
