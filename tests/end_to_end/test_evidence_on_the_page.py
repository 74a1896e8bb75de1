"""One made lesson with all that happens on a range, looked up on its page and in its data."""

import json
from collections.abc import Callable
from html import unescape
from pathlib import Path
from re import sub
from typing import Any

import pytest

from tests.end_to_end.small_lessons import Ran, sites

NOTES = """---
intent: Slide along the wall
club: driver
number: carry
chosen: before the after-shots
want: higher
matters: 4 m
swings: {drill: half}
shots: {warm-up: 1-2, before: 3-12, drill: 13-14, after: 15-28}
left out: {26: a bird flew up, 27: the phone rang, 28: a bird again}
mishits: {5: heel, 17: thin}
---
Keep the wall behind you.
"""
BEFORE = (150, 152, 138, 151, 149, 153, 150, 152, 151, 149)
AFTER = (156, 158, 141, 157, 155, 159, "", 157, 158, 999, 156, 120, 118, 119)


def _shots() -> str:
    rows = [*(140, 141), *BEFORE, *(90, 92), *AFTER]
    lines = [f"{n},driver,{carry},{n % 7 - 3}" for n, carry in enumerate(rows, 1)]
    return "\n".join(["Shot,Club,Carry [m],Carry Side [m]", *lines]) + "\n"


@pytest.fixture
def told(lessons: Path, build: Callable[..., Ran], out: Path) -> tuple[str, dict[str, Any]]:
    """The page's text without tags, and the record."""
    lesson = lessons / "brida-folder" / "2027-04-11"
    (lesson / "notes.md").write_text(NOTES, "utf-8")
    (lesson / "shots.csv").write_text(_shots(), "utf-8")
    ran = build()
    assert ran.code == 0, ran.err
    (page,) = sites(out)["Brida"].glob("2027-04-11-*.html")
    text = unescape(sub(r"<[^>]+>", " ", page.read_text("utf-8"))).replace("\u202f", " ")
    data = out / "coach_book/data/brida-folder/2027-04-11.json"
    return sub(r"\s+", " ", text), json.loads(data.read_text("utf-8"))


def test_every_row_is_told_with_what_became_of_it(told: tuple[str, dict[str, Any]]) -> None:
    page, record = told
    shots = record["shots"]
    counted = (shots["used"], shots["set_aside"], shots["not_read"], len(shots["left_out"]))
    assert counted == (19, 4, 1, 4)
    assert sum(counted) == shots["read"] == 28
    assert (
        "Shots in the file: 28 (19 used, 4 set aside, 1 without a reading, 4 left out)."
    ) in page
    for shot, said in (
        (1, "set aside: warm-up"),
        (13, "set aside: drill"),
        (21, "no reading"),
        (24, "left out: that carry isn't possible"),
        (26, "left out: a bird flew up"),
        (27, "left out: the phone rang"),
        (5, "before, mishit (heel)"),
        (17, "after, mishit (thin)"),
    ):
        assert f"{shot} {said}" in page
    assert [row["by"] for row in shots["left_out"]] == ["rule", "coach", "coach", "coach"]


def test_mishits_are_counted_by_kind_then_and_now(told: tuple[str, dict[str, Any]]) -> None:
    page, record = told
    assert "Mishits: 1 of 10 before, 1 of 9 after." in page
    assert "heel: 1 before, 0 after; thin: 0 before, 1 after." in page
    assert record["workings"]["mishit_kinds"] == [
        {"tag": "heel", "before": 1, "after": 0},
        {"tag": "thin", "before": 0, "after": 1},
    ]


def test_the_verdict_with_what_was_left_out_put_back(told: tuple[str, dict[str, Any]]) -> None:
    page, record = told
    assert record["verdict"] == "changed"
    assert record["workings"]["verdict_put_back"] == "probably changed"
    said = "If we count the shots we left out, the answer is: probably changed."
    assert said in page


def test_the_order_of_the_lesson_and_where_the_balls_finished(
    told: tuple[str, dict[str, Any]],
) -> None:
    page, record = told
    blocks = "warm-up (2 balls), before (10 balls), drill (2 balls, half swings), after (14 balls)"
    assert f"In the order you hit them: {blocks}." in page
    assert "Where the balls finished" in page
    finish = record["workings"]["finish"]
    assert (finish["before"]["n"], finish["after"]["n"]) == (10, 9)
