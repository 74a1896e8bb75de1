"""Notes are saved for a page of ours alone, and never over somebody else's words."""

import json
from collections.abc import Iterator
from email.message import Message
from functools import partial
from hashlib import sha256
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from recapgen.app.watching import Watched
from recapgen.console import Console
from recapgen.desk import notes_saving
from recapgen.desk.notes_saving import save_notes
from recapgen.desk.worksheet_asking import ask_from_the_book
from recapgen.intake.worksheets_asked import worksheets_asked
from recapgen.model.notes_sent import NotesSent, SaveEnd, SheetDesk
from recapgen.serving.gate import MOST_SENT_BYTES
from recapgen.serving.page_host import PageHost
from recapgen.words.catalogue import words
from tests.serving.asking import Answer, ask, send_to, shown

LESSON = "marta/2027-04-11"
OLD = b"\xef\xbb\xbf---\r\nintent: Hum\r\n---\r\nKeep humming.\r\n"
NEW = "\ufeff---\r\nintent: Hum louder 😀\r\n---\r\nKeep humming.\r\n"


@pytest.fixture
def lessons(tmp_path: Path) -> Path:
    folder = tmp_path / "less" / LESSON
    folder.mkdir(parents=True)
    (folder / "notes.md").write_bytes(OLD)
    return tmp_path / "less"


def desk(lessons: Path) -> SheetDesk:
    """As the program has it, with an address of the worksheet that is easily known."""
    return SheetDesk(
        partial(save_notes, lessons),
        lambda lesson: "worksheet/x.html" if ask_from_the_book(lessons, lesson) else None,
    )


@pytest.fixture
def host(lessons: Path) -> Iterator[PageHost]:
    with shown({"site": lessons}, sheets=desk(lessons)) as host:
        yield host


def notes_in(lessons: Path) -> bytes:
    return (lessons / LESSON / "notes.md").read_bytes()


def digest(data: bytes) -> str:
    return sha256(data).hexdigest()


def sent(text: str = NEW, of: bytes = OLD, lesson: str = LESSON) -> bytes:
    return json.dumps({"lesson": lesson, "digest": digest(of), "text": text}).encode()


def send(host: PageHost, body: bytes, path: str = "save", **other: str) -> Answer:
    headers = {
        "Origin": host.gate.origin,
        "Sec_Fetch_Site": "same-origin",
        "Content_Type": "application/json",
        "Content_Length": str(len(body)),
    }
    return send_to(host, urlsplit(host.address).path + path, "POST", headers | other, body)


def test_notes_are_written_to_the_byte_and_the_old_ones_kept(host: PageHost, lessons: Path) -> None:
    answer = send(host, sent())
    assert answer.status == 200
    assert notes_in(lessons) == NEW.encode()
    assert json.loads(answer.body)["digest"] == digest(NEW.encode())
    (kept,) = (lessons / ".recapgen").rglob("notes.*.md")
    assert kept.read_bytes() == OLD


@pytest.mark.parametrize(
    ("other", "status"),
    [
        ({"Origin": "http://evil.example"}, 403),
        ({"Origin": "null"}, 403),
        ({"Origin": ""}, 403),
        ({"Sec_Fetch_Site": "same-site"}, 403),
        ({"Sec_Fetch_Site": "none"}, 403),
        ({"Host": "localhost"}, 421),
        ({"Content_Type": "text/plain"}, 415),
        ({"Content_Type": ""}, 415),
        ({"Content_Length": ""}, 411),
        ({"Content_Length": "-1"}, 411),
        ({"Content_Length": str(MOST_SENT_BYTES + 1)}, 413),
        ({"Transfer_Encoding": "chunked"}, 411),
    ],
)
def test_nobody_else_writes(
    host: PageHost, lessons: Path, other: dict[str, str], status: int
) -> None:
    assert send(host, sent(), **other).status == status
    assert notes_in(lessons) == OLD


@pytest.mark.parametrize("path", ["save/", "Save", "../save", "site/save", "", "save/notes.md"])
def test_there_is_one_place_to_save_at(host: PageHost, lessons: Path, path: str) -> None:
    assert send(host, sent(), path).status == 404
    assert ask(host, "save").status == 404, "nothing is read there"
    body = sent()
    told = send_to(
        host,
        f"/{'x' * 22}/save",
        "POST",
        {
            "Origin": host.gate.origin,
            "Content_Type": "application/json",
            "Content_Length": str(len(body)),
        },
        body,
    )
    assert told.status == 404
    assert notes_in(lessons) == OLD


@pytest.mark.parametrize(
    "lesson",
    [
        "marta/2027-04-11/../2027-04-11",
        "../less/marta/2027-04-11",
        "/marta/2027-04-11",
        "marta\\2027-04-11",
        "marta",
        "",
        ".recapgen/x",
        "marta/2027-04-12",
    ],
)
def test_only_a_lesson_of_the_folder_is_written(host: PageHost, lessons: Path, lesson: str) -> None:
    before = sorted(lessons.rglob("*"))
    assert send(host, sent(lesson=lesson)).status == 422
    assert sorted(lessons.rglob("*")) == before
    assert notes_in(lessons) == OLD


@pytest.mark.parametrize(
    "body",
    [b"", b"[]", b"null", b"{}", b'{"lesson":1,"digest":"","text":""}', b"\xff", b"[" * 20_000],
)
def test_what_is_no_notes_is_refused(host: PageHost, lessons: Path, body: bytes) -> None:
    assert send(host, body).status == 400
    assert notes_in(lessons) == OLD


def test_notes_changed_meanwhile_are_shown_and_not_written_over(
    host: PageHost, lessons: Path
) -> None:
    typed = b"---\nintent: Sing\n---\n"
    (lessons / LESSON / "notes.md").write_bytes(typed)
    answer = send(host, sent())
    assert answer.status == 409
    assert json.loads(answer.body) == {"digest": digest(typed), "text": typed.decode()}
    assert notes_in(lessons) == typed
    again = send(host, sent(of=typed))
    assert again.status == 200, "now it is known what it takes the place of"
    (kept,) = (lessons / ".recapgen").rglob("notes.*.md")
    assert kept.read_bytes() == typed


def test_what_is_typed_in_the_last_moment_stays(
    lessons: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    typed = b"---\nintent: Sing\n---\n"

    def and_somebody_types(path: Path, *_: object) -> None:
        path.write_bytes(typed)

    monkeypatch.setattr(notes_saving, "keep_before", and_somebody_types)
    kept = save_notes(lessons, NotesSent(LESSON, digest(OLD), NEW))
    assert (kept.end, kept.text) == (SaveEnd.MEANWHILE, typed.decode())
    assert notes_in(lessons) == typed


def test_a_link_and_a_letter_alone_are_refused(lessons: Path, tmp_path: Path) -> None:
    outside = tmp_path / "outside.md"
    outside.write_bytes(OLD)
    notes = lessons / LESSON / "notes.md"
    assert save_notes(lessons, NotesSent(LESSON, digest(OLD), "\ud83d")).end is SaveEnd.REFUSED
    notes.unlink()
    notes.symlink_to(outside)
    assert save_notes(lessons, NotesSent(LESSON, digest(OLD), NEW)).end is SaveEnd.REFUSED
    assert outside.read_bytes() == OLD


def test_a_phone_never_writes(lessons: Path) -> None:
    watched = Watched(lessons, lessons.with_name("out"), Console(words("en")))
    there = watched.shown_on("127.0.0.1", book=False)
    try:
        assert there.sheets is None
        assert there.gate.refuses("POST", Message()) is not None
    finally:
        there.server_close()
    with shown({"site": lessons}) as read_only:
        assert send(read_only, sent()).status == 405
    assert notes_in(lessons) == OLD


def test_a_worksheet_is_asked_for_by_its_lesson(host: PageHost, lessons: Path) -> None:
    answer = send(host, json.dumps({"lesson": LESSON}).encode(), "open")
    assert (answer.status, json.loads(answer.body)) == (200, {"page": "worksheet/x.html"})
    assert worksheets_asked(lessons) == (LESSON,)


@pytest.mark.parametrize(
    ("body", "other", "status"),
    [
        ({"lesson": "marta/2027-04-12"}, {}, 400),
        ({"lesson": "../marta/2027-04-11"}, {}, 400),
        ({"lesson": f"{LESSON}\nmarta/x"}, {}, 400),
        ({"lesson": [LESSON]}, {}, 400),
        ({"lesson": LESSON, "more": ""}, {}, 400),
        ([LESSON], {}, 400),
        ({"lesson": LESSON}, {"Origin": "http://evil.example"}, 403),
        ({"lesson": LESSON}, {"Content_Type": "text/plain"}, 415),
    ],
)
def test_no_worksheet_is_made_for_anything_else(
    host: PageHost, lessons: Path, body: object, other: dict[str, str], status: int
) -> None:
    assert send(host, json.dumps(body).encode(), "open", **other).status == status
    assert worksheets_asked(lessons) == ()
