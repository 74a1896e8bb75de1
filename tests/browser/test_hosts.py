"""Whatever a host sends with a page: it is styled, and its film plays and can be moved in."""

import time
from pathlib import Path
from typing import Literal

import pytest
from _pytest.mark.structures import ParameterSet
from playwright.sync_api import Browser, Page, Request

from recapgen.publish.policy import POLICY_OF_ALL
from tests.browser.hosts import hosted
from tests.browser.test_stays_put import MOST

pytestmark = [pytest.mark.browser, pytest.mark.ffmpeg]

POLICIES = {
    "none": "",
    "all from itself": "default-src 'self'",
    "no style in a page": "default-src 'self'; style-src 'self'; media-src 'self' blob:",
    "no script in a page": "default-src 'self'; script-src 'self'; object-src 'none'",
    "the one laid beside the pages": f"{POLICY_OF_ALL}; frame-ancestors 'none'",
}
WITHOUT_SCRIPTS = {
    "no script at all": "default-src 'self'; script-src 'none'",
    "a sandbox": "sandbox; default-src 'self'",
}
STRICTEST = ("no style in a page", "a sandbox")
BARE = """() => {
  const card = document.querySelector("main.card");
  const padding = getComputedStyle(card).paddingLeft;
  const serif = getComputedStyle(document.querySelector("h1")).fontFamily;
  return padding === "0px" || !serif.includes("Newsreader");
}"""


def each_of(policies: dict[str, str]) -> list[ParameterSet]:
    """The strictest of every kind; the others are for the campaign."""
    campaign = pytest.mark.campaign
    return [
        pytest.param(policy, id=name, marks=() if name in STRICTEST else (campaign,))
        for name, policy in policies.items()
    ]


@pytest.fixture(scope="module")
def student(sample_out: Path) -> Path:
    """A student's folder with films."""
    found = sorted(p.parent for p in (sample_out / "site").glob("*/films"))
    return next(folder for folder in found if folder.name != "cases")


def lesson_of(student: Path) -> str:
    return next(p.name for p in student.glob("2*.html") if "data-film" in p.read_text("utf-8"))


PLAYS = """video => new Promise((played, late) => {
  setTimeout(late, 20000, new Error("it does not play"));
  video.addEventListener("timeupdate", () => video.currentTime > 0.3 && played());
})"""


def play(page: Page) -> None:
    page.locator("[data-do=play]").first.click()
    page.locator("video").first.evaluate(PLAYS)


def moves(page: Page) -> None:
    page.locator(".film-track").first.press("Home")
    page.locator("[data-film][data-shown='0']").wait_for()


def address(page: Page) -> str | None:
    return page.locator("video").first.get_attribute("src")


@pytest.mark.parametrize("policy", each_of(POLICIES))
def test_a_host_with_a_policy_of_its_own_loses_neither_style_nor_film(
    browser: Browser, student: Path, policy: str
) -> None:
    context = browser.new_context(
        viewport={"width": 390, "height": 664}, service_workers="block", reduced_motion="reduce"
    )
    page = context.new_page()
    with hosted(student, policy=policy) as host:
        for name in ("index.html", "log.html", "practice.html"):
            page.goto(host + name)
            assert not page.evaluate(BARE), name
        page.goto(host + lesson_of(student))
        assert not page.evaluate(BARE)
        play(page)
        moves(page)
        assert (address(page) or "").startswith("films/")
    context.close()


def test_where_a_host_sends_no_parts_the_whole_is_fetched_first(
    browser: Browser, student: Path
) -> None:
    page = browser.new_page(service_workers="block")
    with hosted(student, parts=False, bytes_a_second=150_000) as host:
        page.goto(host + lesson_of(student))
        page.locator("[data-do=play]").first.click()
        here = "getComputedStyle(document.querySelector('.film-hand')).getPropertyValue('--loaded')"
        page.wait_for_function(f"() => Number({here}) > 0.3 && Number({here}) < 1")
        page.locator("video").first.evaluate(PLAYS)
        moves(page)
        assert (address(page) or "").startswith("blob:")
    page.close()


def test_a_host_that_sends_no_parts_and_allows_no_blob_still_plays(
    browser: Browser, student: Path
) -> None:
    page = browser.new_page(service_workers="block")
    with hosted(student, parts=False, policy="default-src 'self'") as host:
        page.goto(host + lesson_of(student))
        play(page)
        assert (address(page) or "").startswith("films/")
    page.close()


FIRST_PICTURE = """video => new Promise(done => {
  const tapped = performance.now();
  const moved = (_, { mediaTime }) => mediaTime > 0
    ? done({ seconds: (performance.now() - tapped) / 1000,
             here: video.buffered.end(0) / video.duration })
    : video.requestVideoFrameCallback(moved);
  video.requestVideoFrameCallback(moved);
  document.querySelector("[data-do=play]").click();
})"""


def test_a_film_is_asked_for_once_and_moves_while_the_rest_is_on_its_way(
    browser: Browser, student: Path
) -> None:
    page = browser.new_page(service_workers="block")
    asked: list[str] = []

    def hear(request: Request) -> None:
        if request.url.endswith(".mp4"):
            asked.append(request.headers.get("range", ""))

    with hosted(student, bytes_a_second=100_000) as host:
        page.goto(host + lesson_of(student), wait_until="load")
        page.on("request", hear)
        first = page.locator("video").first.evaluate(FIRST_PICTURE)
        assert sorted(asked) == ["bytes=0-", "bytes=0-1"]
        assert first["here"] < 0.9
    page.close()


@pytest.mark.campaign
@pytest.mark.parametrize("workers", ["allow", "block"])
def test_how_soon_a_slow_phone_shows_a_film(
    browser: Browser,
    student: Path,
    capsys: pytest.CaptureFixture[str],
    workers: Literal["allow", "block"],
) -> None:
    """Printed, since seconds depend on the machine: 400 kB/s, a processor six times slower."""
    lasted = []
    for _ in range(3):
        context = browser.new_context(
            viewport={"width": 390, "height": 664}, service_workers=workers
        )
        page = context.new_page()
        context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": 6})
        with hosted(student, bytes_a_second=400_000) as host:
            page.goto(host + lesson_of(student), wait_until="load")
            first = page.locator("video").first.evaluate(FIRST_PICTURE)
            assert first["here"] <= 1
            lasted.append(f"{first['seconds']:.1f}")
        context.close()
    with capsys.disabled():
        print(f"\nfirst moving picture, worker: {workers}: {', '.join(lasted)} s")  # noqa: T201


@pytest.mark.parametrize("policy", each_of(POLICIES | WITHOUT_SCRIPTS))
def test_no_host_shows_a_page_bare_or_lets_it_move(
    browser: Browser, student: Path, policy: str
) -> None:
    """On a slow line, told by the browser itself, since a page may have no scripts to ask."""
    page = browser.new_page(viewport={"width": 390, "height": 664}, service_workers="block")
    refused: list[str] = []
    page.on("console", lambda told: refused.append(told.text) if told.type == "error" else None)
    moved: list[float] = []
    told = page.context.new_cdp_session(page)
    told.on(
        "PerformanceTimeline.timelineEventAdded",
        lambda said: moved.append(said["event"]["layoutShiftDetails"]["value"]),
    )
    told.send("PerformanceTimeline.enable", {"eventTypes": ["layout-shift"]})
    with hosted(student, policy=policy, bytes_a_second=100_000) as host:
        for name in ("index.html", lesson_of(student)):
            moved.clear()
            page.goto(host + name, wait_until="networkidle")
            assert not page.evaluate(BARE), name
            assert sum(moved) < MOST, name
    page.close()
    assert [said for said in refused if "style" in said or "mark.svg" in said] == []


@pytest.mark.parametrize("policy", each_of(WITHOUT_SCRIPTS))
def test_where_no_script_may_run_the_page_is_styled_and_its_film_is_the_browsers_own(
    browser: Browser, student: Path, policy: str
) -> None:
    page = browser.new_page(viewport={"width": 390, "height": 664}, service_workers="block")
    with hosted(student, policy=policy) as host:
        for name in ("index.html", "log.html", "practice.html", lesson_of(student)):
            page.goto(host + name, wait_until="load")
            assert not page.evaluate(BARE), name
        film = page.locator("video").first
        assert film.evaluate("video => video.controls && video.clientHeight > 200")
        film.evaluate("video => { video.play(); }")
        deadline = time.monotonic() + 20  # without scripts nothing in the page may wait
        while film.evaluate("video => video.currentTime") < 0.3:
            assert time.monotonic() < deadline, "it does not play"
            page.wait_for_timeout(50)
    page.close()
