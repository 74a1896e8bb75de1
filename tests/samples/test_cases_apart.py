"""What the cases show is found nowhere on the students' own pages, by name, size or bytes."""

from pathlib import Path

import pytest

pytestmark = pytest.mark.ffmpeg

MEDIA = {".mp4", ".webp", ".jpg", ".png"}
OF_THE_COACH = {"coach.webp", "preview.png"}


def media(folder: Path) -> list[Path]:
    return [
        file
        for file in sorted(folder.rglob("*"))
        if file.suffix in MEDIA and "icon" not in file.name and file.name not in OF_THE_COACH
    ]


def test_no_film_or_picture_of_a_case_is_one_of_a_student(sample_out: Path) -> None:
    cases = media(sample_out / "site" / "cases")
    theirs = [
        file
        for site in (sample_out / "site").iterdir()
        if site.is_dir() and site.name != "cases"
        for file in media(site)
    ]
    films = [file for file in cases if file.suffix == ".mp4"]
    assert films
    shared = {file.read_bytes() for file in cases} & {file.read_bytes() for file in theirs}
    assert not [file.name for file in cases if file.read_bytes() in shared]
    assert not {file.name for file in films} & {file.name for file in theirs}
    assert not {file.stat().st_size for file in films} & {file.stat().st_size for file in theirs}
