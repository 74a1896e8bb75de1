"""The coach's page for the range, pressed with a finger: kept at each press, read as notes."""

import json
import re
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from msgspec.structs import replace
from playwright.sync_api import Browser, BrowserContext, Page

from recapgen.intake.folder import survey
from recapgen.model.lesson import Lesson
from recapgen.model.shots import Block
from recapgen.publish.site_builder import build_site
from recapgen.render.range_site import range_site
from recapgen.tools.template_folder import template_folder
from recapgen.words.catalogue import words
from tests.browser.axe_rules import let_in, page_for_axe, violations
from tests.browser.test_offline import INSTALLED, served, soon
from tests.render.recaps_fixture import COACH
from tests.whole_folder import folder_of

pytestmark = pytest.mark.browser

INTENTS = (("bar stool", ("Sit back onto a bar stool", "Lean on the stool")),)
HOURS = "Object.keys(localStorage).length"


def built_in(language: str, into: Path) -> Path:
    coach = replace(COACH, language=language, intents=INTENTS)
    build_site(range_site(coach, words(language)), into, template_folder())
    return into


def read_back(told: str, root: Path, shots: str = "") -> Lesson:
    """The lesson that the text makes, with nothing to complain about."""
    lesson = root / "marta" / "2027-04-11"
    lesson.mkdir(parents=True)
    (root / "marta/student.yml").write_text("name: Marta\nhand: right\nagreed: {page: yes}\n")
    (lesson / "notes.md").write_text(f"{told}Keep humming.\n", "utf-8")
    if shots:
        (lesson / "shots.csv").write_text(shots, "utf-8")
    found, _ = survey(root)
    assert found is not None
    read = folder_of(root, found.students[0], COACH)
    assert read.problems == ()
    (only,) = read.lessons
    return only


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return built_in("en", tmp_path_factory.mktemp("range"))


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    context = browser.new_context(viewport={"width": 390, "height": 800}, locale="en-GB")
    yield context
    context.close()


@pytest.fixture
def page(context: BrowserContext, site: Path) -> Page:
    return opened(context, site)


def opened(context: BrowserContext, site: Path) -> Page:
    page = context.new_page()
    page.on("pageerror", lambda error: pytest.fail(str(error)))
    page.clock.install(time="2027-04-11T10:00:00")
    page.goto((site / "range.html").as_uri())
    return page


def begin(page: Page, who: str = "MB") -> None:
    page.fill("#range-who", who)
    page.click("[data-start] button")


def choose(page: Page, number: str, want: str = "") -> None:
    page.select_option("#range-own", "Lean on the stool")
    page.select_option("#range-number", number)
    if want:
        page.select_option("#range-want", want)


def later(page: Page, minutes: float) -> None:
    page.clock.fast_forward(int(minutes * 60_000))


def block(page: Page, name: str, minutes: float = 5) -> None:
    later(page, minutes)
    page.click(f"[data-block='{name}']")


def text(page: Page) -> str:
    return page.input_value("#range-text")


def putts(page: Page, *balls: str) -> None:
    for ball in balls:
        page.click(f"[data-ball={ball}]")


def shots_of(*blocks: tuple[int, int]) -> str:
    """A device's file: a ball every 20 s from each minute after ten, so many of them."""
    times = [
        datetime(2027, 4, 11, 10, tzinfo=UTC) + timedelta(minutes=minute, seconds=50 + 20 * ball)
        for minute, balls in blocks
        for ball in range(balls)
    ]
    rows = [f"{n},{at:%Y-%m-%d %H:%M:%S},{30 + n % 5}" for n, at in enumerate(times, 1)]
    return "\n".join(["shot,time,carry (m)", *rows]) + "\n"


def test_a_lesson_with_a_device_becomes_times(page: Page, tmp_path: Path) -> None:
    begin(page)
    choose(page, "carry", "window")
    page.fill("#range-low", "38")
    page.fill("#range-high", "44")
    page.fill("#range-matters", "2,5")
    block(page, "before", 2)
    later(page, 1)
    page.click("[data-do=kinds]")
    page.click("[data-mishit]:text('thin')")
    page.click("[data-do=filmed]")
    later(page, 1)
    page.click("[data-do=pause]")
    later(page, 1.5)
    page.click("[data-do=pause]")
    block(page, "drill")
    block(page, "after")
    later(page, 6)
    page.click("[data-do=end]")
    lines = re.sub(r"(\d\d:\d\d):\d\d", r"\1", text(page)).splitlines()
    assert lines == [
        "---",
        "# 2027-04-11, MB",
        "intent: Lean on the stool",
        "number: carry",
        "want: 38 to 44 m",
        "matters: 2.5 m",
        "chosen: noted on a phone at 10:00",
        "shots: {before: 10:02-10:10, drill: 10:10-10:15, after: 10:15-10:21}",
        "mishits: {10:03: thin}",
        "left out: {10:04-10:05: phone rang}",
        "# filmed: 10:03 before",
        "---",
    ]
    read = read_back(text(page), tmp_path, shots_of((2, 10), (10, 5), (15, 12)))
    assert [(span.block, span.first, span.last) for span in read.notes.spans] == [
        (Block.BEFORE, 1, 10),
        (Block.DRILL, 11, 15),
        (Block.AFTER, 16, 27),
    ]
    assert read.notes.mishits[0].tag == "thin"
    assert read.notes.declaration is not None


def test_without_a_device_each_ball_is_pressed(page: Page, tmp_path: Path) -> None:
    begin(page, "")
    choose(page, "holed")
    assert page.is_disabled("[data-ball=in]"), "no ball belongs to no block"
    block(page, "before")
    putts(page, "in", "left", "short")
    page.click("[data-do=kinds]")
    page.click("[data-mishit]:text('toe')")
    assert "1 of 3 in" in page.inner_text("[data-tally]")
    block(page, "after")
    putts(page, "in", "in", "long")
    page.click("[data-do=end]")
    told = text(page)
    assert "readings: {before: [in, left, short], after: [in, in, long]}" in told
    assert "mishits: {3: toe}" in told
    assert "want:" not in told
    read = read_back(told, tmp_path)
    assert read.shots is not None
    assert len(read.shots.shots) == 6


def test_a_number_changed_too_late_was_chosen_afterwards(page: Page) -> None:
    begin(page)
    choose(page, "distance left", "lower")
    block(page, "before")
    page.fill("#range-amount", "1,2")
    page.click("[data-balls=amount] button")
    page.fill("#range-amount", "far")
    page.click("[data-balls=amount] button")
    block(page, "after")
    page.fill("#range-amount", "0.8")
    page.keyboard.press("Enter")
    page.click("[data-aim] summary")
    page.fill("#range-matters", "0.3")
    assert "afterwards" in page.inner_text("[data-noted]")
    page.click("[data-do=end]")
    assert "chosen: afterwards" in text(page)
    assert "readings: {unit: m, before: [1.2], after: [0.8]}" in text(page)


def test_nothing_is_lost_and_everything_can_be_taken_back(
    page: Page, context: BrowserContext, site: Path
) -> None:
    """A reload, a page that was killed, a second one beside it, and keys pressed by mistake."""
    begin(page)
    page.fill("#range-intent", "Half a word")
    block(page, "before")
    page.reload()
    assert page.inner_text("[data-aim-told]") == "Half a word"
    assert page.get_attribute("[data-block=before]", "aria-pressed") == "true"
    page.evaluate("window.stop()")
    page.close(run_before_unload=False)
    again = opened(context, site)
    assert again.is_visible("[data-block=before]"), "it goes on where it was"
    beside = opened(context, site)
    again.click("[data-block=drill]")
    beside.click("[data-do=filmed]")
    again.wait_for_function("document.querySelectorAll('[data-presses] li').length === 5")
    assert beside.evaluate(HOURS) == 5
    beside.click("[data-do=undo]")
    beside.click("[data-do=undo]")
    assert again.get_attribute("[data-block=before]", "aria-pressed") == "true"
    again.click("[data-list-part] summary")
    again.click("[data-presses] li:nth-child(2) button")
    assert again.evaluate(HOURS) == 2
    assert again.input_value("#range-intent") == ""


def test_yesterdays_lesson_waits_and_is_ended_by_the_clock_that_is_typed(page: Page) -> None:
    begin(page, "AB")
    block(page, "before")
    later(page, 24 * 60)
    page.goto(page.url.split("#")[0])
    begin(page, "CD")
    page.click(".range-top a")
    assert page.locator("[data-lessons] li").count() == 2
    page.click("[data-lessons] li:nth-child(2) a")
    page.click("[data-do=end]")
    page.fill("#range-until", "10:17")
    page.click("[data-late] button")
    assert re.search(r"before: 10:05:\d\d-10:17:00", text(page))
    page.click("[data-do=copy]")
    page.wait_for_function("document.querySelector('[data-sent]').textContent !== ''")
    page.once("dialog", lambda dialog: dialog.accept())
    page.click("[data-do=delete]")
    assert page.locator("[data-lessons] li").count() == 1


def test_it_is_saved_as_a_file_and_kept_where_there_is_no_store(
    context: BrowserContext, site: Path
) -> None:
    page = context.new_page()
    page.add_init_script(
        "Object.defineProperty(window, 'localStorage', { get() { throw new Error('no'); } });"
    )
    page.goto((site / "range.html").as_uri())
    begin(page, 'a: "b"')
    page.fill("#range-intent", 'say: "hum" # now')
    assert page.is_visible("[data-loose]")
    page.click("[data-do=end]")
    with page.expect_download() as saved:
        page.click("[data-do=save]")
    assert saved.value.suggested_filename == "notes.md"
    assert 'intent: "say: \\"hum\\" # now"' in saved.value.path().read_text("utf-8")


_KEPT = "async (name) => (await (await caches.open(name)).keys()).length"


def test_it_works_without_a_signal_after_one_visit_and_asks_nobody_else(
    context: BrowserContext, site: Path
) -> None:
    page = context.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    with served(site) as port:
        at = f"http://localhost:{port}/range.html"
        page.goto(at)
        soon(page, f"(await Promise.all((await caches.keys()).map({_KEPT}))).some((n) => n > 12)")
    page.goto(at)
    begin(page)
    page.click("[data-block=before]")
    page.reload()
    assert page.get_attribute("[data-block=before]", "aria-pressed") == "true"
    assert {url.split("/")[2] for url in asked} == {f"localhost:{port}"}


@pytest.mark.parametrize(
    "language",
    [
        "en",
        "de",
        "ja",
        *(pytest.param(each, marks=pytest.mark.campaign) for each in ("es", "fr", "ko")),
    ],
)
def test_every_key_has_room_for_a_thumb(language: str, browser: Browser, tmp_path: Path) -> None:
    with page_for_axe(browser) as page:
        page.goto((built_in(language, tmp_path) / "range.html").as_uri())
        let_in(page)
        assert violations(page) == []
        begin(page)
        every_key_is_large(page)
        assert violations(page) == []
        page.emulate_media(media="print")
        assert page.is_visible("[data-slip]")
        assert page.is_hidden("[data-range]")
        assert page.locator(".slip-blocks tbody tr").count() == 5


def every_key_is_large(page: Page) -> None:
    page.select_option("#range-number", "holed")
    page.click("[data-do=kinds]")
    page.click("[data-block=before]")
    page.click("[data-list-part] summary")
    for width in (320, 390, 1200):
        page.set_viewport_size({"width": width, "height": 800})
        assert page.evaluate("document.documentElement.scrollWidth") == width
        small = page.evaluate(
            """[...document.querySelectorAll('button, .range a, .range summary, .range input')]
            .filter((one) => one.offsetParent)
            .map((one) => [one.outerHTML.slice(0, 60), one.getBoundingClientRect()])
            .filter(([, box]) => box.height < 44 || box.width < 44).map(([what]) => what)"""
        )
        assert small == []


@contextmanager
def walked_in_firefox(address: str) -> Iterator[subprocess.Popen[str]]:
    """Firefox with the page at ``address``, where a lesson is pressed together."""
    firefox, node = shutil.which("firefox-esr") or shutil.which("firefox"), shutil.which("node")
    if firefox is None or node is None or not (INSTALLED / "node_modules").is_dir():
        pytest.skip("no firefox, node or puppeteer-core here")
    walk = Path(__file__).with_name("firefox_range.mjs")
    going = subprocess.Popen(
        [node, walk, INSTALLED, firefox, address],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    try:
        yield going
    finally:
        going.kill()


def holds_a_lesson(told: str) -> None:
    what = json.loads(told)
    assert what["complaints"] == []
    assert what["wide"] <= 320, "less where a bar to scroll takes room"
    assert "readings: {before: [in, left], after: [in]}" in what["text"]


def test_firefox_keeps_a_lesson_too_when_the_page_is_closed_in_the_middle(site: Path) -> None:
    with walked_in_firefox((site / "range.html").as_uri()) as going:
        told, _ = going.communicate(timeout=300)
    holds_a_lesson(told)


@pytest.mark.campaign
def test_firefox_works_without_a_signal_after_one_visit(site: Path) -> None:
    with ExitStack() as host:
        port = host.enter_context(served(site))
        with walked_in_firefox(f"http://localhost:{port}/range.html") as going:
            assert going.stdout is not None
            assert going.stdout.readline() == "kept\n"
            host.close()
            told, _ = going.communicate("\n", timeout=300)
    holds_a_lesson(told)
