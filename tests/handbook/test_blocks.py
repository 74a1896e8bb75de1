"""Whatever the handbook and the README show to be copied does what they say when it is copied."""

import re
import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner

from recapgen.cli import cli
from recapgen.handbook import chapters, entries
from recapgen.intake.folder import survey
from recapgen.intake.settings import read_coach
from recapgen.model.problem import Code, Problem
from tests.end_to_end.small_lessons import TODAY, recapgen
from tests.whole_folder import folder_of

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
TEXTS = {chapter.name: chapter.text for chapter in chapters()} | {"README": README}
BLOCK = re.compile(r"^```(\w*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
BLOCKS = [
    pytest.param(kind, text, id=f"{name}-{n}")
    for name, whole in TEXTS.items()
    for n, (kind, text) in enumerate(BLOCK.findall(whole))
]
COACH = "coach: Ines Falk\nunits: {speed: mph, length: m, temperature: C}\n"
STUDENT = "name: Marta\nhand: left\nagreed: {page: yes, clips: yes, cases: yes, case clips: yes}\n"
# Every second ball a little better after the change; good enough for each block that is shown.
SHOTS = "Shot,Club,Carry (m),Carry Side (m)\n" + "".join(
    f"{n},sand wedge,{38 + n % 5 + (6 if n > 9 else 0)},{n % 3} {'LR'[n % 2]}\n"
    for n in range(1, 38)
)
# A ball a minute: nine from half past 10:02 on, nine from 10:21 on.
TIMED_SHOTS = "Shot,Time,Carry (m)\n" + "".join(
    f"{n},2027-04-11 10:{n + (1 if n < 10 else 11):02}:{30 if n < 10 else 0:02},{130 + n % 5}\n"
    for n in range(1, 19)
)
DRILL = "---\ndo: Swing with both pockets on the wall\n---\n"
OF_CLIPS = frozenset({Code.CLIP_NOT_LISTED, Code.CLIP_SHOT_OPEN})


def lay_out(root: Path, text: str) -> Path:
    """A folder of lessons in which the block stands where it belongs."""
    lessons = root / "my_lessons"
    lesson = lessons / "marta" / "2027-04-11"
    lesson.mkdir(parents=True)
    (lessons / "drills").mkdir()
    (lessons / "drills" / "pockets on the wall.md").write_text(DRILL, encoding="utf-8")
    if "readings:" not in text:
        by_clock = re.search(r"\d:\d\d-\d", text) is not None
        table = TIMED_SHOTS if by_clock else SHOTS
        (lesson / "shots.csv").write_text(table, encoding="utf-8")
    for name in re.findall(r"file: ([\w ]+\.mov)", text):
        clip = lessons / Path(place_of(text)).with_name(name)
        clip.parent.mkdir(exist_ok=True)
        clip.touch()
    notes = "---\nintent: Hum\n---\nWell done.\n"
    files = {"coach.yml": COACH, "marta/student.yml": STUDENT, "marta/2027-04-11/notes.md": notes}
    files[place_of(text)] = text if text.startswith("---") or kind_of(text) else f"---\n{text}---\n"
    for place, words in files.items():
        (lessons / place).write_text(words, encoding="utf-8")
    return lessons


def kind_of(text: str) -> str | None:
    """Which of the two settings a block of YAML belongs to; None for a lesson's notes."""
    if text.startswith("coach:"):
        return "coach.yml"
    return "marta/student.yml" if text.startswith(("name:", "agreed:")) else None


def place_of(text: str) -> str:
    if "asked by:" in text:
        return "marta/2027-02-03-question/question.md"
    return kind_of(text) or "marta/2027-04-11/notes.md"


def problems_of(lessons: Path) -> list[Problem]:
    found = survey(lessons).value
    assert found is not None
    coach, met = read_coach(lessons)
    assert coach is not None
    told = [*met, *(p for s in found.students for p in folder_of(lessons, s, coach).problems)]
    return [problem for problem in told if problem.code not in OF_CLIPS]


@pytest.mark.parametrize(("kind", "text"), [b for b in BLOCKS if b.values[0] == "yaml"])
def test_a_block_of_yaml_is_read_without_a_problem(tmp_path: Path, kind: str, text: str) -> None:
    assert kind == "yaml"
    if text.startswith("agreed:"):
        text = f"name: Marta\n{text}"
    if text.startswith("number:") and "readings:" not in text:
        text = f"{text}shots: {{before: 1-9, after: 10-18}}\n"
    assert problems_of(lay_out(tmp_path, text)) == []


@pytest.mark.parametrize(("kind", "text"), [b for b in BLOCKS if b.values[0] == ""])
def test_every_command_in_a_block_is_known(kind: str, text: str) -> None:
    assert kind == ""
    for line in re.findall(r"^recapgen .*$", text, re.MULTILINE):
        words = [word for word in shlex.split(line, comments=True)[1:] if not word.isupper()]
        told = CliRunner().invoke(cli, [words[0], "--help"])
        assert told.exit_code == 0, line
        for option in re.findall(r"--[a-z]+", line):
            assert option in told.output, line


@pytest.mark.parametrize("name", ["index", "README"])
def test_the_five_minute_start_gives_a_page_with_a_verdict(tmp_path: Path, name: str) -> None:
    blocks = [text for kind, text in BLOCK.findall(TEXTS[name]) if kind == "yaml"]
    lessons = tmp_path / "my_lessons"
    lesson = lessons / "marta" / "2027-04-11"
    lesson.mkdir(parents=True)
    (lesson / "shots.csv").write_text(SHOTS, encoding="utf-8")
    (lesson / "notes.md").write_text(blocks[0], encoding="utf-8")
    (lessons / "marta" / "student.yml").write_text(blocks[1], encoding="utf-8")
    ran = recapgen("build", lessons, "--today", TODAY)
    assert ran.code == 0, ran.err
    (page,) = (tmp_path / "my_lessons_out" / "site").glob("*/2027-04-11-*.html")
    text = page.read_text(encoding="utf-8")
    assert "Hum one even note from start to finish" in text
    assert "changed." in text
    handbook = tmp_path / "my_lessons_out" / "coach_book" / "handbook"
    assert len(list(handbook.glob("*.html"))) == len(chapters())
    pictures = [f"pictures/clip_{name}.webp" for name in ("names", "pair", "face")]
    assert [p for p in pictures if not (handbook / p).is_file()] == []
    assert [p for p in pictures if (handbook / p).stat().st_size >= 25_000] == []
    assert all(p in (handbook / "clips.html").read_text(encoding="utf-8") for p in pictures)
    found = (handbook.parent / "assets" / "book_index.js").read_text(encoding="utf-8")
    assert "handbook/problems_shots.html#shots-unit-open" in found


def test_every_problem_is_explained_in_the_terminal() -> None:
    assert entries().keys() == {code.slug for code in Code}
    told = CliRunner().invoke(cli, ["explain", "[Shots-Unit-Open]"])
    assert told.exit_code == 0
    assert "has no unit" in told.output
    unknown = CliRunner().invoke(cli, ["explain", "shots-unit-opne"])
    assert unknown.exit_code == 2
    assert "recapgen explain shots-unit-open" in unknown.output


def test_every_option_stands_in_the_handbook() -> None:
    for command in cli.commands.values():
        for option in re.findall(r"--[a-z]+", CliRunner().invoke(command, ["--help"]).output):
            if option != "--help":
                assert f"`{option}" in TEXTS["commands"], option
    assert all(f"recapgen {name}" in TEXTS["commands"] for name in cli.commands)


def test_the_manuals_for_a_first_look_are_short() -> None:
    assert len(README.encode()) <= 6_000
    assert (ROOT / "DEVELOPERS.md").stat().st_size <= 10_000
    makefile = (ROOT / "Makefile").read_text(encoding="utf-8")
    for target in re.findall(r"^make (\w+)", README, flags=re.MULTILINE):
        assert re.search(rf"^{target}:", makefile, flags=re.MULTILINE), target
