"""How the balls of each block were swung, and what the coach asks to be compared."""

import re
from collections.abc import Iterator

from recapgen.intake.blocks import block_in
from recapgen.intake.form import Form, meanings_of, shown
from recapgen.intake.yaml_map import Scalar, brief, plain_key
from recapgen.model.lesson import BlockSwing, Swing
from recapgen.model.problem import Code

_SWINGS = meanings_of(
    {
        Swing.FULL: ("full", "full swing", "full swings", "whole", "as always"),
        Swing.HALF: ("half", "half swing", "half swings", "waist high"),
        Swing.PART: ("part", "part swing", "part swings", "three quarter", "three quarters",
                     "short swing", "short swings"),
        Swing.REHEARSAL: ("rehearsal", "rehearsals", "slow motion", "without a ball"),
    }
)  # fmt: skip
_WITH = re.compile(r"(.+?)\s+(?:with|and|to|against)\s+(.+)", re.IGNORECASE)


def read_swings(form: Form) -> tuple[BlockSwing, ...]:
    """``swings: {drill: half, after: full}``."""
    return tuple(_swings(form))


def _swings(form: Form) -> Iterator[BlockSwing]:
    for entry in form.pairs("swings", "drill: half"):
        block = block_in(form, "swings", Scalar(entry.key, entry.where, quoted=True))
        words = form.one(entry.key, entry.value)
        swing = form.meant("swings", words, _SWINGS) if words is not None else None
        if block is not None and swing is not None:
            yield BlockSwing(block, swing, entry.where)


def read_compare(form: Form) -> tuple[Swing, Swing] | None:
    """``compare: half with full``: swings before and after, set side by side on purpose."""
    words = form.words("compare")
    if words is None:
        return None
    pair = _WITH.fullmatch(words.text.strip())
    swings = [_SWINGS.get(plain_key(word)) for word in pair.groups()] if pair else []
    if len(swings) != 2 or swings[0] is None or swings[1] is None:  # noqa: PLR2004 - then and now
        facts = {"found": brief(words.text), "known": shown(_SWINGS)}
        form.report(Code.COMPARE_UNREADABLE, words.where, **facts)
        return None
    return swings[0], swings[1]
