"""Every row has one status, and the four add up."""

from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from recapgen.evidence.sorting import sort_shots, tally
from recapgen.model.lesson import LeftOut, MishitTag, Notes, ShotSpan
from recapgen.model.quantity import Quantity
from recapgen.model.row_rules import Check, RowRule
from recapgen.model.shots import Block, SetAside, Shot, ShotStatus, ShotTable
from recapgen.model.source import SourceRef

NOTES = Notes(SourceRef("anna/2027-04-11/notes.md"), "Well done.")
LINE = SourceRef("anna/2027-04-11/notes.md", 4, 3)
NO_CARRY = RowRule(Check.IMPOSSIBLE, Quantity.CARRY)


def shot(
    number: int,
    block: Block | None = None,
    *,
    carry: float | None = 40.0,
    club: str | None = None,
    tag: str | None = None,
    impossible: RowRule | None = None,
) -> Shot:
    return Shot(
        number=number,
        where=SourceRef("anna/2027-04-11/shots.csv", number + 1),
        readings={} if carry is None else {Quantity.CARRY: carry},
        block=block,
        club=club,
        time=datetime(2027, 4, 11, 9, number, tzinfo=UTC),
        tag=tag,
        impossible=impossible,
    )


def table(*shots: Shot) -> ShotTable:
    return ShotTable(shots, ("shots.csv",))


def statuses(
    notes: Notes, shots: ShotTable, club: str | None = None
) -> list[tuple[ShotStatus, str | RowRule | SetAside | None]]:
    sorted_shots = sort_shots(notes, shots, club, Quantity.CARRY)
    return [(s.status, s.aside or s.reason) for s in sorted_shots]


def test_blocks_from_the_column() -> None:
    order = (Block.WARM_UP, Block.BEFORE, Block.DRILL, Block.AFTER, Block.CLOSING, None)
    found = statuses(NOTES, table(*(shot(i + 1, block) for i, block in enumerate(order))))
    assert found == [
        (ShotStatus.SET_ASIDE, SetAside.WARM_UP),
        (ShotStatus.USED, None),
        (ShotStatus.SET_ASIDE, SetAside.DRILL),
        (ShotStatus.USED, None),
        (ShotStatus.USED, None),
        (ShotStatus.SET_ASIDE, SetAside.NO_BLOCK),
    ]


def test_the_notes_spans_win_over_the_column() -> None:
    notes = replace(
        NOTES,
        spans=(ShotSpan(Block.WARM_UP, 1, 2, LINE), ShotSpan(Block.AFTER, 4, 4, LINE)),
    )
    shots = table(*(shot(i, Block.BEFORE) for i in range(1, 5)))
    found = [s.block for s in sort_shots(notes, shots, None, Quantity.CARRY)]
    assert found == [Block.WARM_UP, Block.WARM_UP, Block.BEFORE, Block.AFTER]


def test_a_shot_left_out_keeps_the_coachs_reason() -> None:
    notes = replace(NOTES, left_out=(LeftOut(2, "a dog ran across", LINE),))
    found = sort_shots(notes, table(shot(1, Block.BEFORE), shot(2, Block.BEFORE)), None, None)
    assert (found[1].status, found[1].reason) == (ShotStatus.LEFT_OUT, "a dog ran across")
    assert found[1].left_out_by_coach
    assert found[0].status is ShotStatus.USED


def test_an_impossible_row_is_left_out_by_the_tools_rule() -> None:
    found = sort_shots(NOTES, table(shot(1, Block.AFTER, impossible=NO_CARRY)), None, None)
    assert (found[0].status, found[0].reason) == (ShotStatus.LEFT_OUT, NO_CARRY)
    assert not found[0].left_out_by_coach


def test_other_clubs_are_set_aside() -> None:
    shots = table(
        shot(1, Block.BEFORE, club="driver"),
        shot(2, Block.BEFORE, club="7 iron"),
        shot(3, Block.AFTER, club=None),
    )
    aside = (ShotStatus.SET_ASIDE, SetAside.ANOTHER_CLUB)
    assert statuses(NOTES, shots, "7 iron") == [
        aside,
        (ShotStatus.USED, None),
        (ShotStatus.USED, None),
    ]


def test_without_a_club_in_the_notes_the_commonest_is_meant() -> None:
    clubs = ("driver", "driver", "7 iron", "7 iron", "7 iron")
    blocks = (Block.WARM_UP, Block.WARM_UP, Block.BEFORE, Block.AFTER, Block.AFTER)
    shots = table(
        *(
            shot(i + 1, block, club=club)
            for i, (block, club) in enumerate(zip(blocks, clubs, strict=True))
        )
    )
    assert [status for status, _ in statuses(NOTES, shots)] == [ShotStatus.SET_ASIDE] * 2 + [
        ShotStatus.USED
    ] * 3


@pytest.mark.parametrize("missing", [None, float("nan"), float("inf")])
def test_a_missing_reading_is_not_read(missing: float | None) -> None:
    shots = table(shot(1, Block.BEFORE, carry=missing))
    assert statuses(NOTES, shots) == [(ShotStatus.NOT_READ, None)]
    assert sort_shots(NOTES, shots, None, None)[0].status is ShotStatus.USED


def test_the_notes_mishit_word_wins_over_the_tag() -> None:
    notes = replace(NOTES, mishits=(MishitTag(1, "heel", LINE),))
    shots = table(shot(1, Block.AFTER, tag="thin"), shot(2, Block.AFTER, tag="toe"))
    found = sort_shots(notes, shots, None, None)
    assert [s.shot.tag for s in found] == ["heel", "toe"]


@given(
    st.lists(
        st.builds(
            shot,
            number=st.integers(1, 59),
            block=st.none() | st.sampled_from(Block),
            carry=st.none() | st.floats(allow_nan=True),
            club=st.none() | st.sampled_from(["7 iron", "driver"]),
            impossible=st.none() | st.just(NO_CARRY),
        ),
        unique_by=lambda s: s.number,
    ),
    st.lists(st.integers(1, 59), unique=True, max_size=6),
    st.none() | st.sampled_from(["7 iron", "driver"]),
)
def test_the_four_fates_add_up(shots: list[Shot], out: list[int], club: str | None) -> None:
    notes = replace(NOTES, left_out=tuple(LeftOut(n, "wind", LINE) for n in out))
    found = sort_shots(notes, table(*shots), club, Quantity.CARRY)
    counted = tally(found)
    assert counted.read == len(shots)
    assert counted.read == (counted.used + counted.set_aside + counted.not_read + counted.left_out)
    assert [s.shot.number for s in found] == [s.number for s in shots]
    left_out = {s.shot.number for s in found if s.left_out_by_coach}
    assert left_out == set(out) & {s.number for s in shots}
