"""``recapgen copy-for``: all of one student, nobody else, the same bytes each time."""

from collections.abc import Callable
from pathlib import Path
from zipfile import ZipFile

from tests.end_to_end.small_lessons import TODAY, Ran, recapgen


def test_a_student_gets_everything_and_nobody_else(
    lessons: Path, out: Path, build: Callable[..., Ran]
) -> None:
    lesson = lessons / "brida-folder" / "2027-04-11"
    student = lesson.parent / "student.yml"
    student.write_text(student.read_text("utf-8") + "language: de\n", "utf-8")
    (lesson / "private.md").write_text("Afraid of the heron by the pond.\n", "utf-8")
    assert build().code == 0
    (lesson / "seal.json").write_text('{"with": "Corvin"}', "utf-8")
    (lesson / "alone.mov").write_bytes(b"film")
    notes = (lesson / "notes.md").read_text("utf-8")
    clips = (
        "clips:\n  - {file: alone.mov}\n  - {file: both.mov, blur: [0.1, 0.1, 0.2, 0.2]}\n---\nKeep"
    )
    (lesson / "both.mov").write_bytes(b"film of two")
    (lesson / "notes.md").write_text(notes.replace("---\nKeep", clips), "utf-8")

    def made(*more: str) -> tuple[Ran, dict[str, bytes], bytes]:
        ran = recapgen("copy-for", lessons / "brida-folder", "--out", out, "--today", TODAY, *more)
        file = out / "copies" / "brida-folder.zip"
        with ZipFile(file) as packed:
            return ran, {name: packed.read(name) for name in packed.namelist()}, file.read_bytes()

    ran, held, first = made()
    assert ran.code == 1
    assert "Left out: lessons/2027-04-11/seal.json" in ran.err
    assert "Left out: lessons/2027-04-11/both.mov" in ran.err
    assert held["lessons/2027-04-11/alone.mov"] == b"film"
    assert {"pages/index.html", "lessons/student.yml", "lessons/2027-04-11/notes.md"} <= set(held)
    assert "Alles, was dein Coach" in held["index.html"].decode()
    assert next(iter(held)) == "index.html"
    assert not [path for path, content in held.items() if b"Corvin" in content]
    assert not [path for path, content in held.items() if b"heron" in content]
    assert made()[2] == first
    assert b"heron" in made("--private")[1]["lessons/2027-04-11/private.md"]
