"""Nobody is published with another's film, and a deleted lesson that is still up is told."""

import shutil
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from msgspec.structs import replace

from recapgen.app.whose_films import strange_films
from recapgen.model.films import Download, Film, FilmSide, ImpactFrom, Strike
from recapgen.model.people import Student
from recapgen.model.problem import Code, Cost
from recapgen.model.shots import Block
from recapgen.publish.build_state import Seen
from recapgen.publish.output import Output, claim
from tests.end_to_end.small_lessons import Ran, sites

Build = Callable[..., Ran]

OWN, OTHERS = "aa" * 32, "bb" * 32
FILM = Film(
    None,
    (FilmSide("a.mov", Block.AFTER, 3, Strike(0.9, ImpactFrom.SOUND)),),
    *(Path("film.mp4"), Path("strike.webp"), "f00d", 30, 90, 45, 640, 360),
    made_of=(OWN,),
)
SAVED = Download(Path("download.mp4"), 9, "beef", Block.AFTER, 3, (OTHERS,))


@pytest.fixture
def output(tmp_path: Path) -> Output:
    (tmp_path / "lessons").mkdir()
    held = claim(tmp_path / "out", tmp_path / "lessons").value
    assert held is not None
    return held


@pytest.mark.parametrize(
    ("film", "strange"),
    [
        (FILM, False),
        (replace(FILM, made_of=(OTHERS,)), True),
        (replace(FILM, made_of=(OWN, OTHERS)), True),
        (replace(FILM, made_of=()), True),
        (replace(FILM, downloads=(SAVED,)), True),
        (replace(FILM, downloads=(replace(SAVED, made_of=(OWN,)),)), False),
    ],
)
def test_a_film_of_anything_but_the_students_own_files_is_not_published(
    film: Film, output: Output, *, strange: bool
) -> None:
    inputs = {"brida/2027-04-11/a.mov": Seen((1,), OWN, settled=True)}
    up = output.site / "bcdfghjkmnpqrstvwxyz"
    (up / "films").mkdir(parents=True)
    (up / "films" / "f00d.mp4").touch()
    found = strange_films(
        [film], inputs, Student("brida", "Brida"), output, up=up, costs=Cost.STUDENT
    )
    assert [(p.code, p.cost) for p in found] == [(Code.FILM_OF_ANOTHER, Cost.STUDENT)] * strange
    assert up.exists() is not strange


def test_a_deleted_lesson_whose_page_stays_up_is_told_with_its_day(
    lessons: Path, build: Build, out: Path
) -> None:
    brida = lessons / "brida-folder"
    shutil.copytree(brida / "2027-04-11", brida / "2027-04-18")
    assert build().code == 0
    shutil.rmtree(brida / "2027-04-11")
    notes = brida / "2027-04-18" / "notes.md"
    whole = notes.read_text("utf-8")
    notes.write_text(whole.replace("want: 2 left", "want: ["), "utf-8")
    for ran in (build(), build()):
        assert ran.code == 1
        assert ran.err.count("[deleted-lesson-up]") == 1
        assert "you deleted the 2027-04-11 lesson" in ran.err
        assert list(sites(out)["Brida"].glob(f"{date(2027, 4, 11)}-*.html"))
    notes.write_text(whole, "utf-8")
    mended = build()
    assert "[deleted-lesson-up]" not in mended.err
    assert not list(sites(out)["Brida"].glob(f"{date(2027, 4, 11)}-*.html"))
