"""``lock: yes``: what is published of a student tells nothing without the words."""

import base64
import gzip
import re
import shutil
from collections.abc import Callable, Iterable
from contextlib import suppress
from pathlib import Path

import pytest
from cryptography.exceptions import InvalidTag

from recapgen.app.new_locks import LockChange, change_lock
from recapgen.model.problem import Code
from tests.end_to_end.small_lessons import TODAY, Ran, add_student, recapgen, tree
from tests.locking.opening import open_site, sealed_box

CANARIES = (
    "Brida", "brida-folder", "Ada Quill", "Slide along the wall", "Keep the wall behind you",
    "club path", "2027-04-11", "11 April", "6.3", "driver", "practice.ics",
)  # fmt: skip
OWN_FILES = re.compile(r"assets/(?:card-\w+\.css|[\w-]+\.(?:js|woff2)|OFL-\w+\.txt)")


@pytest.fixture
def lock(lessons: Path) -> Callable[[str], None]:
    """Write what ``lock:`` says in Brida's file."""

    def write(said: str) -> None:
        file = lessons / "brida-folder" / "student.yml"
        lines = [line for line in file.read_text("utf-8").splitlines() if "lock" not in line]
        file.write_text("\n".join([*lines, *([f"lock: {said}"] if said else [])]) + "\n", "utf-8")

    return write


def words_of(lessons: Path) -> str:
    return recapgen("lock", lessons / "brida-folder").out.strip()


def locked(out: Path) -> Path:
    (site,) = (
        page.parent
        for page in (out / "site").glob("*/index.html")
        if "data-lock" in page.read_text("utf-8")
    )
    return site


def shown(out: Path, name: str) -> bool:
    return any(name.encode() in text for text in tree(out / "site").values())


def forms_of(canary: str) -> Iterable[bytes]:
    """As it may stand in a file: in letters of one or two bytes, in base64 at any place."""
    yield from (canary.encode(), canary.encode("utf-16-le"), canary.encode().hex().encode())
    for shift in range(3):
        coded = base64.b64encode(b"\0" * shift + canary.encode())
        yield coded[4 if shift else 0 : -4]


def test_the_locked_folder_holds_nothing_that_tells(
    lessons: Path, out: Path, build: Callable[..., Ran], lock: Callable[[str], None]
) -> None:
    lock("yes")
    assert build().code == 0
    site, words = locked(out), words_of(lessons)
    opened = open_site(site, words)
    # The reader's own search finds in the open form what it must not find in the locked one.
    open_text = b"".join(opened.files.values())
    assert [c for c in CANARIES if c.encode() not in open_text] == ["brida-folder", "practice.ics"]
    told = {path: text for path, text in tree(site).items() if not OWN_FILES.fullmatch(path)}
    for path, text in told.items():
        unpacked = [text]
        if path.startswith("sealed/"):
            box = sealed_box(site / path, Path(path).stem)
            unpacked.append(box)
            with suppress(OSError, EOFError):
                unpacked.append(gzip.decompress(box[12:]))
        for canary in (*CANARIES, words, words.replace("-", " ")):
            assert canary.encode() not in text, (canary, path)
            for form in forms_of(canary):
                if len(form) >= 5:  # shorter ones stand anywhere by chance
                    assert not any(form in each for each in unpacked), (canary, path)
    assert all(
        re.fullmatch(r"sealed/[2-9b-z]{20}\.js", path)
        for path in told
        if "/" in path and "assets" not in path
    )
    assert set(told) - {p for p in told if p.startswith(("sealed/", "assets/"))} == {
        "index.html", "sw.js", "card.webmanifest", "fingerprints.txt",
    }  # fmt: skip
    assert len(set(opened.nonces)) == len(opened.nonces)
    assert not shown(out, "Slide along the wall until you count 5")
    assert shown(out, "Slide along the wall until you count 6")  # Corvin's, who has no lock


def test_an_unchanged_lesson_is_unchanged_bytes_and_a_changed_one_changes_little(
    lessons: Path, out: Path, build: Callable[..., Ran], lock: Callable[[str], None], tmp_path: Path
) -> None:
    lock("yes")
    build()
    before = tree(locked(out))
    ran = build("--today", "2027-06-02")
    assert "(0 written" in ran.out + ran.err
    assert tree(locked(out)) == before
    clean = tmp_path / "clean"
    recapgen("build", lessons, "--out", clean, "--today", TODAY)
    assert tree(locked(clean)) == before
    notes = lessons / "brida-folder" / "2027-04-11" / "notes.md"
    notes.write_text(notes.read_text("utf-8") + "And breathe.\n", "utf-8")
    build()
    after = tree(locked(out))
    same = {path for path in before if before[path] == after.get(path)}
    assert {"assets/unlock.js", "card.webmanifest"} <= same
    assert len([path for path in same if path.startswith("sealed/")]) >= 3
    page = next(
        text
        for path, text in open_site(locked(out), words_of(lessons)).files.items()
        if path.startswith("2027")
    )
    assert b"And breathe." in page


def test_new_words_change_one_page_and_a_new_key_every_file(
    lessons: Path, out: Path, build: Callable[..., Ran], lock: Callable[[str], None]
) -> None:
    lock("yes")
    build()
    before, old = tree(locked(out)), words_of(lessons)
    ran = recapgen("lock", lessons / "brida-folder", "--new-words")
    new = ran.out.strip()
    assert (ran.code, new != old) == (0, True)
    build()
    after = tree(locked(out))
    assert before.keys() == after.keys()
    changed = {p for p in before if before[p] != after[p]}
    assert changed == {"index.html", "sw.js", "fingerprints.txt"}
    assert open_site(locked(out), new).files
    with pytest.raises(InvalidTag):
        open_site(locked(out), old)
    newest = recapgen("lock", lessons / "brida-folder", "--new-key").out.strip()
    build()
    again = tree(locked(out))
    assert not {p for p in after if p.startswith("sealed/")} & again.keys()
    assert open_site(locked(out), newest).files
    slip = (out / "coach_book" / "slip-brida-folder.html").read_text("utf-8")
    assert all(f"<b>{word}</b>" in slip for word in newest.split("-"))


@pytest.mark.parametrize("harm", ["damaged", "lost"])
def test_without_its_lock_nothing_goes_up_and_what_is_up_stays(
    harm: str, lessons: Path, out: Path, build: Callable[..., Ran], lock: Callable[[str], None]
) -> None:
    lock("yes")
    build()
    before = tree(locked(out))
    (file,) = (lessons / ".recapgen" / "locks").iterdir()
    if harm == "lost":
        file.unlink()
    else:
        file.write_text(file.read_text()[:-40])
    notes = lessons / "brida-folder" / "2027-04-11" / "notes.md"
    notes.write_text(notes.read_text("utf-8") + "And breathe.\n", "utf-8")
    ran = build()
    assert f"[lock-{harm}]" in ran.out + ran.err
    assert ran.code == 1
    if harm == "damaged":
        for _ in range(2):  # worked out, and as the build kept it
            assert "[lock-damaged]" in recapgen("check", lessons, "--today", TODAY).err
    assert tree(locked(out)) == before
    recapgen("lock", lessons / "brida-folder", "--new-key")
    assert build().code == 0
    assert tree(locked(out)) != before


@pytest.mark.parametrize("said", ["perhaps", "maybe later", '""'])
def test_a_lock_that_cannot_be_read_publishes_nothing(
    said: str, out: Path, build: Callable[..., Ran], lock: Callable[[str], None]
) -> None:
    lock(said)
    assert build().code == 1
    assert not shown(out, "Slide along the wall until you count 5")


@pytest.mark.parametrize("key", ["lok", "locked", "password", "schloss"])
def test_a_lock_by_another_name_is_never_an_open_page(
    key: str, lessons: Path, out: Path, build: Callable[..., Ran]
) -> None:
    file = lessons / "brida-folder" / "student.yml"
    file.write_text(file.read_text("utf-8") + f"{key}: yes\n", "utf-8")
    build()
    assert not shown(out, "Slide along the wall until you count 5")


def test_who_was_open_is_locked_at_once_even_where_the_lesson_is_held_back(
    lessons: Path, out: Path, build: Callable[..., Ran], lock: Callable[[str], None]
) -> None:
    build()
    assert shown(out, "Slide along the wall until you count 5")
    lock("yes")
    notes = lessons / "brida-folder" / "2027-04-11" / "notes.md"
    whole = notes.read_text("utf-8")
    notes.write_text(whole.replace("want: 2 left", "want: two lefts"), "utf-8")
    ran = build("--only", "Corvin")
    assert "[lock-new]" in ran.out + ran.err
    assert not shown(out, "Slide along the wall until you count 5")
    ran = build()
    assert ran.code == 1
    files = open_site(locked(out), words_of(lessons)).files
    assert any(b"Slide along the wall until you count 5" in text for text in files.values())
    notes.write_text(whole, "utf-8")
    build()
    lock("no")
    ran = build()
    assert "[lock-taken-off]" in ran.out + ran.err
    assert shown(out, "Slide along the wall until you count 5")
    assert list((out / ".recapgen" / "unsealed").iterdir()) == []
    assert not (out / "coach_book" / "slip-brida-folder.html").exists()


def test_consent_and_a_folder_that_is_gone_take_everything_down(
    lessons: Path, out: Path, build: Callable[..., Ran], lock: Callable[[str], None]
) -> None:
    lock("yes")
    build()
    site = locked(out)
    file = lessons / "brida-folder" / "student.yml"
    agreed = file.read_text("utf-8")
    file.write_text(agreed.replace("page: yes", "page: no"), "utf-8")
    build()
    assert not (site / "sealed").exists()
    assert list((out / ".recapgen" / "unsealed").iterdir()) == []
    file.write_text(agreed, "utf-8")
    build()
    site = locked(out)  # an address that was withdrawn is never used again
    assert (site / "sealed").is_dir()
    shutil.rmtree(lessons / "brida-folder")
    build()
    assert not (site / "sealed").exists()
    assert list((out / ".recapgen" / "unsealed").iterdir()) == []


def test_a_leak_is_found_before_anything_is_sealed(
    lessons: Path, out: Path, build: Callable[..., Ran], lock: Callable[[str], None]
) -> None:
    lock("yes")
    build()
    before = tree(locked(out))
    notes = lessons / "brida-folder" / "2027-04-11" / "notes.md"
    notes.write_text(notes.read_text("utf-8") + "Practise with Corvin.\n", "utf-8")
    ran = build()
    assert "[other-student-named]" in ran.out + ran.err
    assert tree(locked(out)) == before


def test_coach_yml_locks_everybody_but_who_says_no(
    lessons: Path, out: Path, build: Callable[..., Ran]
) -> None:
    coach = lessons / "coach.yml"
    coach.write_text("coach: Ada Quill\nlock: yes\n", "utf-8")
    file = lessons / "corvin-folder" / "student.yml"
    file.write_text(file.read_text("utf-8") + "lock: no\n", "utf-8")
    build()
    assert not shown(out, "Slide along the wall until you count 5")
    assert shown(out, "Slide along the wall until you count 6")


def test_shares_of_a_locked_student_join(
    lessons: Path, tmp_path: Path, lock: Callable[[str], None]
) -> None:
    lock("yes")
    shares = [tmp_path / f"share{i}" for i in (1, 2)]
    for number, share in enumerate(shares, 1):
        recapgen("build", lessons, "--out", share, "--shard", f"{number}/2", "--today", TODAY)
    whole, joined = tmp_path / "whole", tmp_path / "joined"
    recapgen("join", *shares, "--out", joined, "--today", TODAY)
    recapgen("build", lessons, "--out", whole, "--today", TODAY)
    assert tree(locked(joined)) == tree(locked(whole))
    assert tree(joined / "site") == tree(whole / "site")


def test_where_no_lock_can_be_kept_what_was_open_comes_down(
    lessons: Path, out: Path, build: Callable[..., Ran], lock: Callable[[str], None]
) -> None:
    build()
    (lessons / ".recapgen" / "locks").write_text("in the way", "utf-8")
    lock("yes")
    ran = build()
    assert (ran.code, "[lock-unwritable]" in ran.out + ran.err) == (1, True)
    assert not shown(out, "Slide along the wall until you count 5")


def test_words_of_ones_own_open_it_once_they_are_long_enough(
    lessons: Path, out: Path, build: Callable[..., Ran], lock: Callable[[str], None]
) -> None:
    lock("yes")
    build()
    short = change_lock(lessons / "brida-folder", LockChange.WORDS, "hum hum hum")
    assert [problem.code for problem in short.problems] == [Code.LOCK_WORDS_SHORT]
    told = change_lock(lessons / "brida-folder", LockChange.WORDS, "Einmal  Summen und Atmen").value
    assert told is not None
    assert told.passphrase.split("-") == ["einmal", "summen", "und", "atmen"]
    build()
    assert open_site(locked(out), told.passphrase).files


def test_a_single_file_of_a_locked_lesson_is_refused(
    lessons: Path, out: Path, build: Callable[..., Ran], lock: Callable[[str], None]
) -> None:
    lock("yes")
    build()
    ran = recapgen(
        "one-page", lessons / "brida-folder" / "2027-04-11", "--out", out, "--today", TODAY
    )
    assert (ran.code, "[one-page-locked]" in ran.err) == (2, True)
    assert not (out / "one_page").exists()


def test_the_command_says_what_it_cannot_do(lessons: Path, build: Callable[..., Ran]) -> None:
    build()
    for folder, code in (("brida-folder", "lock-not-on"), ("nobody", "lock-nobodys")):
        ran = recapgen("lock", lessons / folder)
        assert (ran.code, f"[{code}]" in ran.err) == (2, True)
    add_student(lessons, "Dorn")
    file = lessons / "dorn-folder" / "student.yml"
    file.write_text(file.read_text("utf-8") + "lock: yes\n", "utf-8")
    ran = recapgen("lock", lessons / "dorn-folder")
    assert (ran.code, "[lock-not-on]" in ran.err) == (2, True)
