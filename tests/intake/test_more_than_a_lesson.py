"""A season's file in a lesson's folder: asked about, or told without drowning the page."""

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest
from msgspec.structs import replace

from recapgen.intake.folder import survey
from recapgen.intake.lesson_checks import MOST_IN_A_BLOCK
from recapgen.intake.lesson_folder import read_lesson
from recapgen.intake.settings import read_coach
from recapgen.model.people import Coach, Student
from recapgen.model.problem import Code
from recapgen.model.recap import Recap
from recapgen.model.shots import SetAside, ShotStatus
from recapgen.render.reader import reader_of
from recapgen.render.shots_view import shot_table
from recapgen.words.catalogue import words
from tests.render.recaps_fixture import full_recap, student

MakeFolder = Callable[[Mapping[str, str | bytes | None]], Path]


@pytest.mark.parametrize(("last", "expected"), [
    (MOST_IN_A_BLOCK, []), (MOST_IN_A_BLOCK + 1, [Code.BLOCK_TOO_LARGE]),
])  # fmt: skip
def test_a_block_of_a_whole_season_is_asked_about(
    lessons: MakeFolder, last: int, expected: list[Code]
) -> None:
    declared = f"number: carry\nwant: higher\nshots: {{before: 1-{last}, after: {last + 1}-1100}}"
    rows = "\n".join(f"{i},{120 + i % 7}" for i in range(1, 1101))
    found, _ = survey(
        lessons(
            {
                "Marta/2027-04-11/notes.md": f"---\n{declared}\n---\n",
                "Marta/2027-04-11/shots.csv": f"Shot,Carry (m)\n{rows}\n",
            }
        )
    )
    assert found is not None
    coach = read_coach(found.root).value
    assert coach is not None
    (paths,) = found.students[0].lessons
    _, problems = read_lesson(found.root, paths, coach, Student("Marta", "Marta"))
    assert [p.code for p in problems] == expected


def with_shots_aside(recap: Recap, more: int) -> Recap:
    aside = replace(recap.evidence.shots[0], status=ShotStatus.SET_ASIDE, aside=SetAside.WARM_UP)
    numbers = range(1000, 1000 + more)
    extra = (replace(aside, shot=replace(aside.shot, number=n)) for n in numbers)
    evidence = replace(recap.evidence, shots=(*extra, *recap.evidence.shots))
    return replace(recap, evidence=evidence)


def test_the_page_lists_all_that_is_compared_and_counts_the_rest() -> None:
    recap = with_shots_aside(full_recap(), 5000)
    table = shot_table(recap, reader_of(student(recap), Coach("Ines Falk"), words("en")))
    assert table is not None
    compared = {s.shot.number for s in recap.evidence.shots if s.status is ShotStatus.USED}
    assert compared <= {row.shot for row in table.rows}
    assert table.shots == len(recap.evidence.shots)
    unlisted = len(recap.evidence.shots) - len(table.rows)
    assert table.unlisted is not None
    assert unlisted > 4000
    assert table.unlisted.startswith(words("en").count("page.shots.unlisted", unlisted))


def test_an_ordinary_lesson_is_listed_whole() -> None:
    recap = full_recap()
    table = shot_table(recap, reader_of(student(recap), Coach("Ines Falk"), words("en")))
    assert table is not None
    assert len(table.rows) == table.shots == len(recap.evidence.shots)
    assert table.unlisted is None
