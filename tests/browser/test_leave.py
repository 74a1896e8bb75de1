"""What leaves a site leaves the phone, also while the worker before is busy for minutes."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Event, Thread

import pytest
from playwright.sync_api import Browser

from tests.browser.test_offline import KEPT, KEPT_PAGES, LEFT, a_lesson, soon, taken_down, without

pytestmark = [pytest.mark.browser, pytest.mark.ffmpeg]


class _Holding(SimpleHTTPRequestHandler):
    """Gives no answer to what is asked for with ``?held`` until it may."""

    asked = Event()
    may = Event()

    def log_message(self, *_: object) -> None:
        """Nobody reads it."""

    def do_GET(self) -> None:
        if self.path.endswith("?held"):
            self.asked.set()
            self.may.wait()
            return
        super().do_GET()


@contextmanager
def holding(folder: Path) -> Iterator[tuple[str, type[_Holding]]]:
    class Handler(_Holding):
        asked = Event()
        may = Event()

    server = ThreadingHTTPServer(("localhost", 0), partial(Handler, directory=str(folder)))
    Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield f"http://localhost:{server.server_port}/some%20where/card/", Handler
    finally:
        Handler.may.set()
        server.shutdown()
        server.server_close()


def _a_lesson_leaves(site: Path) -> str:
    lesson = a_lesson(site)
    without(site, lesson)
    return f"!(await ({KEPT_PAGES})()).includes('{lesson}')"


def _the_site_is_emptied(site: Path) -> str:
    taken_down(site, emptied=True)
    return f"!(await ({LEFT})()).some(Boolean)"


@pytest.mark.parametrize("leave", [_a_lesson_leaves, _the_site_is_emptied])
def test_it_goes_while_a_film_is_still_on_its_way(
    browser: Browser, host: Path, leave: Callable[[Path], str]
) -> None:
    """A worker with something under way is replaced minutes later; what it kept goes before."""
    site = host / "some where" / "card"
    film = next(site.rglob("*.mp4")).relative_to(site).as_posix()
    context = browser.new_context()
    page = context.new_page()
    with holding(host) as (home, handler):
        page.goto(f"{home}index.html")
        page.locator("[data-wish=all]:not([hidden])").click()
        page.wait_for_selector(KEPT)
        page.evaluate(f"() => void fetch('{film}?held')")
        assert handler.asked.wait(20)
        gone = leave(site)
        another = context.new_page()
        another.goto(f"{home}index.html")
        soon(another, gone)
    context.close()
