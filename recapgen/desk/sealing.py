"""``recapgen seal``: the number, its goal and the plan, fixed before the after-shots are hit."""

import json
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from recapgen.intake.by_the_clock import place_by_time
from recapgen.intake.folder import LessonPaths, named_file, survey
from recapgen.intake.lesson_folder import setting_of
from recapgen.intake.notes import read_notes
from recapgen.intake.pasting import with_fixes
from recapgen.intake.seal_file import read_seal
from recapgen.intake.settings import read_coach
from recapgen.intake.shot_spans import block_of
from recapgen.intake.student import read_student
from recapgen.intake.table.all_files import read_shots
from recapgen.intake.text_file import file_of
from recapgen.intake.which_folder import lesson_to_type
from recapgen.model.aim import same_aim
from recapgen.model.lesson import (
    ClipFile,
    Declaration,
    Direction,
    GuardKind,
    Notes,
    Planned,
    Seal,
    ShotSpan,
    Want,
)
from recapgen.model.people import Coach, Student
from recapgen.model.problem import Checked, Code, Cost, Problem
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block, ShotTable
from recapgen.model.source import SourceRef
from recapgen.model.units import Units, unit_of
from recapgen.tools.atomic import write_text

SEAL_NAME = "seal.json"
_STUDENT_ABOVE = 2  # a lesson's folder lies in a student's, which lies in the lessons folder
_STOPS = frozenset({Cost.STUDENT, Cost.RUN})


class Sealed(Struct, frozen=True):
    """What now stands in the seal; ``new`` is False where the very same was sealed before."""

    seal: Seal
    lesson: str
    units: Units
    new: bool


class _Desk(Struct, frozen=True):
    """The lesson that lies on the desk, as far as a seal needs it."""

    root: Path
    paths: LessonPaths
    coach: Coach
    student: Student
    notes: Notes
    clips: tuple[ClipFile, ...]
    readings: ShotTable | None


def seal_lesson(lesson: Path, planned: Planned, at: datetime, *, again: bool) -> Checked[Sealed]:
    """Write ``seal.json`` into the folder ``lesson`` from what its notes declare.

    ``planned`` goes before the notes' own ``planned:``; ``at`` is the time, with its offset.
    Refused where it would prove nothing: on a later day, or with after-shots already there.
    A seal that says something else is replaced only ``again``; it is kept inside the new one.
    """
    laid = _lay_out(lesson)
    if laid.value is None:
        return Checked(None, laid.problems)
    desk, problems = laid.value, list(laid.problems)
    declaration = desk.notes.declaration
    if declaration is None:
        problems.append(Problem(Code.SEAL_NO_NUMBER, desk.notes.where))
        return Checked(None, tuple(problems))
    problems += _too_late(desk, at)
    old: Seal | None = None
    if desk.paths.seal is not None:
        old, found = read_seal(desk.root, desk.paths.seal, desk.coach)
        problems += found
    new = _seal(desk, declaration, planned, at)
    kept = old if old is not None and _the_same(old, new) else None
    if old is not None and kept is None and not again:
        facts = {"at": old.sealed_at.isoformat(" ", "minutes"), "number": str(old.quantity)}
        problems.append(Problem(Code.SEALED_ALREADY, old.where, facts))
    if any(problem.cost in _STOPS for problem in problems):
        return Checked(None, tuple(problems))
    name = file_of(desk.root, desk.paths.folder)
    if kept is not None:
        return Checked(Sealed(kept, name, desk.coach.units, new=False), tuple(problems))
    if old is not None:
        new = replace(new, earlier_at=(*old.earlier_at, old.sealed_at))
    path = desk.paths.seal or desk.paths.folder / SEAL_NAME
    earlier = _kept_inside(path) if old is not None else []
    write_text(path, seal_text(new, desk.coach.units, earlier))
    return Checked(Sealed(new, name, desk.coach.units, new=True), tuple(problems))


def seal_text(seal: Seal, units: Units, earlier: list[dict[str, Any]]) -> str:
    """The file: every amount with its unit, so that it means the same whatever coach.yml says."""
    guard = seal.guard
    spread = guard is not None and guard.kind is GuardKind.SPREAD
    told: dict[str, Any] = {
        "number": seal.quantity.value,
        "want": _want(seal.want, seal.quantity, units),
        "matters": _amount(seal.smallest_change, seal.quantity, units),
        "must not lose": None
        if guard is None
        else {
            f"{guard.quantity.value}{' spread' if spread else ''}": _amount(
                guard.margin, guard.quantity, units
            )
        },
        "planned": {
            block: balls
            for block, balls in (("before", seal.planned_before), ("after", seal.planned_after))
            if balls is not None
        }
        or None,
        "sealed at": seal.sealed_at.isoformat(),
    }
    if earlier:
        told["earlier"] = earlier
    return json.dumps(told, ensure_ascii=False, indent=2) + "\n"


def _lay_out(lesson: Path) -> Checked[_Desk]:
    """Everything around the lesson that its seal depends on."""
    try:
        folder = lesson.resolve(strict=True)
    except (OSError, RuntimeError, ValueError):
        folder = lesson.absolute()
    if folder.name.casefold() == "notes.md":
        folder = folder.parent
    root = _lessons_folder(folder)
    surveyed = survey(root)
    everyone = surveyed.value.students if surveyed.value is not None else ()
    found = ((s, paths) for s in everyone for paths in s.lessons if paths.folder == folder)
    student_paths, paths = next(found, (None, None))
    if student_paths is None or paths is None:
        facts = {"path": file_of(folder.parent, folder)}
        facts["line"] = f"recapgen seal {lesson_to_type(lesson)}"
        return Checked(None, (Problem(Code.SEAL_NO_LESSON, SourceRef(""), facts),))
    coach, problems = read_coach(root)
    if coach is None:
        return Checked(None, with_fixes(root, problems))
    student, _ = read_student(root, student_paths, coach)  # its faults are the build's business
    written, found_in_notes = read_notes(root, paths, coach, student)
    problems = with_fixes(root, (*problems, *found_in_notes))
    if written is None:
        return Checked(None, problems)
    owner = student or Student(student_paths.key, student_paths.key)
    desk = _Desk(root, paths, coach, owner, written.notes, written.clips, written.readings)
    return Checked(desk, problems)


def _lessons_folder(folder: Path) -> Path:
    """The nearest folder above with a coach.yml; without one, the one that holds the student's."""
    for above in folder.parents:
        if named_file(above, above, "coach")[0] is not None:
            return above
    return folder.parents[min(_STUDENT_ABOVE, len(folder.parents)) - 1]


def _too_late(desk: _Desk, at: datetime) -> Iterator[Problem]:
    """Whatever shows that the after-shots may have been seen already."""
    if at.date() > desk.paths.on:
        facts = {"on": desk.paths.on.isoformat(), "today": at.date().isoformat()}
        yield Problem(Code.SEAL_DAY_PAST, desk.notes.where, facts)
    spans = desk.notes.spans
    if desk.notes.declaration is not None and desk.notes.declaration.in_clips:
        after = [clip for clip in desk.clips if _block_shown(clip, spans) is Block.AFTER]
        if after:
            yield Problem(Code.SEAL_TOO_LATE, after[0].where, {"n": str(len(after))})
            return
    by_hand = [s for s in desk.readings.shots if s.block is Block.AFTER] if desk.readings else []
    if by_hand:
        yield Problem(Code.SEAL_TOO_LATE, by_hand[0].where, {"n": str(len(by_hand))})
        return
    if not desk.paths.tables:
        return
    setting = setting_of(desk.notes, desk.coach, desk.student)
    shots, _ = read_shots(desk.root, desk.paths.tables, setting)
    if shots is not None:
        placed, _ = place_by_time(desk.notes, shots)
        spans = placed.spans if placed is not None else spans
    blocks = [block_of(spans, s.number) or s.block for s in shots.shots] if shots else []
    where = SourceRef(file_of(desk.root, desk.paths.tables[0]))
    if Block.AFTER in blocks:
        yield Problem(Code.SEAL_TOO_LATE, where, {"n": str(blocks.count(Block.AFTER))})
    elif None in blocks:
        yield Problem(Code.SEAL_SHOTS_UNPLACED, where, {"n": str(blocks.count(None))})


def _block_shown(clip: ClipFile, spans: tuple[ShotSpan, ...]) -> Block | None:
    """The block that a clip is said to show, or that of its shot."""
    return clip.block or (block_of(spans, clip.shot) if clip.shot is not None else None)


def _seal(desk: _Desk, declaration: Declaration, planned: Planned, at: datetime) -> Seal:
    noted = desk.notes.planned
    return Seal(
        quantity=declaration.quantity,
        want=declaration.want,
        smallest_change=declaration.smallest_change,
        guard=declaration.guard,
        planned_before=planned.before or noted.before,
        planned_after=planned.after or noted.after,
        sealed_at=at,
        where=SourceRef(file_of(desk.root, desk.paths.folder / SEAL_NAME), 1, 1),
    )


def _the_same(old: Seal, new: Seal) -> bool:
    plans = ((old.planned_before, old.planned_after), (new.planned_before, new.planned_after))
    return same_aim(old, new) and plans[0] == plans[1]


def _kept_inside(path: Path) -> list[dict[str, Any]]:
    """The seal that is replaced, and those it had replaced itself, oldest first."""
    old: dict[str, Any] = json.loads(path.read_text(encoding="utf-8-sig"))
    earlier: list[dict[str, Any]] = old.pop("earlier", None) or []
    return [*earlier, old]


def _want(want: Want, quantity: Quantity, units: Units) -> str:
    if want.direction is not Direction.WINDOW or want.low is None or want.high is None:
        return want.direction.value
    unit, size = unit_of(quantity, units)
    return f"{_figure(want.low / size)} to {_figure(want.high / size)} {unit}".strip()


def _amount(value: float | None, quantity: Quantity, units: Units) -> str | None:
    if value is None:
        return None
    unit, size = unit_of(quantity, units)
    return f"{_figure(value / size)} {unit}".strip()


def _figure(value: float) -> str:
    """Never with just three decimals: "1.625" might be read as thousands."""
    text = f"{value:.9g}"
    return f"{text}0" if len(text.partition(".")[2]) == 3 else text  # noqa: PLR2004 - see above
