"""``recapgen new``: messy inboxes, sorted, moved whole, and asked about where nothing tells."""

import os
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from recapgen.desk import moving_in
from recapgen.desk.new_lessons import take_in
from recapgen.intake.folder import survey
from recapgen.model.question import ChangeFile, WhichDay, WhichFolder, WhoseFiles
from recapgen.model.taken_in import LeftBecause, NotesState
from recapgen.words.catalogue import words
from recapgen.words.new_sentences import answer_wanted, question_lines
from recapgen.words.notes_remarks import remark
from tests.clips.phone_clips import film
from tests.desk.inbox import LESSON, SHOTS, TODAY, Coach, MakeFolder, by_player, left, new
from tests.end_to_end.small_lessons import tree
from tests.intake.test_first_notes import shots

JONAS = {
    "Jonas/student.yml": "name: Jonas Berg\nhand: left\n",
    "Jonas/2027-04-04/notes.md": "---\nintent: Turn\n---\n",
}


def test_the_files_own_player_says_whose_they_are(lessons: MakeFolder) -> None:
    root = lessons({**JONAS, "inbox/session.csv": by_player(SHOTS, "Berg, Jonas"),
                    "inbox/other.csv": by_player(SHOTS, "Marta")})  # fmt: skip
    coach = Coach()
    taken = new(root, coach)
    assert coach.asked == []
    assert {lesson.folder: lesson.files for lesson in taken.lessons} == {
        "Jonas/2027-04-18": ("session.csv",),
        LESSON: ("other.csv",),
    }
    assert not taken.open
    assert "club: 7 iron" in (root / LESSON / "notes.md").read_text(encoding="utf-8")
    assert list((root / "inbox").iterdir()) == []


def test_a_file_that_nobody_is_named_in_is_asked_about_never_guessed(lessons: MakeFolder) -> None:
    root = lessons({**JONAS, "inbox/session.csv": SHOTS})
    silent = new(root)
    assert left(silent) == {"session.csv": LeftBecause.WHOSE}
    assert silent.open
    assert (root / "inbox/session.csv").is_file()
    coach = Coach("2")
    taken = new(root, coach)
    (asked,) = coach.asked
    assert asked == WhoseFiles(("session.csv",), TODAY, ("Marta", "Jonas"), likely=False)
    assert [lesson.folder for lesson in taken.lessons] == ["Jonas/2027-04-18"]


@pytest.mark.parametrize(
    "answers", [("",), ("-",), (), ("99", "0", "/etc"), ("inbox",), ("Maria",)]
)
def test_what_is_no_answer_leaves_the_files_where_they_are(
    lessons: MakeFolder, answers: tuple[str, ...]
) -> None:
    root = lessons({**JONAS, "inbox/session.csv": SHOTS})
    before = tree(root)
    taken = new(root, Coach(*answers))
    assert left(taken) == {"session.csv": LeftBecause.WHOSE}
    assert tree(root) == before


def test_a_new_name_makes_a_new_student_and_one_nearly_there_is_asked_again(
    lessons: MakeFolder,
) -> None:
    root = lessons({"inbox/session.csv": SHOTS})
    coach = Coach("Martha", "Martha")
    new(root, coach)
    assert len(coach.asked) == 2
    assert question_lines(coach.asked[1], words("en"))[0].startswith("“Martha” is nearly Marta.")
    assert (root / "Martha/2027-04-18/session.csv").is_file()


def test_an_answer_that_is_none_is_told_before_it_is_asked_again(lessons: MakeFolder) -> None:
    coach = Coach("99", "x")
    new(lessons({**JONAS, "inbox/session.csv": SHOTS}), coach)
    first, *again = (question_lines(each, words("en")) for each in coach.asked)
    assert [lines[0].partition(" ")[0] for lines in again] == ["“99”", "“x”"]
    assert all(lines[1:] == first for lines in again)


def test_where_there_is_no_file_nothing_is_said_of_an_inbox(lessons: MakeFolder) -> None:
    coach = Coach("-")
    assert new(lessons({}), coach).open
    (asked,) = coach.asked
    assert "inbox" not in answer_wanted(asked, words("en"))
    assert question_lines(asked, words("en")) == (
        "Who's having a lesson today (2027-04-18)?",
        "  1  Marta",
    )


def test_the_student_given_is_whose_it_all_is_unless_a_file_says_otherwise(
    lessons: MakeFolder,
) -> None:
    root = lessons({**JONAS, "inbox/session.csv": SHOTS, "inbox/IMG_0410.mov": b"no film",
                    "inbox/his.csv": by_player(SHOTS, "Jonas Berg")})  # fmt: skip
    taken = new(root, Coach(), "marta")
    (lesson,) = taken.lessons
    assert (lesson.folder, sorted(lesson.files)) == (LESSON, ["IMG_0410.mov", "session.csv"])
    assert left(taken) == {"his.csv": LeftBecause.WHOSE}


def test_without_anything_there_todays_folder_is_made(lessons: MakeFolder) -> None:
    root = lessons({"inbox/.DS_Store": b""})
    taken = new(root, student="Marta")
    assert [(each.folder, each.notes) for each in taken.lessons] == [(LESSON, NotesState.BEGUN)]
    notes = (root / LESSON / "notes.md").read_text(encoding="utf-8")
    assert "# Last time (2027-04-11): Hum one even note." in notes
    again = new(root, student="Marta")
    assert [(each.folder, each.notes) for each in again.lessons] == [
        (LESSON, NotesState.AS_THEY_WERE)
    ]
    assert (root / LESSON / "notes.md").read_text(encoding="utf-8") == notes


def test_nothing_is_overwritten_and_the_same_file_is_not_kept_twice(lessons: MakeFolder) -> None:
    root = lessons({
        f"{LESSON}/notes.md": "---\nintent: Mine\n---\nMy words.\n",
        f"{LESSON}/shots.csv": "Shot,Carry (m)\n1,99\n",
        f"{LESSON}/clip.mov": b"one",
        "inbox/shots.csv": SHOTS, "inbox/clip.mov": b"one",
    })  # fmt: skip
    coach = Coach("no")
    taken = new(root, coach, "Marta")
    (lesson,) = taken.lessons
    assert set(lesson.files) == {"shots 2.csv", "clip.mov"}
    assert (root / LESSON / "shots.csv").read_text() == "Shot,Carry (m)\n1,99\n"
    assert (root / LESSON / "shots 2.csv").read_text() == SHOTS
    assert (root / LESSON / "notes.md").read_text() == "---\nintent: Mine\n---\nMy words.\n"
    assert lesson.notes is NotesState.OPEN
    assert list((root / "inbox").iterdir()) == []
    (asked,) = coach.asked
    assert isinstance(asked, ChangeFile)
    assert "clips:" in asked.after


@pytest.mark.parametrize("end", ["\n", "\r\n"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_after_a_yes_what_was_typed_keeps_every_byte_and_the_old_file_is_kept(
    lessons: MakeFolder, end: str, encoding: str
) -> None:
    mine = end.join(("---", "intent: Hüm   # mine", "---", "My words.", "", "")).encode(encoding)
    root = lessons({f"{LESSON}/notes.md": mine, "inbox/shots.csv": SHOTS})
    taken = new(root, Coach("yes"), "Marta")
    assert taken.lessons[0].notes is NotesState.COMPLETED
    after = (root / LESSON / "notes.md").read_bytes()
    told = after.decode(encoding)
    assert f"shots: {{before: 1-8, after: 9-17}}{end}---{end}My words.{end}{end}" in told
    added = told.split("# mine" + end)[1].split(f"---{end}My")[0]
    assert told.replace(added, "").encode(encoding) == mine
    (kept,) = (root / ".recapgen/before" / LESSON).iterdir()
    assert kept.read_bytes() == mine


def test_an_export_that_came_twice_is_taken_once(lessons: MakeFolder) -> None:
    root = lessons({"inbox/shots.csv": SHOTS, "inbox/shots (1).csv": SHOTS})
    taken = new(root, student="Marta")
    assert taken.lessons[0].files == ("shots.csv",)
    assert left(taken) == {"shots (1).csv": LeftBecause.SAME}
    assert not taken.open
    assert (root / "inbox/shots (1).csv").read_text() == SHOTS


def test_a_clip_that_comes_later_is_offered_for_the_list(lessons: MakeFolder) -> None:
    mine = "---\nintent: Hum\nfilms:\n  - {file: a.mov, view: face on}  # mine\n---\nHi.\n"
    root = lessons({f"{LESSON}/notes.md": mine, f"{LESSON}/a.mov": b"a",
                    "inbox/face on after.mov": b"b"})  # fmt: skip
    taken = new(root, Coach("2027-04-18", "yes"), "Marta")
    assert taken.lessons[0].notes is NotesState.COMPLETED
    item = "  - {file: face on after.mov, view: face on, block: after}\n"
    assert (root / LESSON / "notes.md").read_text() == mine.replace("# mine\n", f"# mine\n{item}")


def test_notes_from_the_range_page_come_with_the_rest(lessons: MakeFolder) -> None:
    text = (
        "---\n# 2027-04-18, M\nintent: Hum\nshots: {before: 10:00-10:05, after: 10:08-10:15}\n---\n"
    )
    root = lessons({**JONAS, "inbox/notes (3).md": text, "inbox/shots.csv": SHOTS})
    coach = Coach("", "yes")
    taken = new(root, coach)
    ask = coach.asked[0]
    assert isinstance(ask, WhoseFiles)
    assert (ask.files, ask.people[0], ask.likely) == (
        ("shots.csv", "notes (3).md"), "Marta", True,
    )  # fmt: skip
    (lesson,) = taken.lessons
    assert lesson.folder == LESSON
    assert "notes.md" in lesson.files
    assert (
        (root / LESSON / "notes.md").read_text(encoding="utf-8").startswith("---\n# 2027-04-18, M")
    )
    assert "club: 7 iron" in (root / LESSON / "notes.md").read_text(encoding="utf-8")


def test_a_drop_of_two_students_on_two_days_becomes_their_lessons(lessons: MakeFolder) -> None:
    other = SHOTS.replace("2027-04-18", "2027-04-17")
    root = lessons({**JONAS,
        "inbox/Marta 7 iron.csv": SHOTS, "inbox/jonas_berg.csv": other,
        "inbox/Jonas/VID_20270417_100300.mp4": b"-", "inbox/marta-20270418.mov": b"-",
        "inbox/IMG_9.heic": b"-",
    })  # fmt: skip
    taken = new(root)
    assert {each.folder: set(each.files) for each in taken.lessons} == {
        "Jonas/2027-04-17": {"jonas_berg.csv", "VID_20270417_100300.mp4"},
        LESSON: {"Marta 7 iron.csv", "marta-20270418.mov"},
    }
    assert left(taken) == {"IMG_9.heic": LeftBecause.NOT_OURS}
    assert not taken.open


def test_one_table_of_two_students_is_brought_to_both(lessons: MakeFolder) -> None:
    both = by_player(SHOTS, "Marta") + by_player(SHOTS, "Jonas Berg").split("\n", 1)[1]
    root = lessons({**JONAS, "inbox/both.csv": both})
    taken = new(root)
    assert {each.folder for each in taken.lessons} == {"Jonas/2027-04-18", LESSON}
    assert (root / "Jonas/2027-04-18/both.csv").read_text() == both
    assert (root / LESSON / "both.csv").read_text() == both
    assert list((root / "inbox").iterdir()) == []


def test_hostile_names_links_and_files_still_copying_stay(
    lessons: MakeFolder, tmp_path: Path
) -> None:
    root = lessons({"inbox/shots.csv": SHOTS, "inbox/growing.mov": b"1", "inbox/.hidden.csv": "x",
                    "inbox/bad\u202ename.csv": SHOTS,
                    "inbox/-rf.csv": SHOTS + "18,,,,\n"})  # fmt: skip
    secret = tmp_path.parent / f"{tmp_path.name}.csv"
    secret.write_text(SHOTS)
    (root / "inbox/link.csv").symlink_to(secret)
    os.mkfifo(root / "inbox/pipe.csv")

    def more(_: float) -> None:
        with (root / "inbox/growing.mov").open("ab") as file:
            file.write(b"2")

    taken, _ = take_in(root, "Marta", Coach(), lambda s: remark(s, words("en")), TODAY, rest=more)
    assert taken is not None
    assert left(taken) == {
        "growing.mov": LeftBecause.COPYING, "bad\u202ename.csv": LeftBecause.NAME,
        "link.csv": LeftBecause.LINK, "pipe.csv": LeftBecause.NOT_OURS,
    }  # fmt: skip
    assert set(taken.lessons[0].files) == {"shots.csv", "-rf.csv"}
    assert secret.read_text() == SHOTS
    assert (root / "inbox/link.csv").is_symlink()
    assert (root / "inbox/.hidden.csv").is_file()


def test_a_folder_without_notes_gets_them(lessons: MakeFolder) -> None:
    root = lessons({f"{LESSON}/shots.csv": SHOTS})
    assert [each.notes for each in new(root).lessons] == [NotesState.BEGUN]
    assert (root / LESSON / "notes.md").is_file()


def test_a_day_that_nothing_tells_is_asked(lessons: MakeFolder) -> None:
    root = lessons({"inbox/untimed.csv": shots(8, 9, timed=False)})
    path = root / "inbox/untimed.csv"
    at = datetime(2027, 4, 15, 12, tzinfo=UTC).timestamp()
    os.utime(path, (at, at))
    assert left(new(root, student="Marta")) == {"untimed.csv": LeftBecause.WHEN}
    coach = Coach("2027-04-16")
    taken = new(root, coach, "Marta")
    assert coach.asked == [WhichDay(("untimed.csv",), date(2027, 4, 15))]
    assert taken.lessons[0].folder == "Marta/2027-04-16"


def test_of_two_lessons_on_a_day_the_coach_chooses(lessons: MakeFolder) -> None:
    empty = "---\nintent: Hum\n---\n"
    root = lessons({f"{LESSON}/notes.md": empty, f"{LESSON} wedges/notes.md": empty,
                    "inbox/shots.csv": SHOTS})  # fmt: skip
    assert left(new(root, student="Marta")) == {"shots.csv": LeftBecause.WHICH_FOLDER}
    coach = Coach("2")
    new(root, coach, "Marta")
    folders = (LESSON, f"{LESSON} wedges")
    assert coach.asked[0] == WhichFolder(("shots.csv",), folders)
    assert (root / f"{LESSON} wedges/shots.csv").is_file()


def test_where_a_file_has_but_one_name_or_another_disk_it_is_moved_all_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for code in (1, 18):  # not permitted, another disk
        source, folder = tmp_path / f"{code}.csv", tmp_path / f"to {code}"
        source.write_text("x")
        folder.mkdir()

        def refuse(self: Path, target: Path, code: int = code) -> None:
            raise OSError(code, f"{self} {target}")

        with monkeypatch.context() as patch:
            patch.setattr(Path, "hardlink_to", refuse)
            place = moving_in.bring_into(folder, source)
        assert place == folder / source.name
        assert place.read_text() == "x"
        assert not source.exists()
        assert [each.name for each in folder.iterdir()] == [source.name]


def test_the_inbox_is_nobody(lessons: MakeFolder) -> None:
    root = lessons({"INBOX/shots.csv": SHOTS, "INBOX/2027-04-18/notes.md": "---\n---\n"})
    found, problems = survey(root)
    assert found is not None
    assert [each.key for each in found.students] == ["Marta"]
    assert problems == ()


@pytest.mark.ffmpeg
def test_a_pause_tells_the_block_of_a_clip_before_anything_is_written(
    lessons: MakeFolder,
) -> None:
    root = lessons({"inbox/shots.csv": SHOTS})
    for name, minute in (("IMG_1.mov", 1), ("IMG_2.mov", 10)):
        told = f"creation_time=2027-04-18T10:{minute:02}:40Z"
        film(root / "inbox" / name, range(40), "-metadata", told, "-vf", "scale=90:160", rate="30")
    new(root, student="Marta")
    notes = (root / LESSON / "notes.md").read_text(encoding="utf-8")
    assert "# In the before block, going by its time." in notes
    assert "- {file: IMG_1.mov, block: before, view: , impact: }" in notes
    assert "- {file: IMG_2.mov, block: after, view: , impact: }" in notes
