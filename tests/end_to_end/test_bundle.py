"""``recapgen bundle``: what is published of each student, in a zip of its own."""

import re
import shutil
from collections.abc import Callable
from pathlib import Path
from zipfile import ZipFile

from tests.end_to_end.small_lessons import TODAY, Ran, add_student, recapgen, sites


def test_each_zip_is_one_published_site_and_nothing_else(
    lessons: Path, out: Path, build: Callable[..., Ran]
) -> None:
    def bundled(*who: str) -> Ran:
        return recapgen("bundle", lessons, *who, "--out", out, "--today", TODAY)

    ran = bundled()
    assert (ran.code, "[bundle-not-up]" in ran.err) == (2, True)
    notes = lessons / "brida-folder" / "2027-04-11" / "notes.md"
    notes.write_text(notes.read_text("utf-8") + "Ozzeline would hold it longer.\n", "utf-8")
    student = lessons / "corvin-folder" / "student.yml"
    student.write_text(student.read_text("utf-8") + "lock: yes\n", "utf-8")
    assert build().code == 0
    (open_site,) = [site for name, site in sites(out).items() if name == "Brida"]
    ran = bundled()
    assert ran.code == 0, ran.err
    zips = sorted((out / "bundles").iterdir())
    assert [*map(str, zips)] == sorted(ran.out.split("\n")[:-1])
    assert {file.stem for file in zips} <= {site.name for site in (out / "site").iterdir()}
    assert (out / "bundles").stat().st_mode & 0o077 == 0
    held: dict[str, bytes] = {}
    for file in zips:
        with ZipFile(file) as packed:
            held |= {name: packed.read(name) for name in packed.namelist()}
        assert file.stat().st_mode & 0o077 == 0
    there = {
        path.relative_to(out / "site").as_posix(): path.read_bytes()
        for file in zips
        for path in (out / "site" / file.stem).rglob("*")
        if path.is_file()
    }
    assert held == there
    assert not [name for name in held if re.search("brida|corvin", name, re.IGNORECASE)]
    own = f"{open_site.name}/"
    assert not [n for n, c in held.items() if b"Brida" in c and not n.startswith(own)]
    assert not [n for n, c in held.items() if b"Corvin" in c]
    assert ("locked" in ran.err, "coach_book" in ran.err) == (True, True)

    before = {file: file.read_bytes() for file in zips}
    assert bundled("brida").code == 0
    assert {file: file.read_bytes() for file in zips} == before

    newcomer = add_student(lessons, "Ozzeline").parent
    ran = bundled("Brida")
    assert (ran.code, "[other-student-named]" in ran.err) == (2, True)
    shutil.rmtree(newcomer)

    page = next(p for p in open_site.glob("2027-*.html"))
    page.write_text(page.read_text("utf-8").replace("Keep the wall", "Corvin keeps the wall"))
    ran = bundled("brida")
    assert (ran.code, "[bundle-not-up]" in ran.err) == (2, True)  # no build put that there
    assert build().code == 0
    assert not (out / "bundles").exists()  # nothing to send outlives an agreement
    student.write_text(student.read_text("utf-8").replace("page: yes", "page: no"), "utf-8")
    ran = bundled()
    assert (ran.code, len(list((out / "bundles").iterdir()))) == (0, 1)
    assert (bundled("Corvin").code, bundled("nobody").code) == (2, 2)
