"""What a student's pages would rest on, as plain values that a case can state the truth of."""

from collections.abc import Iterator, Mapping
from pathlib import Path
from statistics import fmean
from typing import Any

import pytest

from recapgen.evidence.sorting import sorted_shots
from recapgen.intake.folder import survey
from recapgen.intake.settings import read_coach
from recapgen.model.lesson import Lesson, Want
from recapgen.model.people import Coach
from recapgen.model.problem import Cost
from recapgen.model.shots import Block, ShotStatus, SortedShot
from tests.whole_folder import folder_of

Truth = Mapping[str, Any]


def contradicted(lessons: Path, truth: Truth) -> list[str]:
    """The facts of ``truth`` that what would be published speaks against; held back is silent."""
    return [key for key, fact in truth.items() if not _fits(fact, _published(lessons).get(key))]


def _fits(fact: object, read: object) -> bool:
    """Whatever is not read tells nothing."""
    if read is None:
        return True
    if isinstance(fact, Mapping) and isinstance(read, Mapping):
        return all(_fits(fact[key], read.get(key)) for key in fact)
    if isinstance(fact, float):
        return bool(read == pytest.approx(fact, abs=0.006))
    return str(fact) == str(read)


def _published(lessons: Path) -> dict[str, Any]:
    surveyed = survey(lessons).value
    assert surveyed is not None
    coach, faults = read_coach(surveyed.root)
    if coach is None or any(problem.cost is Cost.RUN for problem in faults):
        return {}
    told: dict[str, Any] = {}
    for paths in surveyed.students:
        read = folder_of(surveyed.root, paths, coach)
        if any(problem.cost in (Cost.STUDENT, Cost.RUN) for problem in read.problems):
            continue
        student = read.student
        told |= {"name": student.name, "hand": student.hand, "asked": student.asked}
        told |= {"withdrawn": student.agreed.withdrawn, "until": student.agreed.until}
        for lesson in read.lessons:
            told |= _of(lesson)
        for question in read.questions:
            told |= {"question": question.words.asked, "answer": question.words.answer}
    return told | {"units": _units(coach)}


def _units(coach: Coach) -> dict[str, str | None]:
    return {rule.heading: rule.unit for rule in coach.columns}


def _of(lesson: Lesson) -> dict[str, Any]:
    notes, shots = lesson.notes, sorted_shots(lesson)
    used = [each for each in shots if each.status is ShotStatus.USED]
    told: dict[str, Any] = {
        "intent": notes.intent,
        "club": notes.club,
        "clips": {clip.path.name: clip.block for clip in lesson.clips},
        "shots": len(shots) or None,
        "any": _means(used),
        "balls": notes.practice.balls_per_session if notes.practice else None,
    }
    if notes.declaration is not None:
        told |= {"number": notes.declaration.quantity, "want": _want(notes.declaration.want)}
    for block in (Block.BEFORE, Block.AFTER):
        told[block.value] = _means([each for each in used if each.block is block])
    by_block: dict[str, list[str]] = {}
    for span in notes.spans:
        by_block.setdefault(span.block, []).append(f"{span.first}-{span.last}")
    return told | {"blocks": {block: ", ".join(spans) for block, spans in by_block.items()}}


def _want(want: Want) -> str:
    if want.low is None or want.high is None:
        return want.direction.value
    return f"{want.low:g} to {want.high:g}"


def _means(shots: list[SortedShot]) -> dict[str, float]:
    return dict(_each_mean(shots))


def _each_mean(shots: list[SortedShot]) -> Iterator[tuple[str, float]]:
    for quantity in {quantity for each in shots for quantity in each.shot.readings}:
        values = [e.shot.readings[quantity] for e in shots if quantity in e.shot.readings]
        yield quantity.value, fmean(values)
