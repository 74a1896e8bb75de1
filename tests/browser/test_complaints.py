"""What the browser's tests listen for is heard; leaving a page early is no fault of the page."""

from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Event, Thread

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.complaints import GIVEN_UP, heard

pytestmark = pytest.mark.browser


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    opened = browser.new_page()
    yield opened
    opened.close()


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ("<img src='gone.png' alt=''>", "net::ERR_FILE_NOT_FOUND: file:"),
        ("<img src='http://localhost:1/a.png' alt=''>", "outside: http://localhost:1/a.png"),
        ("<script>console.warn('dim')</script>", "dim"),
        ("<script>throw new Error('torn')</script>", "torn"),
    ],
)
def test_a_page_with_a_fault_is_heard(page: Page, tmp_path: Path, wrong: str, told: str) -> None:
    path = tmp_path / "page.html"
    path.write_text(f"<!doctype html><title>A page</title>{wrong}", "utf-8")
    faults = heard(page)
    page.goto(path.as_uri())
    page.wait_for_load_state()
    assert any(fault.startswith(told) for fault in faults), faults


class _NeverSendsThePicture(BaseHTTPRequestHandler):
    asked = Event()
    over = Event()

    def do_GET(self) -> None:
        if self.path == "/slow.png":
            self.asked.set()
            self.over.wait()
            return
        page = b"<!doctype html><title>A page</title><link rel=icon href=data:,><img src=slow.png>"
        self.send_response(200)
        self.send_header("Content-Type", "text/html")
        self.send_header("Content-Length", str(len(page)))
        self.end_headers()
        self.wfile.write(page)

    def log_message(self, *_: object) -> None:
        """Nobody reads it."""


def test_a_page_left_before_all_of_it_came_is_not_at_fault(page: Page) -> None:
    server = ThreadingHTTPServer(("localhost", 0), _NeverSendsThePicture)
    Thread(target=server.serve_forever, daemon=True).start()
    home = f"http://localhost:{server.server_address[1]}/"
    faults = heard(page, own=(home, "data:"))
    page.goto(home, wait_until="commit")
    assert _NeverSendsThePicture.asked.wait(60)
    with page.expect_event("requestfailed") as given_up:
        page.goto("data:text/html,<title>Elsewhere</title>")
    _NeverSendsThePicture.over.set()
    server.shutdown()
    server.server_close()
    assert given_up.value.failure == GIVEN_UP
    assert faults == []
