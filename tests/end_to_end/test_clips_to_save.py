"""A clip that the student may save: below its film, with its size, and only with consent."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.clips.phone_clips import SECRETS, film
from tests.end_to_end.small_lessons import Ran, sites, tree

pytestmark = pytest.mark.ffmpeg

Build = Callable[..., Ran]
LISTED = """intent:{rest}
clips:
  - {{file: a.mov, view: face on, shot: 3, impact: 0.7, download: yes}}
  - {{file: b.mov, view: face on, shot: 14, impact: 0.7{more}}}
"""
LINK = re.compile(r'<a href="(saved/\w+\.mp4)" download="swing-\d\.mp4">([^<]+)</a>')


def _film(lesson: Path, more: str = "") -> None:
    secrets = [part for key, told in SECRETS.items() for part in ("-metadata", f"{key}={told}")]
    for name, first in (("a.mov", 0), ("b.mov", 100)):
        film(lesson / name, range(first, first + 72), *secrets)
    notes = (lesson / "notes.md").read_text(encoding="utf-8")
    head, rest = notes.split("\n", 2)[1:]
    listed = LISTED.format(rest=head.removeprefix("intent:"), more=more)
    (lesson / "notes.md").write_text(f"---\n{listed}{rest}", encoding="utf-8")


def _links(site: Path) -> list[tuple[str, str]]:
    page = next(site.glob("2027-04-11-*.html"))
    return LINK.findall(page.read_text(encoding="utf-8"))


def test_one_clip_is_offered_with_its_size_and_without_secrets(
    lessons: Path, build: Build, out: Path
) -> None:
    _film(lessons / "brida-folder/2027-04-11")
    assert build().code == 0
    site = sites(out)["Brida"]
    ((path, told),) = _links(site)
    size = (site / path).stat().st_size
    assert told == f"Save the clip of shot 3 ({size / 1e6:.1f} MB, no sound)"
    content = (site / path).read_bytes()
    assert not [s for s in SECRETS.values() if s.encode() in content]
    assert path not in (site / "sw.js").read_text(encoding="utf-8")
    student = lessons / "brida-folder/student.yml"
    student.write_text(student.read_text().replace("clips: yes", "clips: no"), encoding="utf-8")
    build()
    assert not [path for path in tree(out / "site") if path.endswith(".mp4")]


def test_a_clip_in_which_somebody_is_hidden_is_never_offered(
    lessons: Path, build: Build, out: Path
) -> None:
    _film(lessons / "brida-folder/2027-04-11", ", download: yes, blur: [0, 0, 0.3, 1]")
    ran = build()
    assert ran.code == 0
    assert "[clip-saved-unhidden]" in ran.err
    links = _links(sites(out)["Brida"])
    assert [told.split(" (")[0] for _, told in links] == ["Save the clip of shot 3"]
