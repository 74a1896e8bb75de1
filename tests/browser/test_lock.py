"""A locked site in browsers: it asks, opens, plays, and says why where it cannot."""

import json
import shutil
import subprocess
from collections.abc import Callable, Iterator
from contextlib import nullcontext
from functools import partial
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, Route

from recapgen.locking.locks import lock_of
from recapgen.publish.last_site import NewSite, read_last_site
from recapgen.publish.locked_site import lay_locked
from recapgen.tools.template_folder import template_folder
from recapgen.words.languages import LANGUAGES
from tests.browser.axe_rules import BOTH_ENDS, EVERY_LOOK, Look, let_in, page_for_axe, violations
from tests.browser.complaints import heard
from tests.browser.hosts import hosted

pytestmark = [pytest.mark.browser, pytest.mark.ffmpeg]
INSTALLED = Path(__file__).parents[2] / ".venv" / "browser"
WORDS = "acorn-beach-cedar-dozen-easy"
LONG_MS = 60_000  # a busy machine


@pytest.fixture
def locked(host: Path) -> Path:
    """The folder of a locked student with films."""
    return _locked(host, "en")


def _locked(host: Path, language: str) -> Path:
    into = host / language
    lay_locked(
        host / "some where" / "card",
        NewSite(into, read_last_site(into, None)),
        lock_of(bytes(32), "", own=WORDS),
        language,
        template_folder(),
    )
    return into


@pytest.fixture
def own_page(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 390, "height": 800}, reduced_motion="reduce")
    context.set_default_timeout(LONG_MS)
    yield context.new_page()
    context.close()


def unlock(page: Page, words: str = WORDS) -> None:
    page.locator("#lock-words").fill(words)
    page.keyboard.press("Enter")
    page.locator(".stub").wait_for()


def until(page: Page, comes: Callable[[], bool]) -> None:
    """Asked again and again: the page's own policy lets no waiting be written into it."""
    for _ in range(LONG_MS // 100):
        if comes():
            return
        page.wait_for_timeout(100)
    raise AssertionError("it never came")


def _is_another(page: Page, title: str) -> bool:
    return page.title() != title


def to_a_film(page: Page) -> None:
    hashes = page.locator('a[href^="#/2"]').evaluate_all("all => all.map(a => a.hash)")
    for hash_ in hashes:
        before = page.title()
        page.evaluate("to => { location.hash = to }", hash_)
        until(page, partial(_is_another, page, before))
        if page.locator("[data-film]").count():
            return
    raise AssertionError(hashes)


@pytest.mark.parametrize("served", [False, pytest.param(True, marks=pytest.mark.campaign)])
def test_it_opens_for_its_words_alone_and_its_films_play(
    locked: Path, own_page: Page, *, served: bool
) -> None:
    with hosted(locked) if served else nullcontext(f"{locked.as_uri()}/") as home:
        faults = heard(own_page, own=(home, "data:", "blob:"))
        own_page.goto(f"{home}index.html")
        own_page.keyboard.press("Tab")
        own_page.keyboard.type("not the words")
        own_page.keyboard.press("Enter")
        own_page.locator("[data-said]", has_text="These words don’t open the page").wait_for()
        assert own_page.evaluate("document.activeElement.id") == "lock-words"
        own_page.keyboard.type("Acorn beach  CEDAR dozen-easy")  # over what was marked
        own_page.keyboard.press("Enter")
        own_page.locator(".stub").wait_for()
        to_a_film(own_page)
        own_page.locator('[data-do="on"]').first.click()
        own_page.wait_for_selector("[data-film][data-shown]")
        film = own_page.locator("[data-film]").first
        strike, fps = (int(film.get_attribute(f"data-{part}") or 0) for part in ("impact", "fps"))
        at = own_page.locator("video").first.evaluate("v => v.currentTime")
        assert strike + 0.25 < at * fps < strike + 1.75
        assert own_page.locator("video").first.evaluate("v => v.poster").startswith("blob:")
        own_page.locator('[data-do="play"]').first.click()
        video = own_page.locator("video").first
        until(own_page, lambda: bool(video.evaluate("v => v.currentTime > 0.2")))
        film_page = own_page.title()
        own_page.go_back()
        until(own_page, partial(_is_another, own_page, film_page))
        assert faults == []


@pytest.mark.parametrize("served", [False, pytest.param(True, marks=pytest.mark.campaign)])
def test_the_same_in_firefox(locked: Path, *, served: bool) -> None:
    firefox = shutil.which("firefox-esr") or shutil.which("firefox")
    node = shutil.which("node")
    if firefox is None or node is None or not (INSTALLED / "node_modules").is_dir():
        pytest.skip("no firefox, node or puppeteer-core here")
    walk = Path(__file__).with_name("firefox_lock.mjs")
    with hosted(locked) if served else nullcontext(f"{locked.as_uri()}/") as home:
        done = subprocess.run(
            [node, walk, INSTALLED, firefox, WORDS, f"{home}index.html"],
            capture_output=True,
            text=True,
            check=False,
            timeout=300,
        )
    assert done.returncode == 0, done.stderr
    told = json.loads(done.stdout)
    assert (told["complaints"], told["outside"]) == ([], [])
    film = told["film"]
    assert film["strike"] - 0.75 < film["stepped"] < film["strike"] - 0.4


@pytest.mark.parametrize(
    ("language", "looks"),
    [
        ("en", BOTH_ENDS),
        *(pytest.param(each, EVERY_LOOK, marks=pytest.mark.campaign) for each in LANGUAGES),
    ],
)
def test_who_asks_is_easy_to_use_and_as_wide_as_the_screen(
    language: str, looks: tuple[Look, ...], browser: Browser, host: Path
) -> None:
    site = _locked(host, language)
    with page_for_axe(browser) as page, hosted(site) as home:
        page.goto(f"{home}index.html")
        page.locator("[data-remember]").wait_for()
        let_in(page)
        for width, scheme in looks:
            page.set_viewport_size({"width": width, "height": 800})
            page.emulate_media(color_scheme=scheme)
            assert violations(page) == []
            assert not page.evaluate("document.documentElement.scrollWidth > innerWidth")
            for part in page.locator("button, [type=checkbox], #lock-words").all():
                box = part.bounding_box()
                assert box is not None
                assert box["height"] >= 24, part.evaluate("e => e.outerHTML")


@pytest.mark.parametrize("script", [True, False])
def test_where_it_cannot_work_it_says_so_and_asks_nothing(
    browser: Browser, locked: Path, *, script: bool
) -> None:
    context = browser.new_context(java_script_enabled=script)
    page = context.new_page()

    def answer(route: Route) -> None:
        route.fulfill(path=locked / route.request.url.partition("example/")[2])

    page.route("http://lessons.example/**", answer)
    page.goto("http://lessons.example/index.html")
    told = "JavaScript" if script is False else "begin with https://"
    page.get_by_text(told).wait_for()
    assert page.locator("form").is_hidden()
    context.close()


@pytest.mark.campaign
def test_a_phone_is_asked_once_where_that_is_wished(locked: Path, own_page: Page) -> None:
    with hosted(locked) as home:
        own_page.goto(f"{home}index.html")
        unlock(own_page)
        assert own_page.get_by_text("opens without your words").count() == 0
        own_page.reload()
        own_page.locator("[name=remember]").check()
        unlock(own_page)
        own_page.reload()
        own_page.locator(".stub").wait_for()
        own_page.get_by_role("button", name="Ask for the words again").click()
        own_page.locator("#lock-words").wait_for()
        unlock(own_page)
        kept = own_page.evaluate("JSON.stringify([{...localStorage}, {...sessionStorage}])")
        assert "acorn" not in kept


@pytest.mark.campaign
def test_a_new_key_asks_a_phone_that_remembered(locked: Path, own_page: Page, host: Path) -> None:
    with hosted(locked) as home:
        own_page.goto(f"{home}index.html")
        own_page.locator("[name=remember]").check()
        unlock(own_page)
        shutil.rmtree(locked)
        _locked(host, "en")
        own_page.reload()
        own_page.get_by_text("has a new lock").wait_for()
        unlock(own_page)


@pytest.mark.campaign
def test_the_copy_for_the_range_stays_sealed(locked: Path, own_page: Page) -> None:
    with hosted(locked) as home:
        own_page.goto(f"{home}index.html")
        unlock(own_page)
        own_page.locator("[data-wish=all]").click()
        own_page.locator("[data-wish=films]").click()
        own_page.locator("[data-kept] [role=status]").wait_for()
        own_page.locator("[data-wish=films]").wait_for(state="hidden")
        texts: list[str] = own_page.evaluate(
            """async () => { const told = [];
            for (const name of await caches.keys()) { const cache = await caches.open(name);
              for (const request of await cache.keys())
                told.push(`${request.url} ${await (await cache.match(request)).text()}`); }
            return told; }"""
        )
    assert any("/sealed/" in text for text in texts)
    own_page.goto(f"{home}index.html")  # the host is gone
    unlock(own_page)
    to_a_film(own_page)
    name = own_page.locator(".card h1").inner_text()
    assert not [
        text[:80] for text in texts if name in text or "data-film" in text.partition(" ")[2][:20]
    ]
    own_page.locator('[data-do="on"]').first.click()
    own_page.wait_for_selector("[data-film][data-shown]")
