"""What a clip's line asks for its pictures; a line that is not clear shows nothing."""

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from recapgen.intake.folder import survey
from recapgen.intake.lesson_folder import read_lesson
from recapgen.model.filming import (
    AS_FILMED,
    Box,
    Directions,
    MarkLine,
    MarkRing,
    Pace,
    Point,
    Position,
)
from recapgen.model.lesson import ClipFile
from recapgen.model.people import Coach, Student
from recapgen.model.problem import Code, Cost, Problem

MakeFolder = Callable[[Mapping[str, str | bytes | None]], Path]
FOLDER = "Marta/2027-04-11"


def read(lessons: MakeFolder, asked: str) -> tuple[tuple[ClipFile, ...], tuple[Problem, ...]]:
    notes = f"---\nclips:\n  - {{file: a.mov, view: dtl{asked}}}\n---\nWell done.\n"
    root = lessons({f"{FOLDER}/notes.md": notes, f"{FOLDER}/a.mov": ""})
    found = survey(root).value
    assert found is not None
    (paths,) = found.students[0].lessons
    lesson, problems = read_lesson(found.root, paths, Coach("Ines"), Student("Marta", "Marta"))
    assert lesson is not None
    return lesson.clips, problems


@pytest.mark.parametrize(
    "asked", ["{from: 0.4, to: 2.1}", "{from: 2.1, to: 0.4, times: 8}", "32", "{times: some}"]
)
def test_a_clip_that_may_play_slowed_somehow_is_not_shown(lessons: MakeFolder, asked: str) -> None:
    clips, problems = read(lessons, f", slow: {asked}")
    assert clips == ()
    assert [problem.cost for problem in problems] == [Cost.CLIP]


@pytest.mark.parametrize(
    ("asked", "directions"),
    [
        ("", AS_FILMED),
        (", ball: [0.5, 0,9]", None),
        (", ball: [0.5, 0.9], slow: 4", Directions(ball=Point(0.5, 0.9), slow=Pace(4))),
        (", slow: 1", Directions(slow=Pace(1))),
        (", slow: {from: 0.4, to: 2.1 s, times: 8}", Directions(slow=Pace(8, 0.4, 2.1))),
        (", slow: {times: 8}", Directions(slow=Pace(8, 0, 3600))),
        (
            ", at: {start: 0.7 s, top: 1.2}",
            Directions(moments=((Position.START, 0.7), (Position.TOP, 1.2))),
        ),
        (
            ", mark: {line: [0.4, 0.5, 0.4, 0.2]}",
            Directions(mark=MarkLine(Point(0.4, 0.5), Point(0.4, 0.2))),
        ),
        (", mark: {ring: [0.4, 0.2, 0.06]}", Directions(mark=MarkRing(Point(0.4, 0.2), 0.06))),
        (", mark: {follow: [0.4, 0.1, 0.2, 0.1]}", Directions(follow=Box(0.4, 0.1, 0.2, 0.1))),
        (
            ", mark: {line: [0.4, 0.5, 0.4, 0.2], follow: [0.4, 0.1, 0.2, 0.1]}",
            Directions(
                mark=MarkLine(Point(0.4, 0.5), Point(0.4, 0.2)), follow=Box(0.4, 0.1, 0.2, 0.1)
            ),
        ),
        (", face: [0.4, 0.1, 0.2, 0.1]", Directions(face=Box(0.4, 0.1, 0.2, 0.1))),
        (
            ", face: {all along: [0.4, 0.1, 0.2, 0.1]}",
            Directions(face=Box(0.4, 0.1, 0.2, 0.1), face_stays=True),
        ),
        (", face: shown", Directions(face_shown=True)),
        (
            ", blur: [0, 0, 0.2, 1], crop: [0.1, 0, 0.9, 1]",
            Directions(blur=(Box(0, 0, 0.2, 1),), crop=Box(0.1, 0, 0.9, 1)),
        ),
        (
            ", blur: [[0, 0, 0.2, 1], [0.5, 0.5, 0.5, 0.5]]",
            Directions(blur=(Box(0, 0, 0.2, 1), Box(0.5, 0.5, 0.5, 0.5))),
        ),
        (", mirror: yes, download: yes", Directions(mirror=True, download=True)),
        (", mirrored: no, save: yes", Directions(download=True)),
        (", blur: [0, 0, 0.2]", None),
        (", blur: [0.9, 0, 0.2, 1]", None),
        (", blur: everybody", None),
        (", crop: [0, 0, 0, 1]", None),
        (", mark: {ring: [0.4, 12, 0.1]}", None),
    ],
)
def test_what_is_asked_is_done_or_the_clip_is_not_shown(
    lessons: MakeFolder, asked: str, directions: Directions | None
) -> None:
    clips, problems = read(lessons, asked)
    if directions is None:
        assert clips == ()
        assert [(p.code, p.cost) for p in problems] == [(Code.CLIP_PLACE_UNREADABLE, Cost.CLIP)]
    else:
        assert problems == ()
        assert [clip.directions for clip in clips] == [directions]


@pytest.mark.parametrize(
    "asked", [", blurr: [0, 0, 0.2, 1]", ", slow: very", ", mirror: maybe", ", at: 1.2"]
)
def test_any_other_slip_on_the_line_keeps_the_clip_back_too(
    lessons: MakeFolder, asked: str
) -> None:
    clips, problems = read(lessons, asked)
    assert clips == ()
    assert [p.cost for p in problems] == [Cost.CLIP]


@pytest.mark.parametrize("hidden", ["blur: [0, 0, 0.2, 1]", "crop: [0.1, 0, 0.9, 1]"])
def test_what_is_hidden_in_the_film_is_not_given_away_in_the_clip(
    lessons: MakeFolder, hidden: str
) -> None:
    (clip,), (problem,) = read(lessons, f", download: yes, {hidden}")
    assert not clip.directions.download
    assert (problem.code, problem.cost) == (Code.CLIP_SAVED_UNHIDDEN, Cost.NOTHING)
    assert problem.facts["hidden"] == hidden.split(":", maxsplit=1)[0]
