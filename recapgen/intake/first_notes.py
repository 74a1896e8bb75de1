"""The first notes of a lesson: all that can be seen, and what only the coach can say left open.

Nothing is guessed: what was found, is usual or was so last time is said beside its line, and
what could be otherwise is offered as a comment.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from datetime import date

from msgspec import Struct, field

from recapgen.golf.clubs import club_named, same_club
from recapgen.intake.last_time import SaidBefore
from recapgen.intake.pauses import FEWEST, UnbrokenRun, stretches_of
from recapgen.model.films import ImpactFrom, Strike
from recapgen.model.fix import Value
from recapgen.model.lesson import ClipFile, ShotSpan
from recapgen.model.notes_line import NotesLine, NotesPart, Remark, Said
from recapgen.model.people import Coach, Student
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block, Shot, ShotTable
from recapgen.model.source import SourceRef
from recapgen.model.usual import Usual

AS_LAST_TIME = "as last time"
_IN_TIME = "before the after-shots"
_OF_THE_NUMBER = ("number", "want", "matters", "must not lose")
_MAY_BE_AS_LAST_TIME = ("kind", "practice", "usual miss")
_WORD = re.compile(r"[\w'’-]+")
_ORDERS: Mapping[int, tuple[tuple[Block, ...], ...]] = {
    2: ((Block.BEFORE, Block.AFTER),),
    3: ((Block.BEFORE, Block.DRILL, Block.AFTER), (Block.WARM_UP, Block.BEFORE, Block.AFTER)),
    4: (
        (Block.WARM_UP, Block.BEFORE, Block.DRILL, Block.AFTER),
        (Block.BEFORE, Block.DRILL, Block.AFTER, Block.CLOSING),
    ),
    5: ((Block.WARM_UP, Block.BEFORE, Block.DRILL, Block.AFTER, Block.CLOSING),),
}
"""What so many stretches of shots may be; only two can be nothing else, and be compared."""


class SeenClip(Struct, frozen=True):
    """A clip as name and clocks tell it.

    ``by_time`` where its shot or its block was found by the clocks. ``impacts_s`` are the strikes
    in question, in seconds from the first picture, where ``strike`` is a guess.
    """

    clip: ClipFile
    by_time: bool = False
    strike: Strike | None = None
    impacts_s: tuple[float, ...] = ()


class SeenLesson(Struct, frozen=True):
    """What a lesson's folder shows before anybody wrote notes of it.

    ``last`` is what the notes before say, by key (``intake.last_time.said_last_time``).
    """

    on: date
    coach: Coach
    student: Student | None = None
    shots: ShotTable | None = None
    clips: tuple[SeenClip, ...] = ()
    last: Mapping[str, SaidBefore] = field(default_factory=dict)


def first_notes(seen: SeenLesson) -> tuple[NotesPart, ...]:
    """The lines of notes.md, in the order in which they are to stand there."""
    return (
        _intent(seen),
        *_club(seen),
        *_blocks(seen),
        *_number(seen),
        *_clips(seen),
        *_usual(seen),
        *_as_last_time(seen),
        NotesPart((Said(Remark.PERHAPS),), tuple(_perhaps(seen))),
    )


def likely_spans(table: ShotTable, where: SourceRef) -> tuple[ShotSpan, ...]:
    """The blocks before and after, where the shots say no block and leave no other choice."""
    if any(shot.block is not None for shot in table.shots):
        return ()
    stretches = stretches_of(table)
    (order,) = _ORDERS[2]
    if len(stretches) != len(order) or not _comparable(stretches):
        return ()
    both = zip(order, stretches, strict=True)
    return tuple(ShotSpan(block, each.first, each.last, where) for block, each in both)


def _intent(seen: SeenLesson) -> NotesPart:
    last = seen.last.get("intent")
    facts = {} if last is None else {"intent": str(last.value), "day": last.on.isoformat()}
    said = (Said(Remark.INTENT_LAST, facts),) if facts else ()
    keys = ("intent", "feels like", "student says")
    return NotesPart(said, tuple(NotesLine(key, "") for key in keys))


def _club(seen: SeenLesson) -> Iterator[NotesPart]:
    """The only club of the file; of several the coach chooses, as of last time's."""
    shots = _shots(seen)
    hit = [shot.club for shot in shots if shot.club is not None]
    written = [club for each in hit if (club := club_named(each)) is not None]
    clubs = {club: written.count(club) for club in dict.fromkeys(written)}
    last = seen.last.get("club")
    if len(clubs) == 1 and len(written) == len(hit):
        (club,) = clubs
        of = {"n": str(clubs[club]), "of": str(len(shots))}
        yield NotesPart((Said(Remark.CLUB_IN_FILE, of),), (NotesLine("club", club),))
    elif clubs:
        told = ", ".join(f"{club} {n}" for club, n in clubs.items())
        lines = (NotesLine("club", club, offered=True) for club in clubs)
        yield NotesPart((Said(Remark.CLUB_CHOOSE, {"clubs": told}),), tuple(lines))
    elif last is not None:
        said = Said(Remark.CLUB_LAST, {"day": last.on.isoformat()})
        yield NotesPart((said,), (NotesLine("club", last.value, offered=True),))


def _blocks(seen: SeenLesson) -> Iterator[NotesPart]:
    table = seen.shots
    if table is None or not table.shots or table.by_hand:
        return
    told = dict.fromkeys(shot.block for shot in table.shots if shot.block is not None)
    if told:
        counts = (f"{b} {sum(shot.block is b for shot in table.shots)}" for b in told)
        yield NotesPart((Said(Remark.BLOCKS_IN_FILE, {"blocks": ", ".join(counts)}),))
        return
    stretches = stretches_of(table)
    orders = _ORDERS.get(len(stretches), ())
    if len(stretches) == len(_ORDERS[2][0]) and _comparable(stretches):
        facts = {"minutes": f"{stretches[1].rested_s / 60:.0f}", "shot": str(stretches[0].last)}
        line = NotesLine("shots", _spans(orders[0], stretches))
        yield NotesPart((Said(Remark.BLOCKS_BY_PAUSE, facts),), (line,))
    elif orders:
        facts = {"stretches": ", ".join(_run(each) for each in stretches)}
        lines = (NotesLine("shots", _spans(order, stretches), offered=True) for order in orders)
        yield NotesPart((Said(Remark.BLOCKS_CHOOSE, facts),), tuple(lines))
    else:
        numbers = [shot.number for shot in table.shots]
        facts = {"first": str(min(numbers)), "last": str(max(numbers))}
        line = NotesLine("shots", {Block.BEFORE.value: "", Block.AFTER.value: ""}, offered=True)
        yield NotesPart((Said(Remark.BLOCKS_OPEN, facts),), (line,))


def _comparable(stretches: Iterable[UnbrokenRun]) -> bool:
    """Whether both could be compared: balls enough, and a club that was hit in both."""
    one, other = stretches
    if min(one.balls, other.balls) < FEWEST:
        return False
    if not (one.clubs or other.clubs):
        return True
    return any(same_club(club, each) for club in one.clubs for each in other.clubs)


def _spans(order: Iterable[Block], stretches: Iterable[UnbrokenRun]) -> dict[str, Value]:
    return {block.value: _run(at) for block, at in zip(order, stretches, strict=True)}


def _run(stretch: UnbrokenRun) -> str:
    return f"{stretch.first}-{stretch.last}"


def _number(seen: SeenLesson) -> Iterator[NotesPart]:
    """Last time's number with its goal, if it can be read today; else what there is to choose."""
    read = {quantity for shot in _shots(seen) for quantity in shot.readings}
    known = [quantity for quantity in Quantity if quantity in read]
    last, chosen = seen.last.get("number"), NotesLine("chosen", _IN_TIME, offered=True)
    if last is not None and (not known or _named(last, known)):
        keys = (key for key in _OF_THE_NUMBER if key in seen.last)
        lines = [NotesLine(key, seen.last[key].value, offered=True) for key in keys]
        said = Said(Remark.NUMBER_LAST, {"day": last.on.isoformat()})
        yield NotesPart((said,), (*lines, chosen, *_readings(seen)))
        return
    said_of_last = () if last is None else (
        Said(Remark.NUMBER_LAST_ABSENT, {"number": str(last.value), "day": last.on.isoformat()}),
    )  # fmt: skip
    lines = [NotesLine("number", ""), NotesLine("want", "")]
    if known:
        facts = {"numbers": ", ".join(known)}
        if not any(usual.matters for usual in _usual_of(seen)):
            lines.append(NotesLine("matters", ""))
        said = Said(Remark.NUMBER_CHOOSE, facts)
        yield NotesPart((*said_of_last, said), tuple(lines))
    else:
        said = Said(Remark.NUMBER_BY_EYE)
        yield NotesPart((*said_of_last, said), (lines[0], *_readings(seen)))
    yield NotesPart((Said(Remark.CHOSEN),), (chosen,))


def _named(last: SaidBefore, known: Iterable[Quantity]) -> bool:
    """Whether last time's number is one that the file has, as it is usually called."""
    words = " ".join(_WORD.findall(str(last.value).casefold()))
    return any(words == quantity.value for quantity in known)


def _readings(seen: SeenLesson) -> tuple[NotesLine, ...]:
    """Where no device was: both blocks, to be counted or paced off."""
    if seen.shots is not None:
        return ()
    return (NotesLine("readings", {"before": "", "after": ""}, offered=True),)


def _shots(seen: SeenLesson) -> tuple[Shot, ...]:
    return seen.shots.shots if seen.shots is not None else ()


def _clips(seen: SeenLesson) -> Iterator[NotesPart]:
    if not seen.clips:
        return
    items = tuple(_item(each.clip, guess=_is_guess(each)) for each in seen.clips)
    beside = tuple(tuple(_beside(each)) for each in seen.clips)
    yield NotesPart((Said(Remark.CLIPS),), (NotesLine("clips", items, beside=beside),))


def _is_guess(seen: SeenClip) -> bool:
    return seen.strike is not None and seen.strike.found_in is ImpactFrom.GUESS


def _item(clip: ClipFile, *, guess: bool) -> dict[str, Value]:
    """The clip's line; what is left open stands last, where it is easily filled in.

    An impact that was heard or seen is not written down: in the notes it would be the coach's word.
    """
    told: dict[str, Value] = {"file": clip.path.name}
    if clip.view is not None:
        told["view"] = clip.view.value
    if clip.shot is not None:
        told["shot"] = str(clip.shot)
    elif clip.block is not None:
        told["block"] = clip.block.value
    if clip.view is None:
        told["view"] = ""
    if clip.shot is None and clip.block is None:
        told["block"] = ""
    return told | ({"impact": ""} if guess else {})


def _beside(seen: SeenClip) -> Iterator[Said]:
    clip, strike = seen.clip, seen.strike
    if seen.by_time and clip.shot is not None:
        yield Said(Remark.CLIP_BY_TIME, {"shot": str(clip.shot)})
    elif seen.by_time and clip.block is not None:
        yield Said(Remark.CLIP_BLOCK_BY_TIME, {"block": clip.block.value})
    if strike is None:
        return
    if _is_guess(seen):
        at = ", ".join(f"{s:.2f}" for s in seen.impacts_s or (strike.at_s,))
        yield Said(Remark.CLIP_IMPACT_OPEN, {"at": at})
    else:
        yield Said(Remark.CLIP_IMPACT, {"at": f"{strike.at_s:.2f}"})


def _usual_of(seen: SeenLesson) -> tuple[Usual, ...]:
    """The student's own before the coach's."""
    found = (seen.student.usual if seen.student is not None else None, seen.coach.usual)
    return tuple(usual for usual in found if usual is not None and usual.holds_on(seen.on))


def _usual(seen: SeenLesson) -> Iterator[NotesPart]:
    """What need not be written, since it is filled in."""
    told: dict[str, str] = {}
    for usual in reversed(_usual_of(seen)):
        told |= {"ball": usual.ball} if usual.ball else {}
        told |= {"surface": usual.surface.value} if usual.surface else {}
        told |= {"moved": ", ".join(usual.moved) or "nothing"} if usual.moved is not None else {}
        told |= {"kind": ", ".join(usual.kinds)} if usual.kinds else {}
        told |= {"practice": ""} if usual.practice is not None else {}
        told |= {"matters": ""} if usual.matters else {}
    if told:
        facts = {"things": ", ".join(f"{key} {value}".strip() for key, value in told.items())}
        yield NotesPart((Said(Remark.USUAL, facts),))


def _as_last_time(seen: SeenLesson) -> Iterator[NotesPart]:
    """Keys that may hold what they held last time, each offered in three words."""
    usual = _usual_of(seen)
    filled = {"kind"} if any(each.kinds for each in usual) else set()
    filled |= {"practice"} if any(each.practice is not None for each in usual) else set()
    keys = [k for k in _MAY_BE_AS_LAST_TIME if k in seen.last and k not in filled]
    lines = [NotesLine(key, AS_LAST_TIME, offered=True) for key in keys]
    there = seen.last.get("conditions")
    if there is not None and isinstance(there.value, Mapping):
        usually = {"ball": any(u.ball for u in usual), "surface": any(u.surface for u in usual)}
        same: dict[str, Value] = {
            key: AS_LAST_TIME for key, told in usually.items() if key in there.value and not told
        }
        lines += [NotesLine("conditions", same, offered=True)] if same else []
    if lines:
        day = max(seen.last[line.key].on for line in lines).isoformat()
        yield NotesPart((Said(Remark.LAST_TIME, {"day": day}),), tuple(lines))


def _perhaps(seen: SeenLesson) -> Iterator[NotesLine]:
    if not any(usual.moved is not None for usual in _usual_of(seen)):
        yield NotesLine("moved", "nothing", offered=True)
    yield NotesLine("next", "in 3 weeks", offered=True)
