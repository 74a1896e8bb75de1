"""Notes against shots: what one says of the other must be there."""

from collections import Counter
from collections.abc import Iterable, Iterator
from itertools import permutations
from pathlib import Path

from recapgen.golf.clubs import club_named, same_club
from recapgen.intake.near_words import nearest
from recapgen.intake.shot_spans import block_of
from recapgen.intake.yaml_map import brief
from recapgen.model.aim import same_aim
from recapgen.model.comparable import balls_alike, swing_in, swings_compared, swung_alike
from recapgen.model.fix import Cut, Offer, Put, one_of
from recapgen.model.lesson import ClipFile, Notes, Seal, ShotSpan, Swing
from recapgen.model.problem import Code, Problem
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block, ShotTable
from recapgen.model.source import SourceRef

MOST_IN_A_BLOCK = 1000  # nobody hits more in a lesson; every pair of them is looked at


def check_without_shots(notes: Notes) -> Iterator[Problem]:
    """Odd, but publishable: the notes speak of shots and the lesson has none."""
    if notes.declaration is not None and notes.declaration.quantity.in_clips:
        return
    placed = [*(s.where for s in notes.spans), *(each.span.where for each in notes.timed)]
    if placed:
        yield Problem(Code.SHOTS_WITHOUT_FILE, placed[0])
    if notes.declaration is not None:
        facts = {"number": str(notes.declaration.quantity)}
        yield Problem(Code.NUMBER_WITHOUT_SHOTS, notes.declaration.where, facts)


def readings_beside_shots(where: SourceRef, tables: Iterable[Path]) -> Problem:
    """A lesson's one number is read by hand or by a device: who can tell which was meant?"""
    names = [table.name for table in tables]
    ignored = tuple(Put(SourceRef(where.file), ("files", name), "ignore") for name in names)
    facts = {"files": ", ".join(map(brief, names))}
    return Problem(Code.READINGS_BESIDE_SHOTS, where, facts, offers=one_of([Cut(where), ignored]))


def check_against_shots(
    notes: Notes, seal: Seal | None, table: ShotTable, club_where: SourceRef
) -> Iterator[Problem]:
    """Everything in the notes that the table belies. ``club_where`` is the place of ``club:``."""
    numbers = sorted(shot.number for shot in table.shots)
    if not numbers:
        return
    yield from _spans(notes.spans, numbers)
    yield from _single_shots(notes, numbers)
    yield from _club(notes, table, club_where)
    yield from _quantities(notes, seal, table)
    if not table.order_open:  # else that is asked first
        yield from _blocks(notes, table)
    yield from _likeness(notes)


def check_order(notes: Notes, table: ShotTable, clips: tuple[ClipFile, ...]) -> Iterator[Problem]:
    """The order of several files is known where anything rests on it."""
    if table.order_open and _needs_order(notes, table, clips):
        names = ", ".join(part.name for part in table.order_open)
        where = notes.declaration.where if notes.declaration else notes.where
        file = SourceRef(notes.where.file)
        ways = (
            tuple(Put(file, ("files", name), word) for name, word in order.items())
            for order in _orders(notes, table)
        )
        yield Problem(Code.SHOTS_ORDER_OPEN, where, {"files": names}, offers=one_of(ways))


def _needs_order(notes: Notes, table: ShotTable, clips: tuple[ClipFile, ...]) -> bool:
    """Shots are named by number, or compared without their block being known from elsewhere."""
    if notes.spans or notes.left_out or notes.mishits:
        return True
    if any(clip.shot is not None for clip in clips):
        return True
    unplaced = any(part.block is None for part in table.order_open)
    return notes.declaration is not None and (unplaced or table.names_belied)


def _orders(notes: Notes, table: ShotTable) -> Iterator[dict[str, str]]:
    """The words that settle it: a block for each of two files, else the place of each."""
    parts = table.order_open
    open_names = [part.name for part in parts if part.block is None]
    free = [b for b in (Block.BEFORE, Block.AFTER) if b not in {part.block for part in parts}]
    by_block = not notes.spans and len(open_names) == len(free)
    if by_block and free:
        known = {part.name: str(part.block) for part in parts if part.block is not None}
        for order in permutations(open_names):
            named = {name: str(block) for name, block in zip(order, free, strict=True)}
            yield known | named
        return
    for turned in (parts, tuple(reversed(parts))):
        yield {part.name: str(place) for place, part in enumerate(turned, 1)}


def check_clips(clips: tuple[ClipFile, ...], notes: Notes, table: ShotTable) -> Iterator[Problem]:
    """Each clip's shot is in the table, and in the block that the clip is said to show."""
    blocks = {shot.number: block_of(notes.spans, shot.number) or shot.block for shot in table.shots}
    for clip in clips:
        if clip.shot is None or not blocks:
            continue
        facts = {"file": clip.path.name, "shot": str(clip.shot)}
        if clip.shot not in blocks:
            facts |= {"first": str(min(blocks)), "last": str(max(blocks))}
            yield Problem(Code.CLIP_SHOT_NOT_THERE, clip.where, facts)
        elif clip.block and (block := blocks[clip.shot]) and block is not clip.block:
            facts |= {"said": clip.block, "block": block}
            listed = clip.where.line is not None
            offers = one_of([Put(clip.where, ("block",), block.value)] if listed else ())
            yield Problem(Code.CLIP_IN_ANOTHER_BLOCK, clip.where, facts, offers=offers)


def check_followed(clips: tuple[ClipFile, ...], notes: Notes) -> Iterator[Problem]:
    """What is read from clips needs a patch to follow, seen from one and the same side."""
    if notes.declaration is None:
        return
    followed = [clip for clip in clips if clip.directions.follow is not None]
    views = sorted({str(clip.view or "not said") for clip in followed})
    for quantity in notes.declaration.in_clips:
        facts = {"number": str(quantity), "views": ", ".join(views)}
        if not followed:
            yield Problem(Code.NUMBER_NOT_FOLLOWED, notes.declaration.where, facts)
        elif len(views) > 1:
            yield Problem(Code.FOLLOWED_IN_TWO_VIEWS, notes.declaration.where, facts)


def _spans(spans: tuple[ShotSpan, ...], numbers: list[int]) -> Iterator[Problem]:
    first, last = numbers[0], numbers[-1]
    for span in spans:
        facts = {"span": f"{span.first}-{span.last}", "block": str(span.block)}
        facts |= {"first": str(first), "last": str(last)}
        if span.first < first or span.last > last:
            yield Problem(Code.SPAN_BEYOND_SHOTS, span.where, facts)
        elif not any(span.first <= number <= span.last for number in numbers):
            yield Problem(Code.SPAN_WITHOUT_SHOTS, span.where, facts)


def _single_shots(notes: Notes, numbers: list[int]) -> Iterator[Problem]:
    there = set(numbers)
    named = [("left out", one.shot, one.where) for one in notes.left_out]
    named += [("mishits", one.shot, one.where) for one in notes.mishits]
    for key, shot, where in named:
        if shot not in there:
            facts = {"key": key, "shot": str(shot)}
            facts |= {"first": str(numbers[0]), "last": str(numbers[-1])}
            yield Problem(Code.SHOT_NOT_THERE, where, facts)


def _club(notes: Notes, table: ShotTable, where: SourceRef) -> Iterator[Problem]:
    changed = _club_changed(notes, table)
    if changed is not None:
        yield changed
        return
    first = {shot.club: shot.where for shot in reversed(table.shots) if shot.club is not None}
    clubs = sorted({club for written in first if (club := club_named(written)) is not None})
    strange = [written for written in reversed(first) if club_named(written) is None]
    told = {"clubs": ", ".join((*clubs, *strange))}
    several = len(clubs) + len(strange) > 1 and notes.declaration is not None
    if notes.club is None and notes.declaration is not None and clubs and several:
        told |= {"number": str(notes.declaration.quantity), "near": clubs[0]}
        offers = _one_club(notes, clubs)
        yield Problem(Code.CLUB_NOT_SAID, notes.declaration.where, told, offers=offers)
    elif strange and (several if notes.club is None else notes.club not in clubs):
        yield Problem(Code.CLUB_CELL_UNKNOWN, first[strange[0]], {"found": brief(strange[0])})
    elif notes.club is not None and clubs and notes.club not in clubs:
        told |= {"club": notes.club, "near": nearest(notes.club, clubs) or clubs[0]}
        yield Problem(Code.CLUB_NOT_IN_SHOTS, where, told, offers=_one_club(notes, clubs))


def _one_club(notes: Notes, clubs: list[str]) -> tuple[Offer, ...]:
    return one_of(Put(SourceRef(notes.where.file), ("club",), club) for club in clubs)


def _club_changed(notes: Notes, table: ShotTable) -> Problem | None:
    """Balls after were hit with another club than before: it would be credited to the swing.

    None after was hit with a club of before; or some go by the name of one, and were not hit
    with it ("Driver (9°)" and "Driver (10.5°)": both would count as the driver).
    """
    if notes.declaration is None or notes.declaration.quantity.in_clips:
        return None
    clubs: dict[Block | None, dict[str, None]] = {}
    for shot in table.shots:
        if shot.club is not None:
            block = block_of(notes.spans, shot.number) or shot.block
            clubs.setdefault(block, {})[shot.club_written or shot.club] = None
    before, after = clubs.get(Block.BEFORE, {}), clubs.get(Block.AFTER, {})
    others = [club for club in after if not any(same_club(club, one) for one in before)]
    alike = {club_named(club) for club in before} - {None}
    if not before or not others:
        return None
    if len(others) < len(after) and not any(club_named(club) in alike for club in others):
        return None
    facts = {"before": ", ".join(map(brief, before)), "after": ", ".join(map(brief, after))}
    return Problem(Code.CLUB_CHANGED, notes.declaration.where, facts)


def _quantities(notes: Notes, seal: Seal | None, table: ShotTable) -> Iterator[Problem]:
    read = {quantity for shot in table.shots for quantity in shot.readings}
    known = ", ".join(quantity for quantity in Quantity if quantity in read) or "-"
    declaration = notes.declaration
    if declaration is None:
        return
    read |= {*declaration.in_clips, *table.asked}  # looked for by themselves; asked about
    if declaration.quantity not in read:
        facts = {"number": str(declaration.quantity), "known": known}
        yield Problem(Code.NUMBER_NOT_IN_SHOTS, declaration.where, facts)
    guard = declaration.guard
    if guard is not None and guard.quantity not in read:
        facts = {"number": str(guard.quantity), "known": known}
        offers = one_of([Cut(guard.where)])
        yield Problem(Code.GUARD_NOT_IN_SHOTS, guard.where, facts, offers=offers)
    if seal is not None and not same_aim(declaration, seal):
        facts = {"number": str(declaration.quantity), "sealed": str(seal.quantity)}
        yield Problem(Code.SEAL_DIFFERS, declaration.where, facts)


def _likeness(notes: Notes) -> Iterator[Problem]:
    """Only like is compared with like: swings, unless the coach asks, and balls, always."""
    if notes.declaration is None:
        return
    before, after = swings_compared(notes)
    closing = swing_in(notes, Block.CLOSING)
    where = notes.swings[0].where if notes.swings else notes.declaration.where
    facts = {"before": str(before), "after": str(after), "pair": _pair(before, after)}
    pair = Put(SourceRef(notes.where.file), ("compare",), _pair(before, after))
    on_purpose = one_of([pair])
    if notes.compare is not None and notes.compare != (before, after):
        asked = {"asked": _pair(*notes.compare)}
        yield Problem(Code.COMPARE_UNFIT, where, facts | asked, offers=on_purpose)
    elif closing is not before:
        yield Problem(Code.SWINGS_DIFFER, where, facts | {"after": str(closing)})
    elif not swung_alike(notes):
        yield Problem(Code.SWINGS_DIFFER, where, facts, offers=on_purpose)
    if not balls_alike(notes):
        balls = ", ".join(f"{block} {kind}" for block, kind in notes.conditions.balls)
        yield Problem(Code.BALLS_DIFFER, notes.declaration.where, {"balls": balls})


def _pair(before: Swing, after: Swing) -> str:
    """As the notes would write it."""
    return f"{before.removesuffix(' swing')} with {after.removesuffix(' swing')}"


def _blocks(notes: Notes, table: ShotTable) -> Iterator[Problem]:
    """A number needs shots before and after; without either there is nothing to compare."""
    if notes.declaration is None or notes.declaration.quantity.in_clips:
        return
    out = {one.shot for one in notes.left_out}
    filled = Counter(
        block_of(notes.spans, shot.number) or shot.block
        for shot in table.shots
        if shot.number not in out
    )
    for block in (Block.BEFORE, Block.AFTER, Block.CLOSING):
        facts = {"block": str(block), "shots": str(filled[block]), "most": str(MOST_IN_A_BLOCK)}
        if not filled[block] and block is not Block.CLOSING:
            yield Problem(Code.BLOCK_WITHOUT_SHOTS, notes.declaration.where, facts)
        elif filled[block] > MOST_IN_A_BLOCK:
            yield Problem(Code.BLOCK_TOO_LARGE, notes.declaration.where, facts)
