"""A coach's book as data frames, for a notebook of one's own.

    from recapgen import frames
    frames.lessons("my_lessons_out/coach_book")
    shots = frames.shots("my_lessons_out/coach_book")
    frames.chart(shots[shots["lesson"] == "2027-04-11"])

Read from the data files that every build writes (``recap.schema.json``); numbers are in the
coach's units, and real names are among them.
"""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pandas as pd

from recapgen.render.charts.notebook import NamedBlock, in_a_notebook, then_above_now

if TYPE_CHECKING:
    import altair as alt

_BLOCKS = ("before", "after")


def lessons(book: Path | str) -> pd.DataFrame:
    """One row a lesson, oldest first.

    Columns: student, lesson, date (datetime64), club, intent, number, unit, n_before, n_after,
    before, after (medians), shift, low90, high90 (after minus before, exact interval),
    verdict, declared. What a lesson does not have is missing. Raises FileNotFoundError where
    ``book`` is no coach's book.
    """
    rows = [_lesson(record) for record in _records(Path(book))]
    frame = pd.DataFrame(rows, columns=list(_lesson({})))
    frame["date"] = pd.to_datetime(frame["date"])
    return frame.sort_values(["date", "student"], ignore_index=True)


def shots(book: Path | str) -> pd.DataFrame:
    """One row a shot of every declared number, in the order hit.

    Columns: student, lesson, date (datetime64), number, unit, block ("before" or "after"),
    shot, value, mishit. Raises FileNotFoundError where ``book`` is no coach's book.
    """
    rows = [row for record in _records(Path(book)) for row in _shots(record)]
    columns = ["student", "lesson", "date", "number", "unit", "block", "shot", "value", "mishit"]
    frame = pd.DataFrame(rows, columns=columns)
    frame["date"] = pd.to_datetime(frame["date"])
    return frame


def chart(shots: pd.DataFrame) -> "alt.LayerChart":
    """One lesson's rows of ``shots``, drawn by the Altair specification that its page is drawn by.

    The block before is above, the block after below, mishits are crossed, strokes are medians.
    What is given can be changed further, as any chart of Altair's. Raises ValueError where the
    rows are not those of one lesson.
    """
    if len(shots[["student", "lesson", "number"]].drop_duplicates()) != 1:
        raise ValueError("a chart is of one lesson: choose its rows first")
    before, after = (
        NamedBlock(block, rows["value"].tolist(), rows["mishit"].astype(bool).tolist())
        for block, rows in ((block, shots[shots["block"] == block]) for block in _BLOCKS)
    )
    number, unit = shots[["number", "unit"]].iloc[0]
    return in_a_notebook(then_above_now(before, after, f"{number}, {unit}"), pd.DataFrame)


def _records(book: Path) -> Iterator[dict[str, Any]]:
    data = book / "data"
    if not data.is_dir():
        raise FileNotFoundError(f"{book} holds no lessons' data: name the folder coach_book")
    for path in sorted(data.rglob("*.json")):
        yield json.loads(path.read_text(encoding="utf-8"))


def _lesson(record: dict[str, Any]) -> dict[str, Any]:
    number = record.get("number") or {}
    before, after = (number.get(block) or {} for block in _BLOCKS)
    shift = number.get("shift") or {}
    return {
        "student": record.get("student"),
        "lesson": record.get("lesson"),
        "date": record.get("date"),
        "club": record.get("club"),
        "intent": record.get("intent"),
        "number": number.get("name"),
        "unit": number.get("unit"),
        "n_before": before.get("n"),
        "n_after": after.get("n"),
        "before": before.get("median"),
        "after": after.get("median"),
        "shift": shift.get("estimate"),
        "low90": shift.get("low90"),
        "high90": shift.get("high90"),
        "verdict": record.get("verdict"),
        "declared": record.get("declared"),
    }


def _shots(record: dict[str, Any]) -> Iterator[dict[str, Any]]:
    number = record.get("number") or {}
    for block in _BLOCKS:
        hit = number.get(block) or {}
        parts = (hit.get(name) or [] for name in ("shots", "values", "mishit"))
        for shot, value, mishit in zip(*parts, strict=True):
            yield {
                "student": record["student"],
                "lesson": record["lesson"],
                "date": record["date"],
                "number": number["name"],
                "unit": number["unit"],
                "block": block,
                "shot": shot,
                "value": value,
                "mishit": mishit,
            }
