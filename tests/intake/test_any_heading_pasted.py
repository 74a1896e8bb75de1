"""Shots and clips whose headings and names are hostile: what is pasted for them is understood."""

from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import example, given, settings
from hypothesis import strategies as st

from recapgen.intake.folder import survey
from recapgen.intake.pasting import with_fixes
from recapgen.intake.settings import read_coach
from recapgen.model.fix import Fix, mended
from recapgen.model.people import Coach
from recapgen.model.problem import Code, Problem
from tests.whole_folder import folder_of

SIGNS = st.text("'\"#:,[]{}&*!|>%@`\\-?~.=<🏌é÷あ́ abcXYZ09", min_size=1, max_size=120)
LESSON = Path("Marta/2027-04-11")


def told(root: Path) -> tuple[Problem, ...]:
    found = survey(root).value
    assert found is not None
    coach, more = read_coach(root)
    read = folder_of(root, found.students[0], coach or Coach(name=""))
    return with_fixes(root, (*more, *read.problems))


def paste(root: Path, fix: Fix) -> None:
    for file in {edit.file for edit in fix.edits}:
        path = root / file
        text = path.read_text("utf-8") if path.is_file() else ""
        made = mended(text, [edit for edit in fix.edits if edit.file == file])
        path.write_text(made, "utf-8", newline="")


def lay_out(root: Path) -> Path:
    (root / LESSON).mkdir(parents=True)
    (root / "coach.yml").write_text("coach: Ines\nunits: {speed: mph, length: m}\n", "utf-8")
    (root / "Marta/student.yml").write_text("name: Marta\nagreed: {page: yes}\n", "utf-8")
    (root / LESSON / "notes.md").write_text("Well done.\n", "utf-8")
    return root / LESSON


@given(words=SIGNS)
@example(words='Mood "of" #1: {the} [day], \\n & *more*')
@example(words="m" * 500)
@settings(max_examples=30, deadline=None)
def test_a_heading_that_is_not_known(words: str) -> None:
    with TemporaryDirectory() as folder:
        root = Path(folder)
        heading = f"Zq{words}".strip().replace('"', '""')
        rows = "".join(f'{n},{130 + n},"{n}"\n' for n in range(1, 7))
        (lay_out(root) / "shots.csv").write_text(f'Shot,Carry (m),"{heading}"\n{rows}', "utf-8")
        before = told(root)
        asked = [p for p in before if p.code is Code.SHOTS_COLUMNS_UNKNOWN]
        for problem in asked:
            (fix,) = problem.fixes
            paste(root, fix)
        codes = {problem.code for problem in told(root)}
        assert codes <= {problem.code for problem in before} - {p.code for p in asked}


@given(words=SIGNS)
@example(words="a  b, #2: {new}")
@example(words="'Now'")
@settings(max_examples=30, deadline=None)
def test_a_clip_whose_name_says_nothing(words: str) -> None:
    with TemporaryDirectory() as folder:
        root = Path(folder)
        name = f"zq{words}".replace("/", "").replace("\\", "").strip().encode()[:200]
        clip = lay_out(root) / f"{name.decode(errors='ignore')}.mov"
        clip.touch()
        for problem in told(root):
            if problem.code is not Code.CLIP_NAME_UNCLEAR:
                continue
            paste(root, problem.fixes[0])
            assert told(root) == ()
