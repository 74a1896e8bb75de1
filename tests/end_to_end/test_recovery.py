"""A new computer: with the words on paper it makes the very same pages, locks and signatures."""

import shutil
from collections.abc import Callable
from pathlib import Path

from click.testing import CliRunner

from recapgen.cli import cli
from tests.end_to_end.small_lessons import TODAY, Ran, recapgen, tree


def test_the_words_on_paper_make_the_same_site_on_a_new_computer(
    lessons: Path, out: Path, build: Callable[..., Ran], tmp_path: Path
) -> None:
    def run(command: str, root: Path, typed: str = "") -> tuple[int, str]:
        told = CliRunner().invoke(cli, [command, str(root)], input=typed)
        return told.exit_code, told.output

    assert "[slip-no-secret]" in run("slip", lessons)[1]
    for name in ("brida", "corvin"):
        student = lessons / f"{name}-folder" / "student.yml"
        student.write_text(student.read_text("utf-8") + "lock: yes\n", "utf-8")
    assert build().code == 0
    assert recapgen("lock", lessons / "corvin-folder", "--new-key").code == 0
    assert build().code == 0

    before = tree(lessons.parent)
    paper = CliRunner().invoke(cli, ["slip", str(lessons)]).stdout
    assert tree(lessons.parent) == before
    assert "corvin-folder: " in paper
    assert "brida-folder: " not in paper

    new = tmp_path / "new" / "my lessons"
    shutil.copytree(lessons, new, ignore=shutil.ignore_patterns(".recapgen"))
    words = [word for word in paper.split("corvin-folder")[0].split() if word.isalpha()]
    line = paper.strip().split("\n")[-1]
    other = next(word for word in words if word != words[0])
    for typed, code in (
        (" ".join(words[:-1]), "[slip-words-count]"),
        (" ".join((other, *words[1:])), "[slip-words-wrong]"),
        (" ".join(("zzzz", *words[1:])), "[slip-word-unknown]"),
        (paper.replace("corvin-folder", "corvina"), "[slip-line-wrong]"),
    ):
        ended, told = run("recover", new, typed)
        assert (ended, code in told) == (2, True), code
        assert not (new / ".recapgen").exists()

    ended, told = run("recover", new, f"{' '.join(words)}\n{line}\n\nnot read any more: x")
    assert (ended, "2 locks" in told) == (0, True)
    assert (new / ".recapgen" / "secret").stat().st_mode & 0o777 == 0o600
    assert recapgen("build", new, "--out", tmp_path / "again", "--today", TODAY).code == 0
    assert tree(tmp_path / "again" / "site") == tree(out / "site")

    assert run("recover", new, paper)[0] == 0  # the same once more changes nothing
    assert "[slip-other-secret]" in run("recover", _with_another_secret(tmp_path), paper)[1]


def _with_another_secret(tmp_path: Path) -> Path:
    root = tmp_path / "other"
    (root / ".recapgen").mkdir(parents=True)
    (root / "coach.yml").write_text("coach: Ada Quill\n", encoding="utf-8")
    (root / "corvin-folder").mkdir()
    (root / ".recapgen" / "secret").write_text(f"{'0' * 64}\n", encoding="utf-8")
    return root
