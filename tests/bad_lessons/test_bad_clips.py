"""Lessons with one deliberate fault in a clip each, pinned to what the coach is told.

A new case is an entry in ``filmed.yml``; the clips are made here, since files that are broken in
just one way are small to describe and large to keep.
"""

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from functools import partial
from pathlib import Path
from typing import NotRequired, TypedDict

import pytest
import yaml

from recapgen.app.building import check
from recapgen.model.problem import Code, Problem
from recapgen.words.catalogue import words
from recapgen.words.problems import tell
from tests.bad_lessons.test_pasted_fixes import UNCOVERS, kinds, paste
from tests.clips.phone_clips import ball_film, ffmpeg, film, hole_in, strike_sound, swing_film

pytestmark = pytest.mark.ffmpeg


class Case(TypedDict):
    """``clips`` maps a file to how it is made and what its line says beside its name."""

    clips: dict[str, tuple[str, str]]
    told: list[dict[str, str | int]]
    agreed: NotRequired[str]


HERE = Path(__file__).parent
CASES: dict[str, Case] = yaml.safe_load((HERE / "filmed.yml").read_text("utf-8"))
ELSEWHERE = yaml.safe_load((HERE / "expectations.yml").read_text("utf-8"))
# What only happens while a build runs; tests/clips has these.
ON_THE_WAY = {
    "clip-unreadable",
    "clip-still-growing",
    "clip-not-converted",
    "clip-not-kept",
    "clip-damaged",
    "clip-not-read",
    "clip-too-large",
}
BEGAN = datetime(2027, 4, 11, 10, 0, 0)  # noqa: DTZ001  as a device writes it, without a zone
SHOTS_S = (0, 31, 55, 92, 118, 640, 668, 701, 722, 760)
NOTES = "---\nkind: [speed]\nshots: {before: 1-5, after: 6-10}\nmishits: {2: thin}\n"


def _at_shot(shot: int, path: Path) -> None:
    _at(SHOTS_S[shot - 1], path)


def _at(seconds: float, path: Path) -> None:
    made = BEGAN.replace(tzinfo=UTC) + timedelta(hours=-2, seconds=seconds)
    film(path, range(72), "-metadata", f"creation_time={made:%Y-%m-%dT%H:%M:%S}Z")


def _whole(path: Path) -> None:
    film(path, range(72))


def _cut_short(path: Path) -> None:
    film(path, range(72), "-movflags", "+faststart")
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) * 2 // 3])


def _sound_only(path: Path) -> None:
    film(path.with_name("both.mkv"), range(72), sound=strike_sound(1.2, 0.8))
    ffmpeg("-i", str(path.with_name("both.mkv")), "-vn", "-c", "copy", str(path))
    for spare in ("both.mkv", "both.wav"):
        path.with_name(spare).unlink()


def _blanked(path: Path) -> None:
    content = bytearray(film(path, range(72)).read_bytes())
    begin = content.index(b"mdat") + 4
    length = int.from_bytes(content[begin - 8 : begin - 4]) - 8
    content[begin : begin + length] = b"\xff" * length
    path.write_bytes(content)


def _protected(path: Path) -> None:
    path.write_bytes(film(path, range(72)).read_bytes().replace(b"avc1", b"encv"))


def _holed(path: Path) -> None:
    hole_in(film(path, range(120), "-g", "20"), 0.3, 0.4)


def _minute_with_a_strike(path: Path) -> None:
    film(path, range(62), rate="1", sound=strike_sound(62, 41.3))
    path.with_suffix(".wav").unlink()


def _swings(path: Path, struck_s: tuple[float, ...], loudness: float = 0.5) -> None:
    swing_film(path, struck_s, loudness)
    path.with_suffix(".wav").unlink()


MADE: dict[str, Callable[[Path], object]] = {
    "whole": _whole,
    "nothing": lambda _: None,
    "empty": lambda path: path.write_bytes(b""),
    "photo": lambda path: path.write_bytes(b"\xff\xd8\xff\xe0" + bytes(200)),
    "text": lambda path: path.write_text("shot,carry\n1,140\n", encoding="utf-8"),
    "cut short": _cut_short,
    "sound only": _sound_only,
    "three pictures": lambda path: film(path, range(3)),
    "blanked": _blanked,
    "protected": _protected,
    "holed": _holed,
    "a minute": lambda path: film(path, range(62), rate="1"),
    "a minute with a strike": _minute_with_a_strike,
    "silent sweep": lambda path: ball_film(path, 40),
    "swing": lambda path: _swings(path, (1.0,)),
    "swing heard from afar": lambda path: _swings(path, (1.0,), 0.05),
    "two swings": lambda path: _swings(path, (0.8, 2.0)),
    "slowed": lambda path: ball_film(path, 40, times=4),
    "long after the shots": partial(_at, 1090.0),
    **{f"at shot {n}": partial(_at_shot, n) for n in range(1, 11)},
}


def lay_out(case: Case, root: Path) -> None:
    lesson = root / "Marta" / "2027-04-11"
    lesson.mkdir(parents=True)
    (root / "coach.yml").write_text("coach: Ines Falk\n", encoding="utf-8")
    agreed = case.get("agreed", "page: yes, clips: yes")
    (root / "Marta/student.yml").write_text(
        f"name: Marta\nhand: right\nagreed: {{{agreed}}}\n", encoding="utf-8"
    )
    rows = ["Shot,Phase,Time,Club Speed [mph]"]
    for n, seconds in enumerate(SHOTS_S, 1):
        at = BEGAN + timedelta(seconds=seconds)
        rows.append(f"{n},{'before' if n <= 5 else 'after'},{at},{80 + n}")
    (lesson / "shots.csv").write_text("\n".join(rows) + "\n", encoding="utf-8")
    lines = []
    for name, (how, says) in case["clips"].items():
        MADE[how](lesson / name)
        if says:
            lines.append(f"  - {{file: {name.strip()}, {says}}}\n")
    listed = ("clips:\n", *lines) if lines else ()
    notes = f"{NOTES}{''.join(listed)}---\nWell done.\n"
    (lesson / "notes.md").write_text(notes, encoding="utf-8")


def as_expected(problem: Problem) -> dict[str, str | int]:
    where = problem.where
    told: dict[str, str | int] = {
        "code": problem.code.slug, "costs": str(problem.cost), "file": where.file,
    }  # fmt: skip
    if where.line is not None:
        told["line"] = where.line
    if where.column is not None:
        told["column"] = where.column
    return told


@pytest.mark.parametrize("name", sorted(CASES))
def test_the_coach_is_told(name: str, tmp_path: Path) -> None:
    lay_out(CASES[name], tmp_path / "lessons")
    problems = check(tmp_path / "lessons", date(2027, 4, 12)).problems
    assert [as_expected(problem) for problem in problems] == CASES[name]["told"]
    for problem in problems:
        told = tell(problem, words("en"))
        assert told.found
        assert told.expected
        assert told.fix


@pytest.mark.campaign
@pytest.mark.parametrize("name", sorted(CASES))
def test_what_is_offered_mends_it(name: str, tmp_path: Path) -> None:
    root = tmp_path / "lessons"
    lay_out(CASES[name], root)
    before = check(root, date(2027, 4, 12)).problems
    kept = {path: path.read_bytes() for path in (root / "Marta").rglob("*.[my][dm]*")}
    for problem in before:
        for fix in problem.fixes:
            paste(root, [fix])
            after = check(root, date(2027, 4, 12)).problems
            gone = kinds(before) - kinds(after)
            assert gone[problem.code.slug, problem.where.file], fix
            new = {slug for slug, _ in kinds(after) - kinds(before)}
            assert new <= set(UNCOVERS.get(name, ())), fix
            for path, content in kept.items():
                path.write_bytes(content)


def test_every_fault_of_a_clip_has_a_case() -> None:
    pinned = {
        told["code"]
        for cases in ([case["told"] for case in CASES.values()], ELSEWHERE.values())
        for case in cases
        for told in case
    }
    faults = {code.slug for code in Code if code.slug.startswith(("clip-", "clips-"))}
    assert faults - pinned == ON_THE_WAY
