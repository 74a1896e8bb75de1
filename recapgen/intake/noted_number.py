"""A number noted on a phone counts as noted only where that was before the first after-shot."""

from msgspec.structs import replace

from recapgen.intake.clock_words import told
from recapgen.intake.shot_spans import block_of
from recapgen.model.clock_marks import DAY_S
from recapgen.model.fix import Put, one_of
from recapgen.model.lesson import Notes
from recapgen.model.problem import Checked, Code, Problem
from recapgen.model.shots import Block, ShotTable
from recapgen.model.source import SourceRef


def check_noted(notes: Notes, table: ShotTable | None) -> Checked[Notes]:
    """The notes; with the time only where it was in time, by the phone's clock or the shots'.

    Where neither says when the after-shots were hit, the coach's word is left.
    """
    aim = notes.declaration
    if aim is None or aim.noted_s is None:
        return Checked(notes, ())
    first_s = _first_after_s(notes, table)
    facts = {"noted": told(aim.noted_s)}
    if first_s is None:
        word = replace(notes, declaration=replace(aim, noted_s=None))
        return Checked(word, (Problem(Code.NOTED_UNCHECKED, aim.where, facts),))
    if (first_s - aim.noted_s + DAY_S / 2) % DAY_S >= DAY_S / 2:
        return Checked(notes, ())
    facts["first"] = told(first_s)
    offers = one_of([Put(SourceRef(notes.where.file), ("chosen",), "afterwards")])
    late = Problem(Code.NOTED_TOO_LATE, aim.where, facts, offers=offers)
    return Checked(replace(notes, declaration=replace(aim, noted_s=None, stated=False)), (late,))


def _first_after_s(notes: Notes, table: ShotTable | None) -> float | None:
    """When the after-block began, on the phone that noted the number where it says so."""
    noted = [each.span.first_s for each in notes.timed if each.block is Block.AFTER]
    if noted:
        return float(noted[0])
    for shot in table.shots if table is not None else ():
        block = block_of(notes.spans, shot.number) or shot.block
        if block is Block.AFTER and shot.time is not None:
            at = shot.time
            return float(at.hour * 3600 + at.minute * 60 + at.second)
    return None
