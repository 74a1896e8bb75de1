"""Which clips are shown: for each view the one nearest to the middle of its block."""

from collections.abc import Iterable, Sequence

from msgspec.structs import replace

from recapgen.choosing.typical import TypicalShot, typical_shot
from recapgen.model.films import ChosenBecause, ClipChoice, ClipPairing
from recapgen.model.lesson import ClipFile
from recapgen.model.problem import Code, Problem
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block, SortedShot

_BLOCKS = (Block.BEFORE, Block.AFTER)


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
    clips: Sequence[ClipFile], shots: Sequence[SortedShot], judged: Sequence[Quantity]
) -> tuple[tuple[ClipPairing, ...], tuple[Problem, ...]]:
    """One pairing per view; a clip of neither block is shown where the view has no other.

    ``judged`` are the lesson's number and, after it, what is guarded; empty where none was named.
    The problems name the clips that are not shown because nothing but mishits was filmed.
    """
    views = sorted({clip.view for clip in clips}, key=lambda view: (view is None, view or ""))
    pairings: list[ClipPairing] = []
    problems: list[Problem] = []
    for view in views:
        here = [clip for clip in clips if clip.view is view]
        choices = []
        for block in _BLOCKS:
            of_block = [clip for clip in here if clip.block is block]
            choice = _stands_for(of_block, shots, block, judged)
            if choice is not None:
                choices.append(choice)
            elif of_block:
                facts = {"file": of_block[0].path.name, "block": str(block)}
                problems.append(Problem(Code.CLIP_MISHIT, of_block[0].where, facts))
        elsewhere = [clip for clip in here if clip.block not in _BLOCKS]
        if choices:
            pairings.append(ClipPairing(view, tuple(choices)))
        elif elsewhere:
            pairings.append(ClipPairing(view, (ClipChoice(elsewhere[0]),)))
    return tuple(pairings), tuple(problems)


def _stands_for(
    of_block: Sequence[ClipFile],
    shots: Sequence[SortedShot],
    block: Block,
    judged: Sequence[Quantity],
) -> ClipChoice | None:
    """The clip that the coach chose, else that of the block's most typical filmed shot.

    Without readings the first there is; never a mishit that the coach did not choose.
    """
    filmed = {clip.shot: clip for clip in reversed(of_block) if clip.shot is not None}
    typical = typical_shot(shots, block, tuple(sorted(filmed)), judged)
    chosen = next((clip for clip in of_block if clip.chosen), None)
    if chosen is not None and (typical is None or chosen.shot != typical.shot):
        return _choice(chosen, ChosenBecause.CHOSEN, typical)
    if typical is not None and typical.ranking:
        chosen_because = ChosenBecause.NEAREST if typical.shot is None else ChosenBecause.TYPICAL
        return _choice(filmed[typical.ranking[0]], chosen_because, typical)
    mishits = {s.shot.number for s in shots if s.shot.tag is not None}
    mishits.update(typical.order if typical is not None else ())
    return next((ClipChoice(clip) for clip in of_block if clip.shot not in mishits), None)


def _choice(
    clip: ClipFile, chosen_because: ChosenBecause, typical: TypicalShot | None
) -> ClipChoice:
    """``clip`` with its place in the block and its rank, as far as they are known."""
    if typical is None or clip.shot is None:
        return ClipChoice(clip, chosen_because)
    order, ranking = typical.order, typical.ranking
    return ClipChoice(
        clip=clip,
        chosen_because=chosen_because,
        position=order.index(clip.shot) + 1 if clip.shot in order else None,
        of=typical.of,
        rank=ranking.index(clip.shot) + 1 if clip.shot in ranking else None,
        filmed=len(ranking),
    )
