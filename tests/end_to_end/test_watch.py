"""``recapgen watch`` as a coach has it: notes are saved, and the page is another one."""

import json
import re
import signal
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path
from random import Random
from threading import Event, Thread

import pytest

from recapgen.app.watching import Watched
from recapgen.console import Console
from recapgen.serving.page_host import hosting
from recapgen.words.catalogue import words
from tests.end_to_end.small_lessons import ROOT, add_student
from tests.serving.asking import HERE, ask

PATIENCE_S = 120.0
LESSON = "2027-04-11"
PAGES = f"site/*/{LESSON}-*.html"


@dataclass(slots=True)
class Seen:
    """The watch that runs, and the address it printed."""

    running: subprocess.Popen[str]
    address: str

    def news(self) -> dict[str, object]:
        told: dict[str, object] = json.loads(self.read("news.json"))
        return told

    def pages(self) -> list[tuple[str, str]]:
        told: list[tuple[str, str]] = json.loads(self.read("news.json"))["pages"]
        return told

    def read(self, path: str) -> str:
        with urllib.request.urlopen(self.address + path, timeout=30) as answer:  # noqa: S310
            text: str = answer.read().decode()
            return text

    def save(self, lesson: str, notes: Path, text: str) -> None:
        """As a worksheet does."""
        digest = sha256(notes.read_bytes()).hexdigest()
        self.send("save", {"lesson": lesson, "digest": digest, "text": text})

    def open_worksheet(self, lesson: str) -> str:
        """As the lesson's page in the book does; where the worksheet will be."""
        told: dict[str, str] = json.loads(self.send("open", {"lesson": lesson}))
        return f"coach_book/{told['page']}"

    def send(self, path: str, told: dict[str, str]) -> bytes:
        origin = self.address.rsplit("/", 2)[0]
        headers = {"Origin": origin, "Content-Type": "application/json"}
        sent = urllib.request.Request(  # noqa: S310
            self.address + path, json.dumps(told).encode(), headers
        )
        with urllib.request.urlopen(sent, timeout=30) as answer:  # noqa: S310
            assert answer.status == 200
            body: bytes = answer.read()
            return body

    def has(self, path: str) -> bool:
        try:
            return bool(self.read(path))
        except urllib.error.HTTPError:
            return False

    def until(self, there: Callable[["Seen"], bool]) -> None:
        late = time.monotonic() + PATIENCE_S
        while not there(self):
            assert time.monotonic() < late, self.news()
            assert self.running.poll() is None
            time.sleep(0.1)


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """One student with one lesson."""
    folder = tmp_path / "my lessons"
    folder.mkdir()
    (folder / "coach.yml").write_text("coach: Ada Quill\n", encoding="utf-8")
    add_student(folder, "Brida")
    return folder


@pytest.fixture
def seen(root: Path) -> Iterator[Seen]:
    """A watch as it is started in a terminal, once its address is there."""
    running = subprocess.Popen(
        [sys.executable, "-m", "recapgen", "watch", str(root)],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=ROOT,
    )  # fmt: skip
    assert running.stdout is not None
    try:
        found = None
        while found is None:
            found = re.match(r"open +(http://127\.0\.0\.1:\d+/\S+/)", running.stdout.readline())
            assert running.poll() is None
        yield Seen(running, found[1])
    finally:
        running.kill()
        running.communicate()


def test_what_is_saved_is_seen_and_what_is_broken_is_told(seen: Seen, root: Path) -> None:
    ((name, home),) = seen.pages()
    assert name == "Brida"
    assert "Brida" in seen.read(home)
    out = root.with_name("my lessons_out")
    (page,) = (file.relative_to(out).as_posix() for file in out.glob(PAGES))
    notes = root / "brida-folder" / LESSON / "notes.md"
    good = notes.read_text("utf-8")

    notes.write_text(good.replace("Keep the wall", "Keep the hedge"), "utf-8")
    seen.until(lambda now: "Keep the hedge" in now.read(page))

    sheet = seen.open_worksheet(f"brida-folder/{LESSON}")  # its notes are finished
    assert not seen.has(sheet)
    seen.until(lambda now: now.has(sheet))
    assert "Keep the hedge" in seen.read(sheet)
    seen.save(f"brida-folder/{LESSON}", notes, good.replace("Keep the wall", "Keep the ditch"))
    seen.until(lambda now: "Keep the ditch" in now.read(page))
    seen.save(f"brida-folder/{LESSON}", notes, good.replace("Keep the wall", "Keep the hedge"))
    seen.until(lambda now: "Keep the hedge" in now.read(page))

    notes.write_text(good.replace("matters:", "maters:"), "utf-8")
    seen.until(lambda now: bool(now.news()["problem"]))
    assert f"brida-folder/{LESSON}/notes.md:7" in str(seen.news()["problem"])
    assert "Keep the hedge" in seen.read(page)

    root.rename(root.with_name("elsewhere"))
    seen.until(lambda now: "folder-missing" in str(now.news()["problem"]))
    assert "Keep the hedge" in seen.read(page)
    root.with_name("elsewhere").rename(root)
    notes.write_text(good.replace("Keep the wall", "Keep the fence"), "utf-8")
    seen.until(lambda now: "Keep the fence" in now.read(page))
    seen.until(lambda now: now.news()["problem"] == [])

    notes.write_text(good.replace("Keep the wall", "Keep the gate"), "utf-8")
    seen.until(lambda now: str(now.news()["state"]) == "Building")
    seen.running.send_signal(signal.SIGINT)
    _, said = seen.running.communicate(timeout=PATIENCE_S)
    assert seen.running.returncode == 130
    assert said.endswith("Interrupted. What was published before is still up.\n")
    assert "Traceback" not in said


@dataclass(slots=True)
class Reader:
    """Asks for a page over and over; what it got, each once."""

    ask: Callable[[], bytes]
    got: set[bytes] = field(default_factory=set)
    answers: int = 0
    ended: Event = field(default_factory=Event)

    def go(self) -> None:
        while not self.ended.is_set():
            self.got.add(self.ask())
            self.answers += 1


@pytest.mark.parametrize("edits", [8, pytest.param(200, marks=pytest.mark.campaign)])
def test_whatever_is_edited_only_whole_pages_are_seen(root: Path, edits: int) -> None:
    """A page is one of those that were published, to the last byte, whenever it is asked for."""
    rng = Random(18)  # noqa: S311  which edits, and no secret
    watched = Watched(root, root.with_name("out"), Console(words("en")))
    watched.begin()
    (page,) = root.with_name("out").glob(PAGES)
    notes = root / "brida-folder" / LESSON / "notes.md"
    good = notes.read_text("utf-8")
    host = watched.shown_on(HERE, book=True)
    published = {page.read_bytes()}

    def asked() -> bytes:
        answer = ask(host, f"site/{page.parent.name}/{page.name}")
        return answer.body if answer.status == 200 else f"{answer.status}".encode()

    reader = Reader(asked)
    with hosting(host):
        reading = Thread(target=reader.go)
        reading.start()
        try:
            for n in range(edits):
                edit(notes, good, rng, n)
                watched.look(10.0 * n)
                watched.look(10.0 * n + 2)
                published.add(page.read_bytes())
                before = reader.answers
                while reader.answers < before + 2 and reading.is_alive():
                    time.sleep(0.001)
        finally:
            reader.ended.set()
            reading.join()
    assert reader.got <= published
    assert len(reader.got) > edits // 4
    assert all(body.rstrip().endswith(b"</html>") for body in reader.got)


def edit(notes: Path, good: str, rng: Random, n: int) -> None:
    """Something a coach may do to a lesson; about one in three breaks it until the next."""
    match rng.randrange(6):
        case 0:
            notes.write_text(good.replace("matters:", "maters:"), "utf-8")
        case 1:
            notes.write_bytes(good.encode()[: rng.randrange(1, len(good))])
        case 2:
            with notes.with_name("shots.csv").open("a", encoding="utf-8") as shots:
                shots.write(f"{100 + n},after,{rng.uniform(-2, 2):.1f}\n")
        case _:
            notes.write_text(good.replace("the wall", f"the wall {rng.randrange(10**6)}"), "utf-8")
