"""One film from one or two clips: the strike on the same frame, then beside now."""

import json
from itertools import pairwise
from math import floor, sqrt
from pathlib import Path

from msgspec import Struct, to_builtins
from msgspec.structs import replace

from recapgen.clips import framing
from recapgen.clips.footage import Footage
from recapgen.clips.same_view import unlike
from recapgen.clips.tempo import tempo_of
from recapgen.model.filming import Position
from recapgen.model.films import Film, FilmSide, ImpactFrom
from recapgen.model.lesson import View
from recapgen.model.problem import Checked, Code, Problem
from recapgen.tools.cache import Cache, digest_of_file, key_for, sha256_of_file
from recapgen.tools.media import converter, editing

RATES = (24, 25, 30, 50, 60)
"""Frames a second a film may have; a faster recording is shown at the last."""

BEFORE_STRIKE_S = 1.8
AFTER_STRIKE_S = 1.2
LEAST_BEFORE_S = 0.6  # a clip that begins later stands still until it does
LEAST_AFTER_S = 0.3

PAIR_CELL_PIXELS = 540 * 960  # two of them at 60 a second stay within H.264 level 4.0
SINGLE_PIXELS = 720 * 1280
LONGEST_SIDE = {1: 1280, 2: 960}

_RATE_SLACK = 0.03  # phones call 59.94 and 61 sixty
_VIDEO = "film.mp4"
_POSTER = "strike.webp"
_STRIP = "stills-{side}.webp"
_FEWEST_STILLS = 2
_DAMAGE = "damage.json"
_MADE_OF = "made-of.json"
_NAME_DIGITS = 16
_PAIR = 2


class Measure(Struct, frozen=True):
    """How much of a swing's time and size a film shows, in shares of what its student sees."""

    time: float = 1.0
    size: float = 1.0


IN_FULL = Measure()
FOR_STRANGERS = Measure(time=0.85, size=0.9)
"""A case's film has other lengths, sizes and bytes than the student's own (D-132)."""


def make_film(
    view: View | None, sides: tuple[Footage, ...], cache: Cache, measure: Measure = IN_FULL
) -> Checked[Film]:
    """The film of one clip, or of two in the order then, now; from the cache if it is there.

    A clip that cannot be converted is a problem, and the other of a pair is shown alone.
    """
    plan = _plan(sides, measure)

    def convert(into: Path) -> None:
        strips = _strips(plan, into)
        complaint = editing.make(plan, into / _VIDEO, into / _POSTER, strips)
        _check_whole(plan, into / _VIDEO, [into / _POSTER, *strips])
        damage = [""] * len(sides)
        if complaint and not any(side.whole for side in sides):  # else it is known and told
            damage = _complaints(plan)
        (into / _DAMAGE).write_text(json.dumps(damage), encoding="utf-8")
        made_of = [sha256_of_file(side.clip.path) for side in sides]
        (into / _MADE_OF).write_text(json.dumps(made_of), encoding="utf-8")

    try:
        entry = cache.find_or_make(_key(plan, sides), convert)
    except converter.ConversionError as failure:
        if len(sides) == _PAIR:
            return _one_alone(view, sides, str(failure), cache, measure)
        (reason,) = _complaints(plan)
        return Checked(None, _told(sides, Code.CLIP_NOT_CONVERTED, [reason or str(failure)]))
    damage = json.loads((entry / _DAMAGE).read_bytes())
    film = _film(view, sides, plan, entry)
    if len(sides) == _PAIR:
        film = replace(film, unlike=unlike(sides[0], sides[1], cache))
    return Checked(film, _told(sides, Code.CLIP_DAMAGED, damage))


def _one_alone(
    view: View | None, sides: tuple[Footage, ...], failure: str, cache: Cache, measure: Measure
) -> Checked[Film]:
    """The later of the two that can be shown by itself; the other is named with its reason."""
    alone = [make_film(view, (side,), cache, measure) for side in sides]
    made = [one.value for one in alone if one.value is not None]
    told = tuple(problem for one in alone for problem in one.problems)
    if len(made) == _PAIR:  # each by itself, but not beside each other
        told = (*told, *_told(sides[:1], Code.CLIP_NOT_CONVERTED, [failure]))
    return Checked(made[-1] if made else None, told)


def _strips(plan: editing.Plan, folder: Path) -> list[Path]:
    return [folder / _STRIP.format(side=side) for side in range(len(plan.moments))]


def _film(view: View | None, sides: tuple[Footage, ...], plan: editing.Plan, entry: Path) -> Film:
    shared = _shared_positions(sides, plan)
    return Film(
        view=view,
        sides=tuple(_side(side, number, plan) for number, side in enumerate(sides)),
        video=entry / _VIDEO,
        poster=entry / _POSTER,
        fingerprint=digest_of_file(entry / _VIDEO)[:_NAME_DIGITS],
        fps=plan.fps,
        frames=plan.frames,
        impact_frame=plan.strike_frame,
        width=plan.cell_width * len(sides),
        height=plan.height,
        stills=tuple(_strips(plan, entry)),
        positions=shared if plan.moments else (),
        made_of=tuple(json.loads((entry / _MADE_OF).read_bytes())),
    )


def _side(side: Footage, number: int, plan: editing.Plan) -> FilmSide:
    cut = plan.cuts[number]
    mark, patch = side.clip.directions.mark, side.clip.directions.follow
    frames = _frames(side, plan)
    return FilmSide(
        source_name=side.clip.path.name,
        block=side.clip.block,
        shot=side.clip.shot,
        strike=side.strike,
        moments=tuple(frames.items()),
        estimated=any(
            not moment.stated for moment in side.moments if moment.position is not Position.IMPACT
        ),
        tempo=tempo_of(side),
        part_only=side.whole is not None,
        mirrored=side.clip.directions.mirror,
        mark=None if mark is None else framing.on_film(mark, cut, plan, number),
        patch=None if patch is None else framing.box_on_film(patch, cut, plan, number),
        travel=side.travel,
    )


def _frames(side: Footage, plan: editing.Plan) -> dict[Position, int]:
    """The frame of each position that lies within the film; the strike has the film's own."""
    life_s = side.clip.directions.pace.life_s
    struck_s = life_s(_strike_picture_s(side))
    found = {}
    for moment in side.moments:
        frame = plan.strike_frame + round((life_s(moment.at_s) - struck_s) * plan.fps)
        if moment.position is Position.IMPACT:
            frame = plan.strike_frame
        if 0 <= frame < plan.frames:
            found[moment.position] = frame
    return found


def _shared_positions(sides: tuple[Footage, ...], plan: editing.Plan) -> tuple[Position, ...]:
    """What can be shown of every side, unless a strike is only a guess."""
    if any(side.strike.found_in is ImpactFrom.GUESS for side in sides):
        return ()
    each = [_frames(side, plan) for side in sides]
    shared = tuple(at for at in Position if all(at in frames for frames in each))
    in_order = all(
        frames[earlier] < frames[later] for frames in each for earlier, later in pairwise(shared)
    )
    return shared if in_order and len(shared) >= _FEWEST_STILLS else ()


def _complaints(plan: editing.Plan) -> list[str]:
    """What is wrong with each source by itself; "" where nothing is."""
    return [editing.complaint_about(cut) for cut in plan.cuts]


def _told(sides: tuple[Footage, ...], code: Code, reasons: list[str]) -> tuple[Problem, ...]:
    return tuple(
        Problem(code, side.clip.where, {"file": side.clip.path.name})
        for side, reason in zip(sides, reasons, strict=True)
        if reason
    )


def _key(plan: editing.Plan, sides: tuple[Footage, ...]) -> str:
    """From the contents and the whole plan but the paths and what is known of the files."""
    shapes = (plan.fps, plan.frames, plan.strike_frame, plan.cell_width, plan.height)
    cuts = [
        (c.strike_s, c.width, c.height, _told_of(c), c.crop, c.hidden, c.mirrored, c.whole)
        for c in plan.cuts
    ]
    contents = (side.content for side in sides)
    told = json.dumps(to_builtins([shapes, cuts, plan.moments]))
    return key_for(editing.RECIPE, _MADE_OF, converter.version(), *contents, told)


def _told_of(cut: editing.FilmCut) -> tuple[str, ...]:
    return tuple(f"{told:g}" for told in (cut.pace.times, cut.pace.from_s, cut.pace.to_s))


def _check_whole(plan: editing.Plan, video: Path, stills: list[Path]) -> None:
    """A film counts only if every frame of it can be read back, and its stills are there."""
    written = editing.frames_in(video)
    missing = [still for still in stills if not still.exists() or not still.stat().st_size]
    if written != plan.frames or missing:
        raise converter.ConversionError(f"{written} of {plan.frames} pictures were written")


def _plan(sides: tuple[Footage, ...], measure: Measure) -> editing.Plan:
    """Without the stills first: which can be shown depends on the film's frames."""
    fps = min(RATES[-1], max(_rate(_fps(side)) for side in sides))
    before_s, after_s = (measure.time * seconds for seconds in _window(sides))
    strike_frame = floor(before_s * fps + 1e-6)
    cells = _cells(sides, measure.size)
    frames = strike_frame + floor(after_s * fps + 1e-6) + 1
    clock = framing.Clock(fps, frames, strike_frame)
    plan = editing.Plan(
        cuts=tuple(
            framing.cut(side, _strike_picture_s(side), (width, cells[0][1]), clock)
            for side, (width, _) in zip(sides, cells, strict=True)
        ),
        fps=fps,
        frames=frames,
        strike_frame=strike_frame,
        cell_width=max(width for width, _ in cells),
        height=cells[0][1],
    )
    shared = _shared_positions(sides, plan)
    if not shared:
        return plan
    each = [_frames(side, plan) for side in sides]
    return replace(plan, moments=tuple(tuple(f[at] for at in shared) for f in each))


def _fps(side: Footage) -> float:
    """Pictures a second of life."""
    return side.recording.fps * side.clip.directions.pace.times_at(side.strike.at_s)


def _rate(fps: float) -> int:
    """The recording's own rate, else the next higher one: a picture may stay, none is left out."""
    nearest = min(RATES, key=lambda rate: abs(fps - rate))
    if abs(fps - nearest) <= _RATE_SLACK * nearest:
        return nearest
    return next((rate for rate in RATES if fps <= rate), RATES[-1])


def _strike_picture_s(side: Footage) -> float:
    return side.recording.nearest_picture_s(side.strike.at_s)


def _window(sides: tuple[Footage, ...]) -> tuple[float, float]:
    """Seconds of life before and after the strike: what all sides have, within the limits."""
    before, after = [], []
    for side in sides:
        life_s = side.clip.directions.pace.life_s
        struck_s, (first_s, last_s) = life_s(_strike_picture_s(side)), side.shown_s
        before.append(struck_s - life_s(first_s))
        after.append(life_s(last_s) - struck_s)
    return (
        min(BEFORE_STRIKE_S, max(LEAST_BEFORE_S, min(before))),
        min(AFTER_STRIKE_S, max(LEAST_AFTER_S, min(after))),
    )


def _cells(sides: tuple[Footage, ...], share: float) -> list[tuple[int, int]]:
    """The size of each side's picture: one height, own shapes, even, not enlarged for nothing."""
    sizes = [framing.size(side) for side in sides]
    shapes = [width / height for width, height in sizes]
    widest = max(shapes)
    pixels = SINGLE_PIXELS if len(sides) == 1 else PAIR_CELL_PIXELS
    longest = LONGEST_SIDE[len(sides)]
    tallest = max(height for _, height in sizes)
    height = _even(share * min(tallest, longest, longest / widest, sqrt(pixels / widest)))
    return [(_even(height * shape), height) for shape in shapes]


def _even(size: float) -> int:
    return max(2, 2 * floor(size / 2 + 0.25))
