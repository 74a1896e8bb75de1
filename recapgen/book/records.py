"""A lesson as data: what stands in ``coach_book/data/<student folder>/<lesson folder>.json``.

Numbers are in the coach's units. The fields are described in ``recap.schema.json`` beside
this file. The data are the coach's own: real names may be in them.
"""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from msgspec.structs import asdict

from recapgen.model.care import CareNote, Load, NoteFacts
from recapgen.model.evidence import Retention
from recapgen.model.films import Film
from recapgen.model.lesson import DrillStep, Practice
from recapgen.model.public import page_within, public_path
from recapgen.model.recap import OtherNumber, Recap, StudentRecap
from recapgen.model.row_rules import RowRule
from recapgen.model.shots import Decision, ReadAs, ShotStatus, SortedShot
from recapgen.model.units import Units
from recapgen.recap.numbers import (
    data_text,
    guards_data,
    number_data,
    plain_figure,
    reading_scale,
    workings_data,
)

FORMAT = 1
ProblemRecord = Mapping[str, str | int | None]


def lesson_record(
    student: StudentRecap, recap: Recap, units: Units, problems: Sequence[ProblemRecord]
) -> dict[str, Any]:
    """The recap as data in the coach's ``units``, with its problems in words.

    ``problems`` are ``{code, severity, file, line, column, found, expected, fix, fixes}``.
    """
    comparison = recap.number.comparison
    within = page_within(recap.page, locked=student.student.locked)
    return {
        "format": FORMAT,
        "student": student.student.name,
        "student_folder": student.student.key,
        "lesson": recap.key,
        "date": recap.on.isoformat(),
        "page": public_path(student.address, within) if student.published else None,
        "club": recap.notes.club,
        "intent": recap.notes.intent,
        "short_name": recap.notes.short_name,
        "feels_like": recap.notes.feels_like,
        "student_says": recap.notes.student_says,
        "letting_go_of": recap.notes.letting_go_of,
        "usual_miss": recap.notes.usual_miss,
        "next": recap.notes.next_on.isoformat() if recap.notes.next_on else None,
        "archived": student.student.archived,
        "kinds": [kind.value for kind in recap.notes.kinds],
        "number": number_data(comparison, recap.notes.declaration, units),
        "verdict": comparison.verdict.value if comparison else None,
        "verdict_uncapped": comparison.verdict_uncapped.value if comparison else None,
        "declared": comparison.declared.value if comparison else None,
        "guards": guards_data(comparison, units),
        "workings": workings_data(comparison, recap.evidence.shots, units),
        "retention": _retention(recap.number.retention, units),
        "other_numbers": [_other(other, units) for other in recap.evidence.others],
        "counted": recap.evidence.counted,
        "shots": _shots(recap),
        "columns": _columns(recap),
        "clips": [clip_record(film) for film in recap.films],
        "plan": _plan(recap.notes.practice),
        "load": _load(recap.practice.load),
        "care_words": list(recap.notes.care_words),
        "notes": [_note(note) for note in recap.care],
        "problems": [dict(problem) for problem in problems],
    }


def record_text(record: Mapping[str, Any]) -> str:
    """The file's text: UTF-8 JSON in a fixed order, without NaN.

    Raises ValueError where a number is not finite: a bug further up.
    """
    return data_text(record)


def _retention(retention: Retention | None, units: Units) -> dict[str, Any] | None:
    if retention is None:
        return None
    unit, scale = reading_scale(retention.quantity, units)
    share = retention.share80
    return {
        "name": retention.quantity.value,
        "unit": unit,
        "from": retention.from_lesson.isoformat(),
        "to": retention.to_lesson.isoformat(),
        "gained": scale(retention.gained),
        "still_there": scale(retention.still_there),
        "share80": None if share is None else [plain_figure(share.low), plain_figure(share.high)],
        "kept": retention.kept.value,
    }


def _other(other: OtherNumber, units: Units) -> dict[str, Any]:
    unit, scale = reading_scale(other.quantity, units)
    return {
        "name": other.quantity.value,
        "unit": unit,
        "before_median": scale(other.before_median),
        "after_median": scale(other.after_median),
        "shift": {
            "estimate": scale(other.estimate),
            "low90": scale(other.low90),
            "high90": scale(other.high90),
        },
        "stands_out": other.dot,
    }


def _shots(recap: Recap) -> dict[str, Any]:
    tally = recap.evidence.tally
    return {
        "read": tally.read if tally else 0,
        "used": tally.used if tally else 0,
        "set_aside": tally.set_aside if tally else 0,
        "not_read": tally.not_read if tally else 0,
        "left_out": [
            {
                "shot": sorted_shot.shot.number,
                "file": sorted_shot.shot.where.file,
                "line": sorted_shot.shot.where.line,
                "reason": _reason(sorted_shot),
                "by": "coach" if sorted_shot.left_out_by_coach else "rule",
            }
            for sorted_shot in recap.evidence.shots
            if sorted_shot.status is ShotStatus.LEFT_OUT
        ],
        "second_looks": [
            {
                "shot": sorted_shot.shot.number,
                "rules": [rule.name for rule in sorted_shot.shot.doubts],
            }
            for sorted_shot in recap.evidence.shots
            if sorted_shot.shot.doubts and sorted_shot.status is not ShotStatus.LEFT_OUT
        ],
    }


def _reason(left_out: SortedShot) -> str:
    """The coach's words, or the name of the rule."""
    match left_out.reason:
        case RowRule() as rule:
            return rule.name
        case str() as typed:
            return typed
        case _:
            return ""


def _choice(one: Decision) -> str:  # noqa: C901, PLR0911  one answer a case
    match one.read_as:
        case ReadAs.UNIT:
            return one.choice
        case ReadAs.QUANTITY:
            return one.quantity or ""
        case ReadAs.SAME:
            return f"= {one.choice}"
        case ReadAs.NOUGHTS:
            return "0 = not read"
        case ReadAs.COMMA_DECIMALS:
            return "“,” = decimals"
        case ReadAs.COMMA_THOUSANDS:
            return "“,” = thousands"
        case ReadAs.POINT_THOUSANDS:
            return "“.” = thousands"
        case ReadAs.BLOCKS:
            return "blocks of the lesson"
        case ReadAs.COUNTED_DAYS:
            return "a spreadsheet's count of days"
        case ReadAs.SUMMARY:
            return "not a shot"


def _columns(recap: Recap) -> dict[str, Any]:
    return {
        "decided": [
            {"heading": one.heading, "choice": _choice(one)} for one in recap.evidence.decided
        ],
        "unknown": list(recap.evidence.unknown_columns),
        "calculated": [quantity.value for quantity in recap.evidence.calculated],
        "number_worked_out": recap.number.worked_from.value if recap.number.worked_from else None,
    }


def clip_record(film: Film) -> dict[str, Any]:
    """A film and the clips it was made of."""
    return {
        "view": film.view.value if film.view else None,
        "sides": [
            {
                "file": side.source_name,
                "block": side.block.value if side.block else None,
                "shot": side.shot,
                "impact_s": plain_figure(side.strike.at_s),
                "impact_from": side.strike.found_in.value,
            }
            for side in film.sides
        ],
        "fps": film.fps,
        "frames": film.frames,
        "impact_frame": film.impact_frame,
        "width": film.width,
        "height": film.height,
        "fingerprint": film.fingerprint,
    }


def _plan(practice: Practice | None) -> dict[str, Any] | None:
    if practice is None:
        return None
    return {
        "weeks": practice.weeks,
        "steps": [_step(step) for step in practice.steps],
        "test": None if practice.test is None else _step(practice.test),
    }


def _step(step: DrillStep) -> dict[str, Any]:
    return {
        "do": step.what,
        "balls": step.balls,
        "times": step.times,
        "sets": step.sets,
        "rest_s": step.rest_s,
        "club": step.club,
        "speed_percent": step.speed_percent,
        "right_when": step.right_when,
        "stop_when": step.stop_when,
        "way": step.way.value if step.way else None,
        "weeks": list(step.weeks) if step.weeks else None,
        "drill": step.drill,
        "words": step.words,
    }


def _load(load: Load | None) -> dict[str, Any] | None:
    if load is None:
        return None
    return {
        "balls_per_session": load.balls_per_session,
        "sessions_per_week": load.sessions_per_week,
        "balls_per_week": load.balls_per_week,
        "minutes_per_session": load.minutes_per_session,
        "rounds_per_week": load.rounds_per_week,
        "biggest_session_30d": load.biggest_session_30d,
        "usual_week": load.usual_week,
        "days_since_last": load.days_since_last,
    }


def _facts(facts: NoteFacts) -> dict[str, str | int]:
    """Those a note has, by name; days as written in data, parts of the body in one line."""
    told: dict[str, str | int] = {}
    for name, fact in sorted(asdict(facts).items()):
        match fact:
            case None | False | ():
                continue
            case date():
                told[name] = fact.isoformat()
            case tuple():
                told[name] = ", ".join(fact)
            case _:
                told[name] = int(fact) if isinstance(fact, bool) else fact
    return told


def _note(note: CareNote) -> dict[str, Any]:
    return {
        "code": note.code.value,
        "level": note.level.value,
        "shown": note.shown,
        "body": note.body,
        "trigger": note.trigger,
        "facts": _facts(note.facts),
    }
