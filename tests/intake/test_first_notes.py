"""The first notes of a lesson: what can be seen is filled in, what cannot be known is left open."""

from collections.abc import Callable, Mapping
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from msgspec.structs import replace

from recapgen.intake.first_notes import SeenClip, SeenLesson, first_notes
from recapgen.intake.folder import survey
from recapgen.intake.last_time import said_last_time
from recapgen.intake.lesson_folder import setting_of
from recapgen.intake.notes import KEYS, KNOWN
from recapgen.intake.pasting import begun, completed
from recapgen.intake.reading import StudentFolder
from recapgen.intake.settings import read_coach
from recapgen.intake.student import read_student
from recapgen.intake.table.all_files import read_shots
from recapgen.model.films import ImpactFrom, Strike
from recapgen.model.lesson import View
from recapgen.model.notes_line import Said
from recapgen.model.shots import Block
from recapgen.words.catalogue import words
from recapgen.words.notes_remarks import remark
from tests.intake.test_short_notes import whole

MakeFolder = Callable[[Mapping[str, str | bytes | None]], Path]
DAY = datetime(2027, 4, 18, 10, 0)  # noqa: DTZ001  as a device writes it
LATER = "Marta/2027-04-18"
EMPTY = "---\n---\n"


def told(said: Said) -> str:
    return remark(said, words("en"))


def shots(*stretches: int, clubs: tuple[str, ...] = ("7 iron",), timed: bool = True) -> str:
    """As many balls in each stretch, half a minute apart, five minutes between two."""
    rows = ["Shot,Club,Time,Carry (m)"]
    at = DAY
    for n, balls in enumerate(stretches):
        at += timedelta(minutes=5) if n else timedelta()
        for ball in range(balls):
            at += timedelta(seconds=25 + ball % 3 * 4)
            club = clubs[n % len(clubs)]
            time = at.isoformat(" ") if timed else ""
            rows.append(f"{len(rows)},{club},{time},{130 + ball % 5}")
    return "\n".join(rows) + "\n"


def seen(root: Path) -> SeenLesson:
    """What the newest lesson of the only student shows, its notes unread."""
    found, _ = survey(root)
    coach, _ = read_coach(root)
    assert found is not None
    assert coach is not None
    paths = found.students[0]
    student, _ = read_student(found.root, paths, coach)
    assert student is not None
    lesson = paths.lessons[-1]
    setting = setting_of(None, coach, student)
    table, _ = read_shots(found.root, lesson.tables, setting) if lesson.tables else (None, ())
    last = said_last_time(found.root, lesson, KEYS, KNOWN)
    return SeenLesson(lesson.on, coach, student, table, (), last)


def written(lessons: MakeFolder, changes: Mapping[str, str | bytes | None]) -> str:
    root = lessons({f"{LATER}/notes.md": EMPTY, **changes})
    text = begun(first_notes(seen(root)), told)
    (root / LATER / "notes.md").write_text(text, encoding="utf-8")
    return text


def taken(root: Path, *lines: str) -> StudentFolder:
    """What is read once the # is taken from ``lines``."""
    file = root / LATER / "notes.md"
    text = file.read_text(encoding="utf-8")
    for line in lines:
        assert f"\n# {line}\n" in text, text
        text = text.replace(f"\n# {line}\n", f"\n{line}\n")
    file.write_text(text, encoding="utf-8")
    return whole(root)


def test_one_club_and_one_pause_are_filled_in_and_nothing_is_amiss(
    lessons: MakeFolder, tmp_path: Path
) -> None:
    text = written(lessons, {f"{LATER}/shots.csv": shots(8, 9)})
    assert "# The only club in the shots (17 of 17).\nclub: 7 iron\n" in text
    assert "# There's one clear pause, 5 minutes after shot 8." in text
    assert "shots: {before: 1-8, after: 9-17}\n" in text
    read = whole(tmp_path)
    assert read.problems == ()
    spans = [(span.block, span.first, span.last) for span in read.lessons[-1].notes.spans]
    assert spans == [(Block.BEFORE, 1, 8), (Block.AFTER, 9, 17)]
    assert read.lessons[-1].notes.club == "7 iron"
    assert read.lessons[-1].notes.declaration is None


@pytest.mark.parametrize(
    ("csv", "offered"),
    [
        (shots(4, 8, 9), "shots: {before: 1-4, drill: 5-12, after: 13-21}"),
        (shots(4, 8, 9), "shots: {warm-up: 1-4, before: 5-12, after: 13-21}"),
        (shots(4, 8, 6, 9), "shots: {warm-up: 1-4, before: 5-12, drill: 13-18, after: 19-27}"),
        (shots(8, 9, clubs=("driver", "7 iron")), "club: 7 iron"),
        (shots(8, 9, clubs=("driver", "7 iron")), "shots: {before: 1-8, after: 9-17}"),
        (shots(2, 9), "shots: {before: 1-2, after: 3-11}"),
    ],
)
def test_what_may_be_otherwise_is_offered_as_a_comment(
    lessons: MakeFolder, tmp_path: Path, csv: str, offered: str
) -> None:
    text = written(lessons, {f"{LATER}/shots.csv": csv})
    assert f"\n# {offered}\n" in text
    assert f"\n{offered}\n" not in text
    assert taken(tmp_path, offered).problems == ()


@pytest.mark.parametrize("csv", [shots(17, timed=False), shots(17)])
def test_shots_that_nothing_parts_are_asked_for(
    lessons: MakeFolder, tmp_path: Path, csv: str
) -> None:
    text = written(lessons, {f"{LATER}/shots.csv": csv})
    assert "# Shots 1 to 17, with no clear pause between them." in text
    assert "# shots: {before: , after: }\n" in text
    assert whole(tmp_path).problems == ()


def test_a_phase_column_leaves_nothing_to_write(lessons: MakeFolder, tmp_path: Path) -> None:
    rows = ["Phase,Carry (m)", *["before,130"] * 4, *["after,135"] * 5]
    text = written(lessons, {f"{LATER}/shots.csv": "\n".join(rows)})
    assert "# The shots file already says which block each ball is in: before 4, after 5." in text
    assert "\nshots:" not in text.replace("# ", "")
    assert whole(tmp_path).problems == ()


def test_the_number_of_last_time_is_offered_with_its_goal(
    lessons: MakeFolder, tmp_path: Path
) -> None:
    text = written(lessons, {
        "Marta/2027-04-11/notes.md": (
            "---\nintent: 'Hum: one even note'\nnumber: carry\nwant: 130 to 140 m\nmatters: 2 m\n"
            "must not lose: {side spread: 2 m}\nchosen: before\nclub: 7 iron\nkind: putting\n"
            "shots: {before: 1-4, after: 5-12}\n"
            "conditions: {ball: range, temperature: 14 C}\n---\n"
        ),
        f"{LATER}/shots.csv": shots(8, 9).replace("Carry (m)", "Carry (m),Carry Side (m; + right)")
        .replace("\n", ",1\n").replace("right),1", "right)"),
    })  # fmt: skip
    assert "# Last time (2027-04-11): Hum: one even note. To use it again" in text
    assert "\nnumber:" not in text
    read = taken(
        tmp_path, "number: carry", "want: 130 to 140 m", "matters: 2 m",
        "must not lose: {side spread: 2 m}", "chosen: before the after-shots",
        "kind: as last time", "conditions: {ball: as last time}", "moved: nothing",
        "next: in 3 weeks",
    )  # fmt: skip
    assert [p for p in read.problems if p.where.file.startswith(LATER)] == []
    aim = read.lessons[-1].notes.declaration
    assert aim is not None
    assert (aim.quantity.value, aim.smallest_change, aim.stated) == ("carry", 2.0, True)
    assert read.lessons[-1].notes.conditions.ball == "range"
    assert read.lessons[-1].notes.conditions.temperature_c is None


def test_a_number_that_today_has_not_is_told_and_not_offered(
    lessons: MakeFolder, tmp_path: Path
) -> None:
    text = written(lessons, {
        "Marta/2027-04-11/notes.md": "---\nintent: Hum\nnumber: club path\nwant: square\n---\n",
        f"{LATER}/shots.csv": shots(8, 9),
    })  # fmt: skip
    assert "the number was club path, but today's shots don't have it." in text
    assert "Today's shots have: carry." in text
    assert "\nnumber:\nwant:\nmatters:\n" in text
    assert [p for p in whole(tmp_path).problems if p.where.file.startswith(LATER)] == []


def test_what_is_usual_is_said_and_not_written(lessons: MakeFolder, tmp_path: Path) -> None:
    usual = "usually: {ball: range, surface: mat, moved: nothing, matters: {carry: 2 m}}\n"
    coach = "coach: Ines Falk\nunits: {speed: mph, length: m, temperature: C}\n" + usual
    text = written(lessons, {"coach.yml": coach, f"{LATER}/shots.csv": shots(8, 9)})
    said = "As usual, unless you write something else: ball range, surface mat, moved nothing"
    assert f"{said}, matters." in text.replace("\n# ", " ")
    assert "# moved" not in text
    assert "\nmatters:" not in text
    notes = whole(tmp_path).lessons[-1].notes
    assert [each.key for each in notes.filled] == ["ball", "surface", "moved"]


def test_clips_are_listed_as_found_and_what_is_open_stands_last(lessons: MakeFolder) -> None:
    names = ("face on before shot 3.mov", "IMG_0410.mov", "IMG_0412.mov")
    files = {f"{LATER}/{name}": b"x" for name in names}
    root = lessons({f"{LATER}/notes.md": EMPTY, f"{LATER}/shots.csv": shots(8, 9), **files})
    shown = {clip.path.name: clip for clip in whole(root).lessons[-1].clips}
    clips = (
        SeenClip(shown[names[0]], strike=Strike(1.84, ImpactFrom.SOUND)),
        SeenClip(replace(shown[names[1]], shot=12), by_time=True),
        SeenClip(shown[names[2]], strike=Strike(1.2, ImpactFrom.GUESS), impacts_s=(1.2, 2.5)),
    )
    text = begun(first_notes(replace(seen(root), clips=clips)), told)
    assert (
        "clips:\n"
        "  # We found impact at 1.84 s. If that's right, there's nothing to write.\n"
        "  - {file: face on before shot 3.mov, view: face on, shot: 3}\n"
        "  # Shot 12, going by its time.\n"
        '  - {file: "IMG_0410.mov", shot: 12, view: }\n'
        "  # We aren't sure where impact is. It may be at 1.20, 2.50 s.\n"
        '  - {file: "IMG_0412.mov", view: , block: , impact: }\n'
    ).replace('"', "") in text.replace('"', "")
    (root / LATER / "notes.md").write_text(text, encoding="utf-8")
    read = whole(root)
    assert read.problems == ()
    first, second, third = read.lessons[-1].clips
    assert (first.view, first.shot, first.impact_s) == (View.FACE_ON, 3, None)
    assert (second.view, second.shot) == (None, 12)
    assert (third.view, third.shot, third.block) == (None, None, None)


def test_notes_that_are_there_keep_every_letter_and_get_what_they_lack(
    lessons: MakeFolder,
) -> None:
    mine = "---\nintent: Hum   # my own words\n\nclub: driver\n---\nKeep *that*.\n"
    root = lessons({f"{LATER}/notes.md": mine, f"{LATER}/shots.csv": shots(8, 9)})
    after = completed(mine, first_notes(seen(root)), told)
    assert after is not None
    added = [line for line in after.split("\n") if line not in mine.split("\n")]
    assert [line for line in added if not line.startswith("#")] == [
        "shots: {before: 1-8, after: 9-17}"
    ]
    assert [line for line in after.split("\n") if line not in added] == mine.split("\n")
    assert completed(after, first_notes(seen(root)), told) == after
    assert completed("---\nclub: {\n---\n", first_notes(seen(root)), told) is None


HOSTILE = ("a: b # c", "- x", "'", '"', "{", "yes\n---\nclub: driver", "\u202eevil", "---", "# x")


@pytest.mark.parametrize("words_typed", HOSTILE)
def test_whatever_a_cell_or_a_name_says_stays_a_value(
    lessons: MakeFolder, tmp_path: Path, words_typed: str
) -> None:
    cell = '"' + words_typed.replace('"', '""') + '"'
    csv = shots(8, 9).replace("7 iron", cell)
    text = written(lessons, {f"{LATER}/shots.csv": csv})
    read = whole(tmp_path)
    assert {p.code.slug for p in read.problems} <= {"shots-club-unknown", "hidden-character"}, text
    assert read.lessons[-1].notes.words == ""
    assert read.lessons[-1].notes.intent is None
