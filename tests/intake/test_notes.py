from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from recapgen.intake.folder import survey
from recapgen.intake.lesson_folder import read_lesson
from recapgen.intake.reading import MOST_PER_FILE, StudentFolder, capped
from recapgen.intake.settings import read_coach
from recapgen.model.lesson import (
    Conditions,
    Direction,
    DrillStep,
    GuardKind,
    IntentKind,
    Lesson,
    Practice,
    Surface,
    Want,
    Wind,
)
from recapgen.model.people import Student
from recapgen.model.problem import Code, Cost, Problem
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block
from recapgen.model.source import SourceRef
from tests.whole_folder import folder_of

MakeFolder = Callable[[Mapping[str, str | bytes | None]], Path]
FOLDER = "Marta/2027-04-11"
FILE = f"{FOLDER}/notes.md"


def read(root: Path) -> tuple[Lesson | None, tuple[Problem, ...]]:
    found, _ = survey(root)
    coach, _ = read_coach(root)
    assert found is not None
    assert coach is not None
    (paths,) = found.students[0].lessons
    return read_lesson(found.root, paths, coach, Student("Marta", "Marta"))


def front(*lines: str) -> str:
    return "\n".join(["---", *lines, "---", "Well done.", ""])


@pytest.fixture
def sound(lessons: MakeFolder) -> Callable[..., Lesson]:
    def make(*lines: str) -> Lesson:
        lesson, problems = read(lessons({FILE: front(*lines)}))
        assert problems == ()
        assert lesson is not None
        return lesson

    return make


@pytest.fixture
def faults(lessons: MakeFolder) -> Callable[..., list[tuple[Code, int | None, int | None]]]:
    def make(*lines: str) -> list[tuple[Code, int | None, int | None]]:
        _, problems = read(lessons({FILE: front(*lines)}))
        return [(p.code, p.where.line, p.where.column) for p in problems]

    return make


Sound = Callable[..., Lesson]
Faults = Callable[..., list[tuple[Code, int | None, int | None]]]


@pytest.mark.parametrize("text", ["", "Well done.", "\n\nWell done.\n", "---\n---\nWell done."])
def test_front_matter_may_be_empty_or_absent(lessons: MakeFolder, text: str) -> None:
    lesson, problems = read(lessons({FILE: text}))
    assert problems == ()
    assert lesson is not None
    assert lesson.notes.words in {"", "Well done."}


def test_the_words_are_kept_as_typed(lessons: MakeFolder) -> None:
    lesson, _ = read(lessons({FILE: "---\nclub: 7i\n---\n\n# Hum\n\n---\n\n<b>x</b>\n"}))
    assert lesson is not None
    assert lesson.notes.words == "# Hum\n\n---\n\n<b>x</b>"


def test_what_was_said(sound: Sound) -> None:
    notes = sound(
        "Intent: Hum one even note", "feels_like: rocking a pram", 'student says: "it felt: lazy"',
        "letting go of: keeping my head down", "kind: [short game, rotation]", "club: Seven Iron",
        "moved: device, ball", "see also: starts-right, starts-left",
        "case: {name: starts-right, title: The driver, story: Once.}",
    ).notes  # fmt: skip
    assert notes.intent == "Hum one even note"
    assert notes.feels_like == "rocking a pram"
    assert notes.student_says == "it felt: lazy"
    assert notes.letting_go_of == "keeping my head down"
    assert notes.kinds == (IntentKind.SHORT_GAME, IntentKind.ROTATION)
    assert notes.club == "7 iron"
    assert notes.moved == ("device", "ball")
    assert [(one.handle, one.where.column) for one in notes.see_also] == [
        ("starts-right", 11),
        ("starts-left", 25),
    ]
    assert notes.case is not None
    assert (notes.case.handle, notes.case.story) == ("starts-right", "Once.")


@pytest.mark.parametrize(
    ("number", "want", "low", "high"),
    [
        ("carry", "38 to 44 m", 38, 44),
        ("carry", "38-44", 38, 44),
        ("carry", "40 to 50 yd", 36.576, 45.72),
        ("club path", "2 left to 2 right", -2, 2),
        ("club path", "-2 to 2 deg", -2, 2),
        ("club path", "2 right to 2 left", -2, 2),
        ("launch angle", "12,5 to 14", 12.5, 14),
    ],
)
def test_a_window(sound: Sound, number: str, want: str, low: float, high: float) -> None:
    spans = "shots: {before: 1-6, after: 7-12}"
    declaration = sound(f"number: {number}", f"want: {want}", spans).notes.declaration
    assert declaration is not None
    assert declaration.want.direction is Direction.WINDOW
    assert declaration.want.low == pytest.approx(low)
    assert declaration.want.high == pytest.approx(high)


def test_a_declaration(sound: Sound) -> None:
    declaration = sound(
        "number: path",
        "want: higher",
        "matters: 1",
        "chosen: before the after-shots",
        "must not lose: {carry spread: 2 yd}",
        "shots: {before: 1-6, after: 7-12}",
    ).notes.declaration
    assert declaration is not None
    assert declaration.quantity is Quantity.CLUB_PATH
    assert declaration.want == Want(Direction.HIGHER)
    assert (declaration.smallest_change, declaration.stated) == (1.0, True)
    assert declaration.guard is not None
    assert (declaration.guard.quantity, declaration.guard.kind) == (
        Quantity.CARRY,
        GuardKind.SPREAD,
    )
    assert declaration.guard.margin == pytest.approx(1.8288)
    assert declaration.where == SourceRef(FILE, 2, 1)


@pytest.mark.parametrize(
    ("number", "want", "smallest_change", "meant"),
    [
        ("travel across", "less right", "0.3 widths", Want(Direction.ZERO)),
        ("travel across", "0.2 left to 0.2 right", "0.3", Want(Direction.WINDOW, -0.2, 0.2)),
        ("travel up", "more up", "0,3", Want(Direction.HIGHER)),
        ("travel up", "-0.1 to 0.1 widths", "0.3 widths", Want(Direction.WINDOW, -0.1, 0.1)),
    ],
)
def test_travel_is_told_in_widths(
    lessons: MakeFolder, number: str, want: str, smallest_change: str, meant: Want
) -> None:
    told = front(f"number: {number}", f"want: {want}", f"matters: {smallest_change}")
    lesson, problems = read(lessons({FILE: told}))
    assert [problem.code for problem in problems] == [Code.NUMBER_NOT_FOLLOWED]
    assert lesson is not None
    declaration = lesson.notes.declaration
    assert declaration is not None
    assert (declaration.want, declaration.smallest_change) == (meant, 0.3)
    assert declaration.in_clips == (Quantity(number),)


def test_spans_left_out_and_mishits(sound: Sound) -> None:
    notes = sound(
        "shots: {warm-up: 1-2, before: [3-4, 6], drill: 7, after: shots 8 to 12}",
        'left out: {5: "phone rang: loudly"}',
        "mishits: {9: thin, 10-11: heel}",
    ).notes
    assert [(s.block, s.first, s.last) for s in notes.spans] == [
        (Block.WARM_UP, 1, 2),
        (Block.BEFORE, 3, 4),
        (Block.BEFORE, 6, 6),
        (Block.DRILL, 7, 7),
        (Block.AFTER, 8, 12),
    ]
    assert [(one.shot, one.reason) for one in notes.left_out] == [(5, "phone rang: loudly")]
    assert [(one.shot, one.tag) for one in notes.mishits] == [
        (9, "thin"),
        (10, "heel"),
        (11, "heel"),
    ]


def test_conditions(sound: Sound) -> None:
    conditions = (
        "{surface: mat, indoors: no, ball: range, temperature: 14 C, humidity: 60 %, "
        "pressure: 1009 hPa station, wind: 5 m/s from SW at forecast, target: 070, altitude: 90 m}"
    )
    assert sound(f"conditions: {conditions}").notes.conditions == Conditions(
        surface=Surface.MAT,
        indoors=False,
        ball="range",
        temperature_c=14.0,
        humidity_percent=60.0,
        pressure_hpa=1009.0,
        wind=Wind(5.0, 225.0, 10.0),
        target_deg=70.0,
        altitude_m=90.0,
    )


@pytest.mark.parametrize(
    ("pressure", "at_sea_level"),
    [("1009 hPa station", False), ("1013 hPa sea level", True), ("29.8 inHg, sea-level", True)],
)
def test_a_pressure_says_where_it_holds(sound: Sound, pressure: str, at_sea_level: bool) -> None:
    conditions = sound(f'conditions: {{pressure: "{pressure}"}}').notes.conditions
    assert conditions.pressure_hpa == pytest.approx(1010, abs=5)
    assert conditions.pressure_at_sea_level is at_sea_level


def test_calm_needs_no_height(sound: Sound) -> None:
    wind = sound("conditions: {wind: calm}").notes.conditions.wind
    assert wind is not None
    assert wind.speed_mps == 0


def test_a_practice_plan(sound: Sound) -> None:
    steps = [
        "    - {do: Slowly, times: 10}",
        "    - {do: Half swings, balls: 12}",
        "    - Full swings",
    ]
    plan = sound(
        "practice:",
        *(
            "  sessions a week: 3",
            "  balls: 40",
            "  rounds a week: 1",
            "  minutes: 35",
            "  weeks: 2",
        ),
        *("  steps:", *steps),
    ).notes.practice
    assert plan == Practice(
        3,
        40,
        1,
        35,
        2,
        (
            DrillStep("Slowly", None, 10),
            DrillStep("Half swings", 12, None),
            DrillStep("Full swings", None, None),
        ),
    )


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        (["chosen: perhaps"], [(Code.WORD_UNKNOWN, 2, 9)]),
        (["want: higher"], [(Code.NUMBER_MISSING, 2, 1)]),
        (["number: carry", "want: 40 to 40 m"], [(Code.WANT_UPSIDE_DOWN, 3, 7)]),
        (["number: club path", "want: -2 to -4 deg"], [(Code.WANT_UPSIDE_DOWN, 3, 7)]),
        (["shots: 1-6"], [(Code.KEYS_EXPECTED, 2, 8)]),
        (["shots: {before: 0-6}"], [(Code.SPAN_UNREADABLE, 2, 17)]),
        (["shots: {before: 1-3, after: 13-20}"], [(Code.SPAN_BEYOND_SHOTS, 2, 29)]),
        (["shots: {drill: 1-9, before: 2-3, after: 9}"],
         [(Code.SPANS_OVERLAP, 2, 29), (Code.SPANS_OVERLAP, 2, 41)]),
        (["left out: {3: }"], [(Code.REASON_MISSING, 2, 12)]),
        (["mishits: {44: thin}"], [(Code.SHOT_NOT_THERE, 2, 11)]),
        (["moved: camera"], [(Code.WORD_UNKNOWN, 2, 8)]),
        (["conditions: {wind: 3 from 250 at 2 knots}"], [(Code.WIND_INCOMPLETE, 2, 20)]),
        (["conditions: {wind: 300 m/s from 250 at 2 m}"], [(Code.AMOUNT_OUT_OF_RANGE, 2, 20)]),
        (["conditions: {wind: 3 m/s from nowhere at 2 m}"], [(Code.AMOUNT_UNREADABLE, 2, 20)]),
        (["practice: {weeks: 0}"], [(Code.NUMBER_OUT_OF_RANGE, 2, 19)]),
        (["case: {name: a, title: A}", "case: {name: b, title: B}"], [(Code.KEY_TWICE, 3, 1)]),
        (["intent: Hum", "feels like: a #1 pram"], [(Code.CUT_AT_HASH, 3, 15)]),
        (["club: [driver]"], [(Code.ONE_VALUE_EXPECTED, 2, 7)]),
    ],
)  # fmt: skip
def test_faults_and_their_places(
    faults: Faults, lines: list[str], expected: list[tuple[Code, int, int]]
) -> None:
    assert faults(*lines) == expected


LISTS = "clips:", "  - {file: a.mov, slow: 2}", "  - {file: b.mov}", "clips:"


@pytest.mark.parametrize(
    ("again", "told"),
    [
        (("  - {file: b.mov, impact: 1.9}", "  - {file: a.mov}"), []),
        (("  - {file: a.mov, impact: 1.9, slow: 2}", "  - {file: c.mov}"), []),
        (("  - {file: a.mov, slow: 4}",), [5]),
        (("  - {file: b.mov}", "  - {file: b.mov}"), [5]),
        (("  - a.mov",), [5]),
    ],
)
def test_lists_of_clips_from_several_fixes_are_one_where_they_agree(
    faults: Faults, again: tuple[str, ...], told: list[int]
) -> None:
    twice = [line for code, line, _ in faults(*LISTS, *again) if code is Code.KEY_TWICE]
    assert twice == told


@pytest.mark.parametrize("key", ["intent", "number", "club", "kind", "want", "matters", "clips"])
def test_a_value_as_long_as_a_book_is_not_read_through(faults: Faults, key: str) -> None:
    lines = ["number: carry", "want: higher", "shots: {before: 1-6, after: 7-12}"]
    kept = [line for line in lines if not line.startswith(key)]
    found = faults(*kept, f"{key}: {'carry ' * 10_000}")
    assert (Code.TEXT_TOO_LONG, len(kept) + 2, len(key) + 3) in found


def test_all_faults_at_once(faults: Faults) -> None:
    found = faults("intnet: Hum", "club: spoon", "kind: [waltz]", "shots: {before: 6-1}")
    assert sorted(((code, line) for code, line, _ in found), key=lambda one: one[1] or 0) == [
        (Code.KEY_MISSPELT, 2),
        (Code.WORD_UNKNOWN, 3),
        (Code.WORD_UNKNOWN, 4),
        (Code.SPAN_BACKWARDS, 5),
    ]


def test_private_words_stay_apart(lessons: MakeFolder) -> None:
    lesson, _ = read(lessons({f"{FOLDER}/private.md": "Worried about the wrist.\n"}))
    assert lesson is not None
    assert lesson.private == "Worried about the wrist.\n"
    assert "wrist" not in lesson.notes.words


def whole(root: Path) -> StudentFolder:
    found, _ = survey(root)
    coach, _ = read_coach(root)
    assert found is not None
    assert coach is not None
    return folder_of(root, found.students[0], coach)


def test_a_lesson_that_cannot_be_read_leaves_the_others(lessons: MakeFolder) -> None:
    broken = "Marta/2027-03-01/notes.md"
    folder = whole(lessons({broken: "---\nintent: a: b\n---\n"}))
    assert [lesson.key for lesson in folder.lessons] == ["2027-04-11"]
    assert [(p.code, p.where.file, p.cost) for p in folder.problems] == [
        (Code.COLON_IN_WORDS, broken, Cost.STUDENT)
    ]


def test_the_shots_of_a_lesson_with_broken_notes_are_checked_as_well(lessons: MakeFolder) -> None:
    folder = whole(lessons({FILE: "---\nintent: a: b\n---\n", f"{FOLDER}/shots.csv": "1,2\n3,4\n"}))
    assert {p.where.file for p in folder.problems} == {FILE, f"{FOLDER}/shots.csv"}


def test_many_problems_of_a_file_are_counted_and_the_costly_ones_kept() -> None:
    many = [
        *(Problem(Code.LOG_CELL_UNREADABLE, SourceRef("a.csv", n, 1)) for n in range(1, 101)),
        Problem(Code.LOG_WITHOUT_DATES, SourceRef("a.csv", 500, 1)),
        Problem(Code.KEY_TWICE, SourceRef("b.md", 2, 1)),
    ]
    kept = capped(many)
    assert len(kept) == MOST_PER_FILE + 2
    assert [p.code for p in kept[-3:]] == [
        Code.LOG_WITHOUT_DATES,
        Code.MORE_PROBLEMS,
        Code.KEY_TWICE,
    ]
    assert kept[-2].facts == {"more": "61", "errors": "0"}
