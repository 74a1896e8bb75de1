"""A case comes down, or is told in words alone, in the very run that its agreement asks for it."""

import re
import shutil
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

import pytest

from recapgen.app.building import Options, build
from recapgen.console import Console
from recapgen.words.catalogue import words
from tests.end_to_end.small_lessons import SAMPLES, add_student, sites, tree

CLIP = SAMPLES / "pia" / "2027-05-15 pitching again" / "hedge 8.mp4"
FACE = "clips: [{file: down the line 8.mp4, face: shown}]\n"
DAY = date(2027, 6, 1)
TITLE = b"The driver that started right"
READ = (".html", ".json", ".csv", ".ics", ".txt", ".xml", ".webmanifest")
STUDENT = "brida-folder/student.yml"
SAID = """name: Brida
hand: right
born: 2011
guardian: {name: Rosalind Quirke, relation: grandmother}
agreed:
  - {page: yes, clips: yes, cases: yes, case clips: yes, since: 2027-01-03}
"""


def run(root: Path, day: date = DAY) -> dict[str, bytes]:
    """What is up as cases after a build of that day."""
    assert build(root / "lessons", Options(out=root / "out", today=day), Console(words("en"))).ran
    return tree(root / "out" / "site" / "cases")


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("told")
    (root / "lessons").mkdir()
    (root / "lessons" / "coach.yml").write_text("coach: Ada Quill\n", "utf-8")
    lesson = add_student(root / "lessons", "Brida")
    notes = lesson / "notes.md"
    case = f"case: {{name: the-wall, title: {TITLE.decode()}}}\n{FACE}intent:"
    notes.write_text(notes.read_text("utf-8").replace("intent:", case), "utf-8")
    shutil.copy(CLIP, lesson / "down the line 8.mp4")
    (root / "lessons" / STUDENT).write_text(SAID, "utf-8")
    up = run(root)
    assert any(name.endswith(".mp4") for name in up)
    assert any(TITLE in each and b"<svg" in each for each in up.values())
    return root


@pytest.fixture
def standing(told: Path, tmp_path: Path) -> Iterator[Path]:
    copied = tmp_path / "copy"
    shutil.copytree(told, copied)
    yield copied
    shutil.rmtree(copied)


def says(root: Path, line: str) -> None:
    """A newer answer below the one there was."""
    with (root / "lessons" / STUDENT).open("a", encoding="utf-8") as file:
        file.write(f"  - {line}\n")


def test_a_case_reduced_to_words_loses_its_film_and_its_numbers(standing: Path) -> None:
    says(standing, "{page: yes, clips: yes, cases: words, since: 2027-05-20}")
    up = run(standing)
    (page,) = (each for name, each in up.items() if TITLE in each and name != "index.html")
    assert not any(name.endswith((".mp4", ".webp")) for name in up)
    assert b"<svg" not in page
    assert b"club path" not in page


GONE: dict[str, Callable[[Path], object]] = {
    "a newer no": lambda root: says(root, "{page: yes, clips: yes, since: 2027-05-20}"),
    "taken back": lambda root: says(root, "{page: yes, since: 2026-01-01, withdrawn: 2027-05-30}"),
    "doubt": lambda root: says(root, "{page: yes, cases: perhaps, since: 2027-05-20}"),
}


@pytest.mark.parametrize("how", GONE)
def test_a_case_whose_agreement_is_gone_comes_down(standing: Path, how: str) -> None:
    GONE[how](standing)
    assert not any(TITLE in each for each in run(standing).values())


def test_a_case_ends_with_the_guardians_word_and_goes_on_with_their_own(standing: Path) -> None:
    last, after = date(2029, 12, 31), date(2030, 1, 1)
    assert any(TITLE in each for each in run(standing, last).values())
    assert not any(TITLE in each for each in run(standing, after).values())
    assert sites(standing / "out") == {}
    says(standing, "{page: yes, cases: words, since: 2029-12-20, by: student}")
    assert any(TITLE in each for each in run(standing, after).values())


def test_neither_the_year_nor_the_guardian_is_ever_shown(told: Path) -> None:
    texts = {
        path: each for path, each in tree(told / "out" / "site").items() if path.endswith(READ)
    }
    assert len(texts) > 5
    for path, each in texts.items():
        assert not re.search(rb"(?<![\d.])2011(?!\d)|Quirke|Rosalind|grandmother", each), path
