"""Clips as the notes list them, and as their names tell."""

from pathlib import Path

import pytest

from recapgen.intake.pasting import with_fixes
from recapgen.model.lesson import (
    View,
)
from recapgen.model.problem import Code, Cost, Problem, Severity
from recapgen.model.shots import Block
from recapgen.model.source import SourceRef
from tests.intake.test_notes import FILE, FOLDER, MakeFolder, front, read


def test_clips_as_listed(lessons: MakeFolder) -> None:
    notes = front(
        "shots: {before: 1-6, after: 7-12}",
        "clips:",
        "  - {file: a.mov, view: dtl, shot: 3, impact: 1.84 s}",
        "  - {file: b.mov, block: now}",
        "  - face on after.mov",
    )
    clips = {f"{FOLDER}/{name}": "" for name in ("a.mov", "b.mov", "face on after.mov")}
    lesson, problems = read(lessons({FILE: notes, **clips}))
    assert problems == ()
    assert lesson is not None
    first, second, third = lesson.clips
    assert (first.view, first.shot, first.impact_s) == (View.DOWN_THE_LINE, 3, 1.84)
    assert (first.where, first.impact_where.column) == (SourceRef(FILE, 4, 5), 39)
    assert (second.view, second.block, second.impact_where) == (
        None,
        Block.AFTER,
        SourceRef(FILE, 5, 5),
    )
    assert (third.view, third.block) == (View.FACE_ON, Block.AFTER)


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ("impact: 0.117", (View.FACE_ON, Block.BEFORE, 5)),
        ("view: dtl", (View.DOWN_THE_LINE, Block.BEFORE, 5)),
        ("shot: 5", (View.FACE_ON, Block.BEFORE, 5)),
        ("shot: 9", (View.FACE_ON, None, 9)),
        ("block: after", (View.FACE_ON, Block.AFTER, None)),
    ],
)
def test_what_a_listed_clip_leaves_open_its_name_tells(
    lessons: MakeFolder, more: str, told: tuple[View, Block | None, int | None]
) -> None:
    name = "face on before shot 5.mp4"
    notes = front("clips:", f"  - {{file: {name}, {more}}}")
    lesson, problems = read(lessons({FILE: notes, f"{FOLDER}/{name}": ""}))
    assert problems == ()
    assert lesson is not None
    (clip,) = lesson.clips
    assert (clip.view, clip.block, clip.shot) == told


def test_a_clip_s_name_is_the_same_in_either_spelling_of_its_accents(lessons: MakeFolder) -> None:
    notes = front("clips:", "  - {file: f\u00fc\u00dfe.mov, view: face on}")
    lesson, problems = read(lessons({FILE: notes, f"{FOLDER}/fu\u0308\u00dfe.mov": ""}))
    assert problems == ()
    assert lesson is not None
    assert len(lesson.clips) == 1


def test_clips_by_their_names(lessons: MakeFolder) -> None:
    lesson, problems = read(
        lessons({f"{FOLDER}/face on before shot 3.mov": "", f"{FOLDER}/IMG_0412.mov": ""})
    )
    assert lesson is not None
    named, unnamed = lesson.clips
    assert (named.view, named.block, named.shot) == (View.FACE_ON, Block.BEFORE, 3)
    assert named.impact_where == SourceRef(FILE, 3, 1)
    assert (unnamed.view, unnamed.block, unnamed.shot) == (None, None, None)
    assert [p.code for p in problems] == [Code.CLIP_NAME_UNCLEAR]


def test_a_fault_of_a_clip_costs_that_clip(lessons: MakeFolder) -> None:
    notes = front(
        "clips:",
        "  - {file: a.mov, view: sideways, shot: three, impact: late, colour: red}",
        "  - {view: face on}",
        "  - {file: /etc/passwd}",
        "  - [a.mov]",
    )
    _, problems = read(lessons({FILE: notes, f"{FOLDER}/a.mov": ""}))
    assert {p.cost for p in problems if p.severity is Severity.ERROR} == {Cost.CLIP}
    assert [p.code for p in problems] == [
        Code.KEY_UNKNOWN,
        Code.WORD_UNKNOWN,
        Code.NOT_A_NUMBER,
        Code.NOT_A_NUMBER,
        Code.KEY_MISSING,
        Code.CLIP_ELSEWHERE,
        Code.KEYS_EXPECTED,
    ]


@pytest.mark.parametrize("said", ["swing_12", "Swing_12.MOV", "SWING_12"])
def test_a_clip_is_found_without_its_ending(lessons: MakeFolder, said: str) -> None:
    clips = {f"{FOLDER}/{name}": "" for name in ("swing_12.mov", "swing_31.mov")}
    notes = front("clips:", f"  - {{file: {said}, block: before}}", "  - swing_31")
    lesson, problems = read(lessons({FILE: notes, **clips}))
    assert problems == ()
    assert lesson is not None
    assert [clip.path.name for clip in lesson.clips] == ["swing_12.mov", "swing_31.mov"]


def test_a_name_without_its_ending_that_two_clips_have_is_asked(lessons: MakeFolder) -> None:
    clips = {f"{FOLDER}/{name}": "" for name in ("swing_12.mov", "swing_12.mp4")}
    root = lessons({FILE: front("clips:", "  - {file: swing_12}"), **clips})
    lesson, problems = read(root)
    (problem,) = with_fixes(root, problems)
    assert (problem.code, problem.cost) == (Code.CLIP_ENDING_OPEN, Cost.CLIP)
    assert [fix.edits[0].lines for fix in problem.fixes] == [
        ("  - {file: swing_12.mov}",),
        ("  - {file: swing_12.mp4}",),
    ]
    assert lesson is not None
    assert lesson.clips == ()


def _listed(root: Path, problem: Problem) -> list[list[str]]:
    """The lines of each way to list the clips."""
    (told,) = with_fixes(root, [problem])
    return [[line for edit in fix.edits for line in edit.lines] for fix in told.fixes]


def test_a_pair_is_never_offered_as_twice_the_same_block(lessons: MakeFolder) -> None:
    clips = {f"{FOLDER}/{name}": "" for name in ("IMG_0412.mov", "IMG_0431.mov")}
    root = lessons({FILE: front("intent: Hum"), **clips})
    (problem,) = read(root)[1]
    assert problem.code is Code.CLIP_NAME_UNCLEAR
    first, second = "{file: IMG_0412.mov, block: %s}", "{file: IMG_0431.mov, block: %s}"
    assert _listed(root, problem) == [
        ["clips:", f"  - {first % 'before'}", f"  - {second % 'after'}"],
        ["clips:", f"  - {first % 'after'}", f"  - {second % 'before'}"],
    ]


def test_a_clip_alone_is_first_offered_as_the_block_that_no_other_shows(
    lessons: MakeFolder,
) -> None:
    clips = {f"{FOLDER}/{name}": "" for name in ("IMG_0412.mov", "face on before.mov")}
    root = lessons({FILE: front("intent: Hum"), **clips})
    (problem,) = read(root)[1]
    assert _listed(root, problem)[0] == [
        "clips:",
        "  - {file: face on before.mov}",
        "  - {file: IMG_0412.mov, block: after}",
    ]
