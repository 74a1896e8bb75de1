"""Thousands of the samples' own files with something in them changed: values or problems."""

import random
import shutil
from collections import Counter
from datetime import date
from pathlib import Path

import pytest

from recapgen.intake.folder import survey
from recapgen.intake.settings import read_coach
from recapgen.model.people import Coach
from recapgen.words.catalogue import words
from recapgen.words.problems import tell
from tests.whole_folder import folder_of

SAMPLES = Path(__file__).parents[2] / "sample_lessons"
_STUDENT, _LESSON = SAMPLES / "gunnar", "2027-05-01"
SEED = 20270411
MUTATED = 5_000
A_FEW = 30
_TEXTS = {".md", ".yml", ".csv", ".json", ".xlsx", ".tsv"}
_HOSTILE = (
    *(b"\0", b"\xff\xfe", b"\xed\xb3\xa9", b"\xe2\x80\xae", b"\xef\xbb\xbf", b"\r", b"\t", b"\n"),
    *(b"{{", b"}}", b"[" * 200, b"(" * 3_000, b": ", b"- ", b"&a *a", b"!!python/object:os.system"),
    *(b"---\n", b"'", b'"', b"#", b"|", b">", b"%", b",", b";", b"=1+1", b"1e999", b"nan", b"-0"),
    *(b"9" * 400, b"0x1f", b"2027-02-30"),
)


def mutated(whole: bytes, draw: random.Random) -> bytes:
    """One to four changes: something hostile put in, a stretch gone, twice, or a byte another."""
    body = bytearray(whole)
    for _ in range(draw.choice((1, 1, 2, 4))):
        at = draw.randrange(len(body) + 1)
        part = slice(at, at + draw.choice((1, 3, 20, 200)))
        match draw.randrange(4):
            case 0:
                body[at:at] = draw.choice(_HOSTILE)
            case 1:
                del body[part]
            case 2:
                body[at:at] = body[part]
            case _:
                body[part.start : part.start + 1] = bytes([draw.randrange(256)])
    return bytes(body)


@pytest.fixture
def lessons(tmp_path: Path) -> Path:
    """The coach's own files, and a student with one lesson, without clips."""
    root = tmp_path / "lessons"
    shutil.copytree(SAMPLES / "drills", root / "drills")
    shutil.copy(SAMPLES / "coach.yml", root)
    for path in (_STUDENT / _LESSON).iterdir():
        if path.suffix in _TEXTS:
            target = root / _STUDENT.name / _LESSON / path.name
            target.parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(path, target)
    for name in ("student.yml", "practice.csv"):
        shutil.copy(_STUDENT / name, root / _STUDENT.name)
    return root


def read_through(root: Path, seeds: range) -> Counter[str]:
    """What was told, by code, over all seeds; each changes one file and puts it back."""
    files = sorted(f for f in root.rglob("*") if f.is_file() and f.suffix in _TEXTS)
    say = words("en")
    told: Counter[str] = Counter()
    for seed in seeds:
        draw = random.Random(SEED + seed)  # noqa: S311 - changes that can be had again
        file = draw.choice(files)
        whole = file.read_bytes()
        file.write_bytes(mutated(whole, draw))
        found, problems = survey(root)
        assert found is not None
        coach, more = read_coach(root)
        met = [*problems, *more]
        for paths in found.students:
            read = folder_of(root, paths, coach or Coach(""), date(2027, 6, 1))
            met.extend(read.problems)
        for problem in met:
            assert tell(problem, say).found, f"seed {seed}"
        told.update(problem.code.slug for problem in met)
        file.write_bytes(whole)
    return told


def test_a_few_mutated_files_are_values_or_problems(lessons: Path) -> None:
    assert read_through(lessons, range(A_FEW))


@pytest.mark.campaign
def test_thousands_of_mutated_files_are_values_or_problems(lessons: Path) -> None:
    assert len(read_through(lessons, range(MUTATED))) > A_FEW
