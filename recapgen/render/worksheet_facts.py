"""What a worksheet's script is told: the notes to the letter, every shot and every clip."""

import json
from collections.abc import Iterator, Mapping
from itertools import islice
from pathlib import Path

from recapgen.model.filming import Box, Directions, MarkLine, MarkRing
from recapgen.model.lesson import Declaration, Direction, Notes, Practice
from recapgen.model.quantity import Quantity
from recapgen.model.rounding import rounded
from recapgen.model.units import Units, unit_of
from recapgen.model.worksheet import SheetClip, SheetShot, Worksheet, WrittenValue
from recapgen.words.amounts import amount, quantity_name
from recapgen.words.catalogue import Words
from recapgen.words.club_names import club_name

CLIPS = "clips"
_MOST_READINGS = 5
_PLAN = (
    ("sessions a week", "sessions_per_week"),
    ("balls", "balls_per_session"),
    ("minutes", "minutes_per_session"),
    ("rounds a week", "rounds_per_week"),
    ("weeks", "weeks"),
)
PLAN_KEYS = tuple(key for key, _ in _PLAN)


def sheet_facts(sheet: Worksheet, words: Words) -> str:
    """All of it as one JSON text, in ASCII, so that no line end in it is ever changed."""
    notes, lesson = sheet.notes, sheet.lesson
    facts = {
        "lesson": f"{sheet.student.key}/{sheet.key}",
        "text": notes.text,
        "digest": notes.digest,
        "encoding": notes.encoding,
        "keys": None if notes.keys is None else _written(notes.keys),
        "end": notes.end,
        "values": {} if lesson is None else dict(_values(lesson.notes, sheet.units)),
        "shots": [_shot(each, sheet, words) for each in sheet.shots],
        "clips": [_clip(each) for each in sheet.clips],
        "steps": [] if lesson is None else _steps(lesson.notes.practice),
    }
    return json.dumps(facts, separators=(",", ":"))


def _written(value: WrittenValue) -> Mapping[str, object]:
    told: dict[str, object] = {"kind": value.kind.value, "first": value.first, "last": value.last}
    if not value.inline:
        told |= {"inline": False, "indent": value.indent}
    if value.parts:
        told["parts"] = [
            {"name": part.name, "first": part.first, "value": _written(part.value)}
            for part in value.parts
        ]
    return told


def _values(notes: Notes, units: Units) -> Iterator[tuple[str, object]]:
    yield "intent", notes.intent or ""
    yield "feels like", notes.feels_like or ""
    yield "student says", notes.student_says or ""
    yield "letting go of", notes.letting_go_of or ""
    yield from _declared(notes.declaration, units)
    for key, name in _PLAN:
        told = None if notes.practice is None else getattr(notes.practice, name)
        yield f"plan {key}", "" if told is None else str(told)


def _declared(told: Declaration | None, units: Units) -> Iterator[tuple[str, object]]:
    """The number and its goal in the units in which the page takes them."""
    if told is None:
        yield from {"number": "", "way": "", "low": "", "high": "", "matters": ""}.items()
        yield "in time", False
        return
    _, size = unit_of(told.quantity, units)
    want = told.want
    yield "number", told.quantity.value
    yield "way", _way(told.quantity, want.direction)
    yield "low", _figure(want.low, size)
    yield "high", _figure(want.high, size)
    yield "matters", _figure(told.smallest_change, size)
    yield "in time", told.stated


def _way(quantity: Quantity, direction: Direction) -> str:
    if quantity.is_outcome:
        return ""
    if quantity.sideways:
        aside = {Direction.HIGHER: "right", Direction.LOWER: "left"}
        return aside.get(direction, direction.value)
    return direction.value


def _figure(value: float | None, size: float) -> str:
    return "" if value is None else f"{float(rounded(value / size, 3)):g}"


def _shot(each: SheetShot, sheet: Worksheet, words: Words) -> Mapping[str, object]:
    shot = each.shot
    readings = list(shot.readings)
    number = sheet.lesson.notes.declaration if sheet.lesson else None
    if number is not None and number.quantity in readings:
        readings = [number.quantity, *(q for q in readings if q is not number.quantity)]
    told = [
        f"{quantity_name(q, words)} "
        f"{amount(q, shot.readings[q], sheet.units, sheet.student.hand, words)}"
        for q in islice(readings, _MOST_READINGS)
    ]
    clock = [] if shot.time is None else [f"{shot.time:%H:%M:%S}"]
    club = [club_name(shot.club, words)] if shot.club else []
    return {
        "n": shot.number,
        "block": each.block.value if each.block else "",
        "mishit": each.mishit,
        "filed": each.filed,
        "out": each.left_out,
        "tool": each.tool,
        "told": words.listed([*clock, *club, *told]),
    }


def _clip(each: SheetClip) -> Mapping[str, object]:
    clip, told = each.clip, each.clip.directions
    facts: dict[str, object] = {
        "file": clip.path.name,
        "view": clip.view.value if clip.view else "",
        "block": clip.block.value if clip.block else "",
        "shot": "" if clip.shot is None else str(clip.shot),
        "impact": clip.impact_s,
        "show": clip.chosen,
        "mirror": told.mirror,
        "guess": each.guess_s,
        "likely": each.likely_view.value if each.likely_view else "",
        **_places(told),
    }
    if each.copy is not None:
        copy = each.copy
        facts |= {"fps": copy.fps, "times": [float(rounded(at_s, 4)) for at_s in copy.times_s]}
    return facts


def _places(told: Directions) -> Mapping[str, object]:
    mark = told.mark
    line = mark if isinstance(mark, MarkLine) else None
    ring = mark if isinstance(mark, MarkRing) else None
    return {
        "ball": None if told.ball is None else [told.ball.x, told.ball.y],
        "line": None if line is None else [line.start.x, line.start.y, line.end.x, line.end.y],
        "ring": None if ring is None else [ring.middle.x, ring.middle.y, ring.radius],
        "follow": _box(told.follow),
        "face": _box(told.face),
        "face way": "shown" if told.face_shown else "stays" if told.face_stays else "",
        "blur": [_box(box) for box in told.blur],
        "crop": _box(told.crop),
    }


def _box(box: Box | None) -> list[float] | None:
    return None if box is None else [box.x, box.y, box.width, box.height]


def _steps(practice: Practice | None) -> list[Mapping[str, str]]:
    if practice is None:
        return []
    return [{"drill": step.drill or "", "what": step.what} for step in practice.steps]


def still_name(path: Path) -> str:
    """How the still of a clip without a copy is called beside the worksheets."""
    return f"{path.parent.name}.webp"
