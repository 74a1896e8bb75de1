"""One film from one or two clips: the strike on the same frame, then beside now."""

import json
from math import floor, sqrt
from pathlib import Path

from recapgen.clips.footage import Footage
from recapgen.model.films import Film, FilmSide
from recapgen.model.lesson import View
from recapgen.model.problem import Checked, Code, Problem
from recapgen.tools.cache import Cache, digest_of_file, key_for
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

_RATE_SLACK = 1.06  # phones call 59.94 and 61 sixty
_VIDEO = "film.mp4"
_POSTER = "strike.webp"
_DAMAGE = "damage.json"
_NAME_DIGITS = 16


def make_film(
    view: View | None, sides: tuple[Footage, ...], cache: Cache, threads: int
) -> Checked[Film]:
    """The film of one clip, or of two in the order then, now; from the cache if it is there.

    ``threads`` says how many to decode with and never shapes the bytes. Where a clip
    cannot be converted there is no film, and a problem for that clip.
    """
    plan = _plan(sides)

    def convert(into: Path) -> None:
        complaint = editing.make(plan, into / _VIDEO, into / _POSTER, threads)
        _check_whole(plan, into / _VIDEO, into / _POSTER)
        damage = _complaints(plan, threads) if complaint else [""] * len(sides)
        (into / _DAMAGE).write_text(json.dumps(damage), encoding="utf-8")

    try:
        entry = cache.find_or_make(_key(plan, sides), convert)
    except converter.ConversionError as failure:
        reasons = _complaints(plan, threads)
        if not any(reasons):
            reasons = [str(failure)] * len(sides)
        return Checked(None, _told(sides, Code.CLIP_NOT_CONVERTED, reasons))
    damage = json.loads((entry / _DAMAGE).read_bytes())
    return Checked(_film(view, sides, plan, entry), _told(sides, Code.CLIP_DAMAGED, damage))


def _film(view: View | None, sides: tuple[Footage, ...], plan: editing.Plan, entry: Path) -> Film:
    return Film(
        view=view,
        sides=tuple(FilmSide(s.clip.path.name, s.clip.block, s.clip.shot, s.strike) for s in sides),
        video=entry / _VIDEO,
        poster=entry / _POSTER,
        fingerprint=digest_of_file(entry / _VIDEO)[:_NAME_DIGITS],
        fps=plan.fps,
        frames=plan.frames,
        impact_frame=plan.strike_frame,
        width=plan.cell_width * len(sides),
        height=plan.height,
    )


def _complaints(plan: editing.Plan, threads: int) -> list[str]:
    """What is wrong with each source by itself; "" where nothing is."""
    return [editing.complaint_about(cut, threads) for cut in plan.cuts]


def _told(sides: tuple[Footage, ...], code: Code, reasons: list[str]) -> tuple[Problem, ...]:
    return tuple(
        Problem(code, side.clip.where, {"file": side.clip.path.name, "reason": reason})
        for side, reason in zip(sides, reasons, strict=True)
        if reason
    )


def _key(plan: editing.Plan, sides: tuple[Footage, ...]) -> str:
    shapes = (plan.fps, plan.frames, plan.strike_frame, plan.cell_width, plan.height)
    cuts = [part for cut in plan.cuts for part in (cut.strike_s, cut.width, cut.height)]
    contents = (side.content for side in sides)
    return key_for(editing.RECIPE, converter.version(), *contents, *shapes, *cuts)


def _check_whole(plan: editing.Plan, video: Path, poster: Path) -> None:
    """A film counts only if every frame of it can be read back."""
    written = editing.frames_in(video)
    if written != plan.frames or not poster.exists() or not poster.stat().st_size:
        raise converter.ConversionError(f"{written} of {plan.frames} pictures were written")


def _plan(sides: tuple[Footage, ...]) -> editing.Plan:
    fps = min(RATES[-1], max(_rate(side.recording.fps) for side in sides))
    before_s, after_s = _window(sides)
    strike_frame = floor(before_s * fps + 1e-6)
    cells = _cells(sides)
    return editing.Plan(
        cuts=tuple(
            editing.Cut(side.clip.path, side.recording, _strike_picture_s(side), width, cells[0][1])
            for side, (width, _) in zip(sides, cells, strict=True)
        ),
        fps=fps,
        frames=strike_frame + floor(after_s * fps + 1e-6) + 1,
        strike_frame=strike_frame,
        cell_width=max(width for width, _ in cells),
        height=cells[0][1],
    )


def _rate(fps: float) -> int:
    return next((rate for rate in RATES if fps <= rate * _RATE_SLACK), RATES[-1])


def _strike_picture_s(side: Footage) -> float:
    return side.recording.nearest_picture_s(side.strike.at_s)


def _window(sides: tuple[Footage, ...]) -> tuple[float, float]:
    """Seconds before and after the strike: what all sides have, within the limits."""
    before = min(_strike_picture_s(side) for side in sides)
    after = min(side.recording.times_s[-1] - _strike_picture_s(side) for side in sides)
    return (
        min(BEFORE_STRIKE_S, max(LEAST_BEFORE_S, before)),
        min(AFTER_STRIKE_S, max(LEAST_AFTER_S, after)),
    )


def _cells(sides: tuple[Footage, ...]) -> list[tuple[int, int]]:
    """The size of each side's picture: one height, own shapes, even, not enlarged for nothing."""
    shapes = [side.recording.width / side.recording.height for side in sides]
    widest = max(shapes)
    pixels = SINGLE_PIXELS if len(sides) == 1 else PAIR_CELL_PIXELS
    longest = LONGEST_SIDE[len(sides)]
    tallest = max(side.recording.height for side in sides)
    height = _even(min(tallest, longest, longest / widest, sqrt(pixels / widest)))
    return [(_even(height * shape), height) for shape in shapes]


def _even(size: float) -> int:
    return max(2, 2 * floor(size / 2 + 0.25))
