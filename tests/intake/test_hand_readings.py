"""Readings without a device: counts, in or out, amounts paced off; and what they can't be."""

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from recapgen.model.lesson import Direction
from recapgen.model.problem import Code
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block, MissedTo
from tests.intake.test_notes import FILE, FOLDER, front, read

MakeFolder = Callable[[Mapping[str, str | bytes | None]], Path]
NO_FILE: Mapping[str, str | bytes | None] = {f"{FOLDER}/shots.csv": None}
METRES = "coach: Ina\nunits: {speed: mph, length: m, temperature: C}\n"
YARDS = METRES.replace("length: m", "length: yd")


def told(
    lessons: MakeFolder, *lines: str, coach: str = METRES
) -> tuple[list[tuple[Block | None, float, MissedTo | None]], list[Code]]:
    lesson, problems = read(lessons({"coach.yml": coach, FILE: front(*lines), **NO_FILE}))
    assert lesson is not None
    shots = lesson.shots.shots if lesson.shots else ()
    rows = [(s.block, *s.readings.values(), s.missed_to) for s in shots]
    return rows, [p.code for p in problems]  # type: ignore[return-value]


def test_counts_are_balls_in_and_out(lessons: MakeFolder) -> None:
    rows, codes = told(lessons, "number: holed", "readings: {after: 3/4, before: 1 of 3}")
    assert codes == []
    assert rows == [
        *((Block.BEFORE, 1.0, None),),
        *((Block.BEFORE, 0.0, None),) * 2,
        *((Block.AFTER, 1.0, None),) * 3,
        (Block.AFTER, 0.0, None),
    ]


def test_a_count_has_no_order(lessons: MakeFolder) -> None:
    for readings, counted in (("1 of 3", True), ("[in, out, in]", False)):
        notes = front("number: holed", f"readings: {{before: {readings}, after: 1 of 3}}")
        lesson, _ = read(lessons({"coach.yml": METRES, FILE: notes, **NO_FILE}))
        assert lesson is not None
        assert lesson.shots is not None
        assert (lesson.shots.by_hand, lesson.shots.counted) == (True, counted)


def test_in_is_wanted_without_a_word(lessons: MakeFolder) -> None:
    notes = front("number: through the gate", "readings: {before: 1 of 3, after: 1 of 3}")
    lesson, problems = read(lessons({"coach.yml": METRES, FILE: notes, **NO_FILE}))
    assert problems == ()
    assert lesson is not None
    assert lesson.notes.declaration is not None
    assert lesson.notes.declaration.quantity is Quantity.ON_LINE
    assert lesson.notes.declaration.want.direction is Direction.HIGHER


def test_words_say_where_a_ball_went(lessons: MakeFolder) -> None:
    rows, codes = told(
        lessons, "number: holed", "readings: {before: 'left, short, in', after: [right, long, out]}"
    )
    assert codes == []
    assert rows == [
        (Block.BEFORE, 0.0, MissedTo.LEFT),
        (Block.BEFORE, 0.0, MissedTo.SHORT),
        (Block.BEFORE, 1.0, None),
        (Block.AFTER, 0.0, MissedTo.RIGHT),
        (Block.AFTER, 0.0, MissedTo.LONG),
        (Block.AFTER, 0.0, None),
    ]


@pytest.mark.parametrize(
    ("coach", "unit", "bare"),
    [(METRES, "", 1.5), (METRES, "unit: ft, ", 0.4572), (YARDS, "unit: ft, ", 0.4572)],
)
def test_amounts_are_paced_off(lessons: MakeFolder, coach: str, unit: str, bare: float) -> None:
    rows, codes = told(
        lessons, "number: distance left", "want: lower",
        f"readings: {{{unit}before: [1.5, 30 cm], after: [0.5 m]}}", coach=coach,
    )  # fmt: skip
    assert codes == []
    assert [value for _, value, _ in rows] == pytest.approx([bare, 0.3, 0.5])


def test_short_is_minus_and_long_is_plus(lessons: MakeFolder) -> None:
    rows, codes = told(
        lessons, "number: pace", "want: less short",
        "readings: {before: [1 short, 0.5 long], after: [0.2 long]}",
    )  # fmt: skip
    assert codes == []
    assert [value for _, value, _ in rows] == [-1.0, 0.5, 0.2]


@pytest.mark.parametrize(
    ("number", "readings", "codes"),
    [
        ("distance left", "{before: [3], after: [1]}", [Code.UNIT_MISSING]),
        ("distance left", "{before: 3 of 10, after: [1 m]}", [Code.READING_UNFIT]),
        ("distance left", "{before: [in], after: [1 m]}", [Code.READING_UNFIT]),
        ("distance left", "{before: [400 m], after: [1 m]}", [Code.AMOUNT_OUT_OF_RANGE]),
        ("holed", "{before: [1.2], after: 1 of 2}", [Code.READING_UNFIT]),
        ("holed", "{before: 4 of 3, after: 1 of 2}", [Code.COUNT_IMPOSSIBLE]),
        ("holed", "{before: [inn], after: 1 of 2}", [Code.WORD_MISSPELT]),
        ("holed", "{before: {in: 2}, after: 1 of 2}", [Code.KEYS_EXPECTED]),
        ("holed", "{befor: 1 of 2, after: 1 of 2}", [Code.WORD_MISSPELT]),
        ("holed", "{before: 1 of 900, after: 1 of 2}", [Code.TOO_MANY]),
        ("travel up", "{before: [0.3], after: [0.2]}", [Code.NUMBER_NOT_FOLLOWED]),
    ],
)
def test_what_no_reading_can_be_is_told(
    lessons: MakeFolder, number: str, readings: str, codes: list[Code]
) -> None:
    want = ["want: lower"] if number in {"distance left", "travel up"} else []
    _, found = told(lessons, f"number: {number}", *want, f"readings: {readings}", coach=YARDS)
    assert set(codes) <= set(found)


def test_readings_need_a_number(lessons: MakeFolder) -> None:
    assert told(lessons, "readings: {before: 1 of 2}") == ([], [Code.NUMBER_MISSING])


def test_a_share_takes_no_smallest_change_and_no_window(lessons: MakeFolder) -> None:
    readings = "readings: {before: 1 of 2, after: 1 of 2}"
    _, codes = told(lessons, "number: holed", "matters: 2 m", readings)
    assert codes == [Code.SHARE_WITHOUT_MATTERS]
    _, codes = told(lessons, "number: holed", "want: lower", readings)
    assert codes == [Code.WANT_UNREADABLE]


def test_a_device_and_a_hand_never_mix(lessons: MakeFolder) -> None:
    notes = front("number: carry", "want: higher", "readings: {before: [3 m], after: [4 m]}")
    shots = "shot,phase,carry [m]\n1,before,130\n2,after,131\n"
    _, problems = read(lessons({"coach.yml": METRES, FILE: notes, f"{FOLDER}/shots.csv": shots}))
    assert [p.code for p in problems] == [Code.READINGS_BESIDE_SHOTS]
    aside = notes.replace("readings", "files: {shots.csv: ignore}\nreadings")
    lesson, problems = read(
        lessons({"coach.yml": METRES, FILE: aside, f"{FOLDER}/shots.csv": shots})
    )
    assert problems == ()
    assert lesson is not None
    assert lesson.shots is not None
    assert lesson.shots.by_hand
