"""Invented layouts of a shots file: one and the same lesson, written in a hundred ways."""

import random
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block

START = datetime(2027, 4, 23, 10, 5, 7)  # noqa: DTZ001 - a wall clock, as in the files
SHOTS = 12
Q = Quantity
MPS = {"mph": 0.44704, "km/h": 1 / 3.6, "m/s": 1.0, "ft/s": 0.3048}
METRES = {"m": 1.0, "yd": 0.9144, "ft": 0.3048, "cm": 0.01, "in": 0.0254}
BLOCKS = {Block.BEFORE: ("before", "Then", "PRE"), Block.AFTER: ("after", "Now", "post")}


@dataclass(frozen=True)
class Truth:
    """One shot as it was, inside units."""

    number: int
    time: datetime
    club: str
    block: Block
    readings: Mapping[Q, float]


def lesson(seed: int, start: datetime = START) -> list[Truth]:
    """Twelve consistent strikes with a seven iron and a pitching wedge."""
    draw = random.Random(seed)  # noqa: S311 - invented shots, the same each time
    shots = []
    for i in range(SHOTS):
        club = "7 iron" if i < SHOTS // 2 else "pitching wedge"
        smash = 1.37 if club == "7 iron" else 1.27
        head = draw.gauss(36.0, 0.8)
        path, face = draw.gauss(1.5, 2.5), draw.gauss(-0.5, 2.0)
        began, axis, carry = 0.75 * face + 0.25 * path, 2.0 * (face - path), draw.gauss(132, 5)
        attack, loft = draw.gauss(-3.5, 1.0), draw.gauss(24, 1.0)
        readings = {
            Q.CLUB_SPEED: head,
            Q.BALL_SPEED: head * smash,
            Q.SMASH_FACTOR: smash,
            Q.ATTACK_ANGLE: attack,
            Q.DYNAMIC_LOFT: loft,
            Q.LAUNCH_ANGLE: attack + 0.75 * (loft - attack),
            Q.CLUB_PATH: path,
            Q.FACE_ANGLE: face,
            Q.LAUNCH_DIRECTION: began,
            Q.SPIN_AXIS: axis,
            Q.SPIN_RATE: draw.gauss(6300, 250),
            Q.APEX: draw.gauss(27, 1.5),
            Q.CARRY: carry,
            Q.CARRY_SIDE: carry * (0.01745 * began + 0.0075 * axis),
        }
        block = Block.BEFORE if i % 4 < 2 else Block.AFTER
        shots.append(Truth(i + 1, start + timedelta(seconds=40 * i), club, block, readings))
    return shots


SPEEDS = (Q.CLUB_SPEED, Q.BALL_SPEED)
LENGTHS = (Q.APEX, Q.CARRY, Q.CARRY_SIDE)
SIDEWAYS = (Q.CLUB_PATH, Q.FACE_ANGLE, Q.LAUNCH_DIRECTION, Q.SPIN_AXIS, Q.CARRY_SIDE)
NAMES: Mapping[str, Mapping[Q, str]] = {
    "plain": {q: q.value.title() for q in Q},
    "lower": {q: q.value for q in Q},
    "snake": {q: q.value.replace(" ", "_") for q in Q},
    "camel": {q: q.value.title().replace(" ", "") for q in Q},
    "short": {
        Q.CLUB_SPEED: "Club Spd", Q.BALL_SPEED: "Ball Spd", Q.SMASH_FACTOR: "Smash",
        Q.ATTACK_ANGLE: "AoA", Q.DYNAMIC_LOFT: "Dyn. Loft", Q.LAUNCH_ANGLE: "Launch Ang.",
        Q.CLUB_PATH: "Path", Q.FACE_ANGLE: "Face", Q.LAUNCH_DIRECTION: "Launch Dir.",
        Q.SPIN_AXIS: "Axis", Q.SPIN_RATE: "Spin", Q.APEX: "Max Height", Q.CARRY: "Carry Dist.",
        Q.CARRY_SIDE: "Carry Offline",
    },
    "long": {
        Q.CLUB_SPEED: "Clubhead speed", Q.BALL_SPEED: "Ball velocity",
        Q.SMASH_FACTOR: "Smash factor", Q.ATTACK_ANGLE: "Angle of attack",
        Q.DYNAMIC_LOFT: "Loft at impact", Q.LAUNCH_ANGLE: "Vertical launch angle",
        Q.CLUB_PATH: "Swing path", Q.FACE_ANGLE: "Face to target",
        Q.LAUNCH_DIRECTION: "Horizontal launch angle", Q.SPIN_AXIS: "Spin axis tilt",
        Q.SPIN_RATE: "Total spin", Q.APEX: "Peak height", Q.CARRY: "Carry distance",
        Q.CARRY_SIDE: "Side carry",
    },
    "loose": {**{q: q.value for q in Q}, Q.CARRY: "Distance", Q.CARRY_SIDE: "Offline"},
}  # fmt: skip


@dataclass(frozen=True)
class Layout:
    """One way of writing a lesson down; every field is a quirk."""

    names: str = "plain"
    delimiter: str = ","
    decimal: str = "."
    encoding: str = "utf-8"
    line_end: str = "\n"
    speed: str = "mph"
    length: str = "yd"
    apex: str = "ft"
    units: str = "heading"  # heading, row, cell, bare, title
    sides: str = "signs"  # signs, suffix, prefix, words, column
    plus: str = "right"
    titles: int = 0
    heading_rows: int = 1
    summary: str = "none"  # none, foot, between
    sections: str = "none"  # none, titles, repeated
    gaps: str = ""
    time: str = "iso"
    thousands: str = ""
    quoted: bool = False
    shuffled: bool = False
    phase: int = 0
    empty_rows: bool = False


CHOICES: Mapping[str, Sequence[object]] = {
    "names": ("plain", "lower", "snake", "camel", "short", "long"),
    "delimiter": (",", ";", "\t", "|"),
    "encoding": ("utf-8", "utf-8-sig", "utf-16", "utf-16-le", "cp1252"),
    "line_end": ("\n", "\r\n", "\r"),
    "speed": ("mph", "km/h", "m/s"),
    "length": ("yd", "m"),
    "apex": ("ft", "m", "yd"),
    "units": ("heading", "row", "cell", "heading", "row"),
    "sides": ("signs", "suffix", "prefix", "words", "column"),
    "plus": ("right", "right", "left"),
    "titles": (0, 2, 3),
    "heading_rows": (1, 1, 2),
    "summary": ("none", "foot", "between"),
    "sections": ("none", "titles", "repeated"),
    "gaps": ("", "-", "n/a", "--", "NaN"),
    "time": ("iso", "day first", "month first", "words", "clock and date", "noon"),
    "thousands": ("", "", "mark"),
    "quoted": (False, True),
    "shuffled": (False, True),
    "phase": (0, 1, 2),
    "empty_rows": (False, True),
}


def layouts(count: int) -> list[Layout]:
    """``count`` layouts that understand themselves, by drawing each quirk on its own."""
    found = []
    for seed in range(count):
        draw = random.Random(seed)  # noqa: S311 - invented shots, the same each time
        chosen = {name: draw.choice(options) for name, options in CHOICES.items()}
        comma = chosen["delimiter"] != "," and draw.random() < 0.5
        layout = Layout(**{**chosen, "decimal": "," if comma else "."})  # type: ignore[arg-type]
        found.append(layout)
    return found


class Writer:
    """Writes a lesson in one layout."""

    def __init__(self, layout: Layout, truths: Sequence[Truth], seed: int) -> None:
        self.layout = layout
        self.truths = truths
        self.draw = random.Random(seed)  # noqa: S311 - invented shots, the same each time
        self.quantities = list(truths[0].readings)
        if layout.shuffled:
            self.draw.shuffle(self.quantities)
        self.gap_row = SHOTS - 2 if layout.gaps else None
        self.gap = self.quantities[0]

    def bytes(self) -> bytes:
        text = self.layout.line_end.join(self._lines()) + self.layout.line_end
        return text.encode(self.layout.encoding)

    def _lines(self) -> list[str]:
        layout = self.layout
        rows: list[list[str]] = [["Club session, not for sale"], [""], ["Bay", "4"]][
            : layout.titles
        ]
        if layout.units == "title":
            rows.append(["Units", layout.speed, layout.length])
        heads = self._headings()
        rows.extend(heads)
        if layout.units == "row":
            rows.append([*self._before(""), *(self._unit(q) for q in self._columns())])
        last = None
        for at, truth in enumerate(self.truths):
            if layout.sections == "titles" and truth.club != last:
                rows.append([truth.club])
            elif layout.sections == "repeated" and truth.club != last and last is not None:
                rows.extend([[""], *heads])
            if layout.summary == "between" and last not in {None, truth.club}:
                rows.append(self._summary("Average"))
            last = truth.club
            rows.append(self._shot(at, truth))
            if layout.empty_rows and at % 5 == 4:
                rows.append([""] * len(heads[0]))
        if layout.summary != "none":
            rows.extend([self._summary("Average"), self._summary("Std. Dev.")])
        return [self._join(row) for row in rows]

    def _columns(self) -> list[Q | None]:
        """Quantities in their order; None is a column of sides."""
        found: list[Q | None] = []
        for q in self.quantities:
            found.append(q)
            if self.layout.sides == "column" and q in SIDEWAYS:
                found.append(None)
        return found

    def _headings(self) -> list[list[str]]:
        layout = self.layout
        split = layout.time == "clock and date"
        texts = ["Shot", "Club", "Block", *(["Date", "Clock"] if split else ["Time"])]
        names = NAMES[layout.names]
        texts += ["L/R" if q is None else self._heading(q, names[q]) for q in self._columns()]
        if layout.heading_rows == 1 or layout.names in {"snake", "camel", "short"}:
            return [texts]
        pairs = [text.split(" ", 1) if " " in text else [text, ""] for text in texts]
        return [[first for first, _ in pairs], [second for _, second in pairs]]

    def _heading(self, q: Q, name: str) -> str:
        unit = self._unit(q)
        if self.layout.units == "heading" and unit:
            snake = self.layout.names == "snake"
            name = f"{name}_{unit.replace('/', '_')}" if snake else f"{name} ({unit})"
        said = q in SIDEWAYS and self.layout.plus == "left"
        return f"{name} (+ = left)" if said else name

    def _unit(self, q: Q | None) -> str:
        if q is None or q is Q.SMASH_FACTOR:
            return ""
        if q in SPEEDS:
            return self.layout.speed
        if q is Q.APEX:
            return self.layout.apex
        if q in LENGTHS:
            return self.layout.length
        return "rpm" if q is Q.SPIN_RATE else "deg"

    def _shot(self, at: int, truth: Truth) -> list[str]:
        before = self.quantities[0]
        layout = self.layout
        block = BLOCKS[truth.block][layout.phase]
        clock = _TIMES[layout.time](truth.time)
        club = "" if layout.sections == "titles" else truth.club
        cells = [str(truth.number), club, block, clock]
        if layout.time == "clock and date":
            cells.append(truth.time.strftime("%H:%M:%S"))
        for q in self._columns():
            if q is None:
                cells.append(self._letter(truth.readings[before]))
                continue
            before = q
            gap = at == self.gap_row and q is self.gap
            cells.append(layout.gaps if gap else self._number(q, truth.readings[q]))
        return cells

    def _letter(self, value: float) -> str:
        return "R" if value > 0 else "L"

    def _number(self, q: Q, value: float) -> str:
        layout = self.layout
        unit = self._unit(q)
        size = {**MPS, **METRES}.get(unit, 1.0)
        turned = q in SIDEWAYS and layout.plus == "left" and layout.sides == "signs"
        shown = value / size * (-1 if turned else 1)
        digits = {Q.SPIN_RATE: 0, Q.SMASH_FACTOR: 3}.get(q, 2)
        text = f"{shown:,.{digits}f}" if layout.thousands else f"{shown:.{digits}f}"
        if layout.decimal == ",":
            text = text.translate(str.maketrans(",.", ".,"))
        suffix = f" {unit}" if layout.units == "cell" and unit else ""
        if q not in SIDEWAYS or layout.sides == "signs":
            return text + suffix
        bare, right = text.lstrip("-"), not text.startswith("-")
        side = "R" if right else "L"
        word = "right" if right else "left"
        return {
            "suffix": f"{bare}{suffix} {side}",
            "prefix": f"{side} {bare}{suffix}",
            "words": f"{bare}{suffix} {word}",
            "column": bare + suffix,
        }[layout.sides]

    def _summary(self, label: str) -> list[str]:
        first = self.truths[0].readings
        numbers = ["" if q is None else self._number(q, abs(first[q])) for q in self._columns()]
        return [*self._before(label), *numbers]

    def _before(self, label: str) -> list[str]:
        """The cells before the numbers, of a row that is no shot."""
        return [label, *[""] * (4 if self.layout.time == "clock and date" else 3)]

    def _join(self, cells: Sequence[str]) -> str:
        quoted = [self._quote(cell) for cell in cells]
        return self.layout.delimiter.join(quoted)

    def _quote(self, cell: str) -> str:
        must = self.layout.delimiter in cell or '"' in cell
        if must or (self.layout.quoted and cell):
            return '"' + cell.replace('"', '""') + '"'
        return cell


_TIMES: Mapping[str, Callable[[datetime], str]] = {
    "iso": lambda t: t.isoformat(),
    "day first": lambda t: t.strftime("%d.%m.%Y %H:%M:%S"),
    "month first": lambda t: t.strftime("%m/%d/%y %H:%M:%S"),
    "words": lambda t: t.strftime("%d %b %Y, %H:%M:%S"),
    "clock and date": lambda t: t.strftime("%Y/%m/%d"),
    "unsure": lambda t: t.strftime("%m/%d/%Y %H:%M:%S"),
    "noon": lambda t: t.strftime("%b %d, %Y %I:%M:%S %p"),
}
