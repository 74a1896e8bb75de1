"""Hosts as a coach may have them: with or without parts of a file, with a policy of their own."""

import functools
import http.server
import re
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

_PART = re.compile(r"bytes=(\d+)-(\d*)$")
_AT_ONCE = 16_000


class Host(http.server.SimpleHTTPRequestHandler):
    """``policy`` is sent with every answer; ``bytes_a_second`` is what all answers share."""

    protocol_version = "HTTP/1.1"
    policy = ""
    parts = True
    bytes_a_second = 0
    line = threading.Lock()

    def log_message(self, *_: object) -> None:
        """Nobody reads it."""

    def do_GET(self) -> None:
        file = Path(self.translate_path(self.path))
        if not file.is_file():
            self.send_error(404)
            return
        content = file.read_bytes()
        asked = _PART.match(self.headers.get("Range", "")) if self.parts else None
        first = int(asked[1]) if asked else 0
        last = min(len(content) - 1, int(asked[2] or len(content)) if asked else len(content))
        self.send_response(206 if asked else 200)
        self.send_header("Content-Type", self.guess_type(str(file)))
        self.send_header("Content-Length", str(last + 1 - first))
        if asked:
            self.send_header("Content-Range", f"bytes {first}-{last}/{len(content)}")
        if self.policy:
            self.send_header("Content-Security-Policy", self.policy)
        try:
            self.end_headers()
            self._send(content[first : last + 1])
        except ConnectionError:
            self.close_connection = True  # the browser has enough

    def _send(self, content: bytes) -> None:
        if not self.bytes_a_second:
            self.wfile.write(content)
            return
        for start in range(0, len(content), _AT_ONCE):
            with self.line:
                self.wfile.write(content[start : start + _AT_ONCE])
                self.wfile.flush()
                time.sleep(_AT_ONCE / self.bytes_a_second)


@contextmanager
def hosted(
    folder: Path, *, policy: str = "", parts: bool = True, bytes_a_second: int = 0
) -> Iterator[str]:
    """The address of ``folder`` on such a host, on this machine."""
    settings = {"policy": policy, "parts": parts, "bytes_a_second": bytes_a_second}
    handler = functools.partial(type("OneHost", (Host,), settings), directory=str(folder))
    server = http.server.ThreadingHTTPServer(("localhost", 0), handler)
    server.daemon_threads = True
    threading.Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield f"http://localhost:{server.server_port}/"
    finally:
        server.shutdown()
        server.server_close()
