"""A student's site kept by the browser, served from localhost as a phone meets it over https."""

import json
import shutil
import subprocess
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread
from typing import Any
from urllib.parse import quote

import pytest
from playwright.sync_api import Browser, Page

from recapgen.publish.emptying import empty_out
from recapgen.publish.output import claim
from tests.browser.complaints import heard

pytestmark = [pytest.mark.browser, pytest.mark.ffmpeg]

INSTALLED = Path(__file__).parents[2] / ".venv" / "browser"
KEPT = "[data-kept] [role=status]:not([hidden])"
KEPT_PAGES = """async () => {
    const names = await caches.keys();
    const kept = await Promise.all(names.map(async (name) => (await caches.open(name)).keys()));
    const paths = kept.flat().map((one) => new URL(one.url).pathname.split("/").pop());
    return paths.filter((path) => path.endsWith(".html") || path.endsWith(".mp4")).sort();
}"""
# The page of the one visit, in its new version and no other.
NEW_PAGE_ALONE = """await (async () => {
    const [name] = await caches.keys();
    const kept = (await (await caches.open(name)).keys()).map(one => one.url);
    const pages = kept.filter(url => url.includes(".html"));
    return pages.length === 1 && pages[0].includes("?new");
})()"""
NEW_IS_KEPT = """async () => {
    for (let tries = 0; tries < 400; tries++) {
        const [name] = await caches.keys();
        const kept = await (await caches.open(name)).keys();
        const fronts = kept.filter(one => one.url.includes("index.html"));
        if (fronts.length === 1 && fronts[0].url.includes("?new")) return true;
        await new Promise(done => setTimeout(done, 50));
    }
    return false;
}"""


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, *_: object) -> None:
        """Nobody reads it."""


def soon(page: Page, holds: str) -> None:
    """Wait until the JavaScript ``holds``, which may await, is true."""
    page.evaluate(
        f"""async () => {{
            for (let tries = 0; tries < 400; tries++) {{
                if ({holds}) return;
                await new Promise((done) => setTimeout(done, 50));
            }}
            throw new Error("it never was");
        }}"""
    )


def keep_all(page: Page) -> None:
    """As a student does who wants everything on the phone."""
    for wish in ("all", "films"):
        page.locator(f"[data-wish={wish}]:not([hidden])").click()
    page.wait_for_selector(KEPT)
    page.wait_for_selector("[data-wish=films]", state="hidden")


@contextmanager
def served(folder: Path, port: int = 0) -> Iterator[int]:
    server = ThreadingHTTPServer(("localhost", port), partial(_Quiet, directory=str(folder)))
    Thread(target=server.serve_forever, daemon=True).start()
    yield server.server_address[1]
    server.shutdown()
    server.server_close()


def test_everything_is_there_without_a_signal_and_a_change_arrives(
    browser: Browser, host: Path
) -> None:
    site = host / "some where" / "card"
    context = browser.new_context()
    page = context.new_page()
    complaints: list[str] = []
    page.on("console", lambda m: complaints.append(m.text) if m.type == "error" else None)
    page.on("pageerror", lambda error: complaints.append(str(error)))
    with served(host) as port:
        front = f"http://localhost:{port}/some%20where/card/index.html"
        page.goto(front)
        keep_all(page)
        assert "MB" in page.inner_text("[data-kept]")
    for name in sorted(p.name for p in site.glob("*.html")):
        page.goto(front.replace("index.html", name))
        assert page.locator("h1").count() == 1, name
        assert page.evaluate("[...document.fonts].some(face => face.status === 'loaded')"), name
    lesson = next(p.name for p in site.glob("2*.html") if "data-film" in p.read_text("utf-8"))
    page.goto(front.replace("index.html", lesson))
    page.locator('[data-do="on"]').first.click()
    page.wait_for_selector("[data-film][data-shown]")
    assert complaints == []

    index = site / "index.html"
    index.write_text(index.read_text("utf-8").replace("<h1", "<h1 data-new"), "utf-8")
    worker = site / "sw.js"
    worker.write_text(worker.read_text("utf-8").replace('"index.html":["', '"index.html":["new'))
    with served(host, port):
        page.goto(front)
        assert page.locator("h1[data-new]").count() == 1
        page.wait_for_selector(KEPT)
        assert page.evaluate(NEW_IS_KEPT)
    page.goto(front)
    assert page.locator("h1[data-new]").count() == 1
    context.close()


def test_firefox_too_shows_every_page_and_film_when_the_host_is_gone(host: Path) -> None:
    firefox = shutil.which("firefox-esr") or shutil.which("firefox")
    node = shutil.which("node")
    if firefox is None or node is None or not (INSTALLED / "node_modules").is_dir():
        pytest.skip("no firefox, node or puppeteer-core here")
    names = sorted(p.name for p in (host / "some where" / "card").glob("*.html"))
    walk = Path(__file__).with_name("firefox_offline.mjs")
    with served(host) as port:
        home = f"http://localhost:{port}/some%20where/card/"
        going = subprocess.Popen(
            [node, walk, INSTALLED, firefox, f"{home}index.html", *(home + n for n in names)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        assert going.stdout is not None
        said = going.stdout.readline()
    try:
        out, _ = going.communicate("\n", timeout=300)
    finally:
        going.kill()
    assert said == "kept\n"
    result = json.loads(out)
    assert [page["address"] for page in result["told"]] == [home + name for name in names]
    assert all(page["heading"].strip() for page in result["told"])
    assert {page["ink"] for page in result["told"]} <= {"rgb(241, 236, 223)", "rgb(17, 18, 20)"}
    films = [page["film"] for page in result["told"] if page["film"] is not None]
    assert films
    assert all(at > 0.2 for at in films)
    assert result["complaints"] == []


def taken_down(site: Path, *, emptied: bool) -> None:
    """The site as a host has it afterwards: emptied, as a build leaves it, or simply gone."""
    if not emptied:
        shutil.rmtree(site)
        return
    output = claim(site.parents[1] / "out", site).value
    assert output is not None
    address = "bcdfghjkmnpqrstvwxyz"
    site.rename(output.site / address)
    empty_out(output, address, "en", date(2027, 6, 1))
    (output.site / address).rename(site)
    output.release()


LEFT = """async () => [
    (await caches.keys()).length, (await navigator.serviceWorker.getRegistrations()).length
]"""


@pytest.mark.parametrize("emptied", [True, False])
def test_a_site_that_was_taken_down_is_gone_from_the_phone_at_the_next_visit(
    browser: Browser, host: Path, *, emptied: bool
) -> None:
    context = browser.new_context()
    page = context.new_page()
    with served(host) as port:
        front = f"http://localhost:{port}/some%20where/card/index.html"
        page.goto(front)
        keep_all(page)
        assert page.evaluate(LEFT) == [1, 1]
        taken_down(host / "some where" / "card", emptied=emptied)
        page.goto(front)
        assert page.locator("[data-kept]").count() == 0
        soon(page, f"!(await ({LEFT})()).some(Boolean)")
    context.close()


def visited_again_in_firefox(host: Path, leaving: str, leave: Callable[[], None]) -> dict[str, Any]:
    """What Firefox has kept of the site before and after ``leave``."""
    firefox = shutil.which("firefox-esr") or shutil.which("firefox")
    node = shutil.which("node")
    if firefox is None or node is None or not (INSTALLED / "node_modules").is_dir():
        pytest.skip("no firefox, node or puppeteer-core here")
    visit = Path(__file__).with_name("firefox_gone.mjs")
    with served(host) as port:
        front = f"http://localhost:{port}/some%20where/card/index.html"
        going = subprocess.Popen(
            [node, visit, INSTALLED, firefox, front, leaving],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        try:
            assert going.stdout is not None
            assert going.stdout.readline() == "kept\n"
            leave()
            out, _ = going.communicate("\n", timeout=300)
        finally:
            going.kill()
    told: dict[str, Any] = json.loads(out)
    return told


@pytest.mark.parametrize("emptied", [True, pytest.param(False, marks=pytest.mark.campaign)])
def test_firefox_too_forgets_a_site_that_was_taken_down(host: Path, *, emptied: bool) -> None:
    site = host / "some where" / "card"
    told = visited_again_in_firefox(host, "", lambda: taken_down(site, emptied=emptied))
    assert (told["before"]["caches"], told["before"]["workers"]) == (1, 1)
    assert told["after"] == {"caches": 0, "workers": 0, "pages": []}
    assert ("taken down" in told["text"]) is emptied


def without(site: Path, lesson: str) -> None:
    """The site as a build leaves it when this lesson is not agreed any more."""
    (site / lesson).unlink()
    worker = site / "sw.js"
    files, rest = worker.read_text("utf-8").split(";\n", 1)
    listed = json.loads(files.removeprefix("const FILES = "))
    del listed[lesson]
    worker.write_text(f"const FILES = {json.dumps(listed)};\n{rest}", "utf-8")


def a_lesson(site: Path) -> str:
    return next(p.name for p in site.glob("2*.html") if "data-film" in p.read_text("utf-8"))


def dressed_anew(site: Path) -> None:
    """The site as a build with another accent leaves it: a sheet of another name."""
    (old,) = (site / "assets").glob("*.css")
    renamed = old.rename(old.with_name("card-another.css"))
    for page in site.glob("*.html"):
        page.write_text(page.read_text("utf-8").replace(old.name, renamed.name), "utf-8")
    worker = site / "sw.js"
    listed = worker.read_text("utf-8").replace(old.name, renamed.name)
    worker.write_text(listed.replace('.html":["', '.html":["new'), "utf-8")


def test_a_page_that_a_phone_keeps_keeps_its_look_when_the_look_is_another(
    browser: Browser, host: Path
) -> None:
    site = host / "some where" / "card"
    lesson = a_lesson(site)
    context = browser.new_context()
    page = context.new_page()
    with served(host) as port:
        address = f"http://localhost:{port}/some%20where/card/{lesson}"
        page.goto(address)
        soon(page, f"(await ({KEPT_PAGES})()).length > 0")
        dressed_anew(site)
        page.evaluate("navigator.serviceWorker.ready.then(worker => worker.update())")
        soon(page, NEW_PAGE_ALONE)
    page.goto(address)
    assert page.locator("link[rel=stylesheet]").get_attribute("href") == "assets/card-another.css"
    assert page.locator("main.card").evaluate("card => getComputedStyle(card).paddingLeft") != "0px"
    context.close()


def test_a_visit_keeps_that_page_alone_and_leave_means_leave(browser: Browser, host: Path) -> None:
    """As a friend opens the one link, and as the phone that kept everything comes back."""
    site = host / "some where" / "card"
    lesson = a_lesson(site)
    context = browser.new_context()
    page = context.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    with served(host) as port:
        home = f"http://localhost:{port}/some%20where/card/"
        page.goto(home + lesson)
        soon(page, f"(await ({KEPT_PAGES})()).length > 0")
        assert page.evaluate(KEPT_PAGES) == [lesson]
        assert not [address for address in asked if address.endswith(".mp4")]
        page.goto(f"{home}index.html")
        offered = page.locator("[data-wish=all]:not([hidden])")
        assert "MB" in offered.inner_text()
        keep_all(page)
        assert len(page.evaluate(KEPT_PAGES)) == len([*site.glob("*.html"), *site.rglob("*.mp4")])
        without(site, lesson)
        page.goto(f"{home}index.html")
        soon(page, f"!(await ({KEPT_PAGES})()).includes('{lesson}')")
        assert "index.html" in page.evaluate(KEPT_PAGES)
    context.close()


def test_where_a_browser_keeps_nothing_a_line_says_so(browser: Browser, host: Path) -> None:
    page = browser.new_page()
    page.add_init_script(
        "Object.defineProperty(Navigator.prototype, 'serviceWorker', { value: undefined })"
    )
    with served(host) as port:
        page.goto(f"http://localhost:{port}/some%20where/card/index.html")
        line = page.locator("[data-unkept]:visible").bounding_box()
        assert line is not None
        assert line["y"] < 200
    page.close()


def test_firefox_too_forgets_a_page_that_left(host: Path) -> None:
    site = host / "some where" / "card"
    lesson = a_lesson(site)
    told = visited_again_in_firefox(host, lesson, lambda: without(site, lesson))
    assert lesson in told["before"]["pages"]
    assert told["after"]["pages"] == sorted(p.name for p in site.glob("*.html"))


@pytest.mark.parametrize(
    "path", ["some where/card", pytest.param("card", marks=pytest.mark.campaign)]
)
def test_a_host_of_any_folder_gets_no_complaint_and_is_the_only_one_asked(
    browser: Browser, host: Path, path: str
) -> None:
    folder = host / path
    if not folder.exists():
        shutil.copytree(host / "some where" / "card", folder)
    context = browser.new_context(viewport={"width": 390, "height": 800})
    page = context.new_page()
    with served(host) as port:
        home = f"http://localhost:{port}/"
        faults = heard(page, own=(home, "data:", "blob:"))
        for name in sorted(p.name for p in folder.glob("*.html")):
            page.goto(home + quote(f"{path}/{name}"))
            page.wait_for_load_state("networkidle")
    context.close()
    assert faults == []


def test_firefox_finds_nothing_to_complain_of_below_a_folder_of_a_host(host: Path) -> None:
    firefox = shutil.which("firefox-esr") or shutil.which("firefox")
    node = shutil.which("node")
    if firefox is None or node is None or not (INSTALLED / "node_modules").is_dir():
        pytest.skip("no firefox, node or puppeteer-core here")
    names = sorted(p.name for p in (host / "some where" / "card").glob("*.html"))
    walk = Path(__file__).with_name("firefox_walk.mjs")
    with served(host) as port:
        addresses = [f"http://localhost:{port}/some%20where/card/{name}" for name in names]
        done = subprocess.run(
            [node, walk, INSTALLED, firefox, *addresses],
            capture_output=True,
            text=True,
            check=False,
            timeout=300,
        )
    assert done.returncode == 0, done.stderr
    for page in json.loads(done.stdout):
        assert page["complaints"] == [], page
        assert page["outside"] == [], page
        assert not page["wide"], page


def test_nothing_is_kept_or_offered_from_disk(browser: Browser, host: Path) -> None:
    page = browser.new_page()
    page.goto((host / "some where" / "card" / "index.html").as_uri())
    assert page.locator("link[rel=manifest]").count() == 0
    assert page.locator("[data-kept]").is_hidden()
    assert page.locator("[data-share]").is_hidden()
    page.close()


def test_the_phones_own_sheet_gets_the_link_and_no_words_of_the_lesson(
    browser: Browser, host: Path
) -> None:
    page = browser.new_page()
    page.add_init_script("navigator.share = async told => { window.sent = told }")
    with served(host) as port:
        page.goto(f"http://localhost:{port}/some%20where/card/index.html#card")
        page.locator("[data-share] button").click()
        sent = page.evaluate("window.sent")
        assert sent == {"title": "A golf lesson card", "url": page.url.split("#", 1)[0]}
        preview = page.locator("meta[property^='og:']").evaluate_all(
            "all => all.map(m => m.content)"
        )
        assert page.inner_text("h1") not in " ".join(preview)
    page.close()
