"""The HTTP server of ``recapgen watch``: the frame, its news, and published files."""

import json
import secrets
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from socketserver import TCPServer
from threading import Thread
from typing import cast

from msgspec.structs import asdict, fields

from recapgen.model.news import News
from recapgen.model.notes_sent import NotesSaver, NotesSent, SaveEnd, SheetDesk, SheetOpener
from recapgen.serving.frame import FRAME_FILES, frame_page
from recapgen.serving.gate import READING, Gate
from recapgen.serving.published_file import (
    PublishedFile,
    kind_of,
    open_published,
    part_asked,
)

_TOKEN_BYTES = 16
_AT_ONCE = 1 << 18
_ALWAYS = {
    "Cache-Control": "no-store",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "X-Frame-Options": "SAMEORIGIN",  # our own frame and no other
    "Content-Security-Policy": "frame-ancestors 'self'",
    "Cross-Origin-Resource-Policy": "same-origin",
}


_ENDS = {
    SaveEnd.SAVED: HTTPStatus.OK,
    SaveEnd.MEANWHILE: HTTPStatus.CONFLICT,
    SaveEnd.REFUSED: HTTPStatus.UNPROCESSABLE_ENTITY,
}


class PageHost(ThreadingHTTPServer):
    """Serves ``folders``, by the name each has in the address, below a token of its own."""

    daemon_threads = True
    block_on_close = False
    allow_reuse_address = False  # on Windows it would let another program in

    def __init__(
        self,
        ip: str,
        folders: Mapping[str, Path],
        labels: Mapping[str, str],
        news: News,
        sheets: SheetDesk | None = None,
    ) -> None:
        """Listens on ``ip`` alone, at a free port. ``labels`` are the frame's words.

        ``sheets`` takes what the book's pages send; without it nobody writes.

        Raises OSError.
        """
        super().__init__((ip, 0), _Visit)
        self.gate = Gate(
            f"{ip}:{self.server_port}", secrets.token_urlsafe(_TOKEN_BYTES), sheets is not None
        )
        self.sheets = sheets
        self.folders, self.labels, self.news = dict(folders), dict(labels), news

    @property
    def address(self) -> str:
        return f"{self.gate.origin}/{self.gate.token}/"

    def server_bind(self) -> None:
        """Without asking the network for this computer's name, which may take its time."""
        TCPServer.server_bind(self)
        self.server_name, self.server_port = self.server_address[0], self.server_address[1]  # type: ignore[assignment]

    def handle_error(self, *_: object) -> None:
        """A browser that went away, or one that was too slow: it asks again."""


@contextmanager
def hosting(host: PageHost) -> Iterator[str]:
    """Answer for as long as this lasts; the address to open."""
    Thread(target=host.serve_forever, daemon=True).start()
    try:
        yield host.address
    finally:
        host.shutdown()
        host.server_close()


class _Visit(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    timeout = 60  # seconds; a film that is paused is asked for again
    error_content_type = "text/plain; charset=utf-8"
    error_message_format = "%(code)d\n"

    @property
    def _host(self) -> PageHost:
        return cast("PageHost", self.server)

    def parse_request(self) -> bool:
        """A reader without leave gets the same answer for every path."""
        if not super().parse_request():
            return False
        refused = self._host.gate.refuses(self.command, self.headers)
        if refused is not None:
            self.send_error(refused)
        return refused is None

    def do_GET(self) -> None:
        names = self._host.gate.path_asked(self.path)
        if names is None:
            self.send_error(HTTPStatus.NOT_FOUND)
        elif names == ("",):
            page = frame_page(self._host.labels, self._host.news, tuple(self._host.folders))
            self._send_text(page, "frame.html")
        elif names == ("news.json",):
            self._send_text(json.dumps(asdict(self._host.news)), "news.json")
        elif len(names) == 1 and names[0] in FRAME_FILES:
            self._send_text(FRAME_FILES[names[0]], names[0])
        else:
            self._send_published(names)

    def do_POST(self) -> None:
        """Notes to be saved, or a worksheet to be made. What is wrong is said by the status."""
        names, sheets = self._host.gate.path_asked(self.path), self._host.sheets
        body = self.rfile.read(int(self.headers["Content-Length"]))
        if sheets is None or names not in (("save",), ("open",)):
            self.send_error(HTTPStatus.NOT_FOUND)
            return
        try:
            if names == ("save",):
                self._tell_saved(_notes_in(body), sheets.save)
            else:
                self._tell_opened(_lesson_in(body), sheets.open)
        except OSError:
            self.send_error(HTTPStatus.INSUFFICIENT_STORAGE)

    def _tell_saved(self, sent: NotesSent | None, save: NotesSaver) -> None:
        if sent is None:
            self.send_error(HTTPStatus.BAD_REQUEST)
            return
        kept = save(sent)
        told = json.dumps({"digest": kept.digest, "text": kept.text})
        self._send_text(told, "saved.json", _ENDS[kept.end])

    def _tell_opened(self, lesson: str | None, open_sheet: SheetOpener) -> None:
        page = None if lesson is None else open_sheet(lesson)
        if page is None:
            self.send_error(HTTPStatus.BAD_REQUEST)
        else:
            self._send_text(json.dumps({"page": page}), "opened.json")

    def do_HEAD(self) -> None:
        self.do_GET()

    def _send_text(self, text: str, name: str, status: HTTPStatus = HTTPStatus.OK) -> None:
        content = text.encode()
        self.send_response(status)
        self.send_header("Content-Type", kind_of(name))
        self.send_header("Content-Length", str(len(content)))
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(content)

    def _send_published(self, names: tuple[str, ...]) -> None:
        """Before the first build the folders may be anybody's."""
        folder, *below = names
        root = self._host.folders.get(folder) if self._host.news.build else None
        file = open_published(root, below) if root is not None and below else None
        if file is None:
            self.send_error(HTTPStatus.NOT_FOUND)
            return
        with file.content:
            self._send_file(file)

    def _send_file(self, file: PublishedFile) -> None:
        """All of it, or the part that was asked for unless that was of a file since replaced."""
        same = self.headers.get("If-Range", file.tag) == file.tag
        part = part_asked(self.headers.get("Range", "") if same else "", file.size_bytes)
        if part is not None and not part:
            self.send_response(HTTPStatus.REQUESTED_RANGE_NOT_SATISFIABLE)
            self.send_header("Content-Range", f"bytes */{file.size_bytes}")
            self.send_header("Content-Length", "0")
            self.end_headers()
            return
        self.send_response(HTTPStatus.OK if part is None else HTTPStatus.PARTIAL_CONTENT)
        if part is not None:
            said = f"bytes {part[0]}-{part[-1]}/{file.size_bytes}"
            self.send_header("Content-Range", said)
        part = range(file.size_bytes) if part is None else part
        self.send_header("Content-Type", file.kind)
        self.send_header("Content-Length", str(len(part)))
        self.send_header("Accept-Ranges", "bytes")
        self.send_header("ETag", file.tag)
        self.end_headers()
        if self.command != "HEAD":
            self._copy(file, part)

    def _copy(self, file: PublishedFile, part: range) -> None:
        file.content.seek(part.start)
        left = len(part)
        while left and (block := file.content.read(min(left, _AT_ONCE))):
            self.wfile.write(block)
            left -= len(block)
        self.close_connection = self.close_connection or left > 0  # shorter than was said

    def end_headers(self) -> None:
        for name, value in _ALWAYS.items():
            self.send_header(name, value)
        if self.command not in READING:
            self.send_header("Allow", ", ".join(READING))
        super().end_headers()

    def version_string(self) -> str:
        return "recapgen"

    def log_message(self, *_: object) -> None:
        """No log: it would hold the addresses of students' pages."""


def _notes_in(body: bytes) -> NotesSent | None:
    """What a worksheet sends; None for anything else."""
    try:
        told = json.loads(body)
        names = {field.name for field in fields(NotesSent)}
        whole = isinstance(told, dict) and told.keys() == names
        return NotesSent(**told) if whole and all(type(v) is str for v in told.values()) else None
    except (ValueError, RecursionError):
        return None


def _lesson_in(body: bytes) -> str | None:
    """The lesson whose worksheet is asked for; None for anything else."""
    try:
        told = json.loads(body)
    except (ValueError, RecursionError):
        return None
    lesson = told.get("lesson") if isinstance(told, dict) and len(told) == 1 else None
    return lesson if isinstance(lesson, str) else None
