"""Switches and fixtures that all tests share."""

import os
import shutil
import time
from collections.abc import Callable, Generator, Iterator
from pathlib import Path

import pytest
from hypothesis import settings
from playwright.sync_api import Browser, expect, sync_playwright

from tests.end_to_end.many_languages import lessons_in_every_language
from tests.end_to_end.small_lessons import ROOT, TODAY, recapgen

# The same examples each time, so that a run tells of the change and of nothing else; the
# campaign looks for new ones.
settings.register_profile("test", max_examples=60, deadline=None, derandomize=True)
settings.register_profile("campaign", max_examples=20_000, deadline=None)
settings.load_profile(os.environ.get("RECAPGEN_HYPOTHESIS", "test"))

expect.set_options(timeout=20_000)  # a busy machine is late; a fault stays a fault

MUST_NOT_SKIP = ("browser", "ffmpeg")


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--golden-update", action="store_true", help="write what came out as what is expected"
    )


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(
    item: pytest.Item,
) -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """A skipped browser or ffmpeg test is a failure where RECAPGEN_NO_SKIPS says so."""
    report = yield
    matters = any(item.get_closest_marker(name) for name in MUST_NOT_SKIP)
    if report.skipped and matters and os.environ.get("RECAPGEN_NO_SKIPS"):
        report.outcome = "failed"
        report.longrepr = f"skipped where skips are not allowed: {report.longrepr}"
    return report


@pytest.fixture(autouse=True)
def _usual_umask() -> Iterator[None]:
    """An output that a test never lets go leaves no rights behind for the next test."""
    usual = os.umask(0o022)
    os.umask(usual)
    yield
    os.umask(usual)


@pytest.fixture
def golden(request: pytest.FixtureRequest) -> Callable[[str, str], None]:
    """Compare text with ``golden/<name>`` beside the test; keep what came out on a mismatch."""
    folder = Path(str(request.path)).parent

    def check(name: str, came_out: str) -> None:
        kept = folder / "golden" / name
        if request.config.getoption("--golden-update"):
            kept.parent.mkdir(parents=True, exist_ok=True)
            kept.write_text(came_out, encoding="utf-8")
        expected = kept.read_text(encoding="utf-8") if kept.exists() else None
        if came_out != expected:
            actual = folder / "actual" / name
            actual.parent.mkdir(parents=True, exist_ok=True)
            actual.write_text(came_out, encoding="utf-8")
        assert came_out == expected, f"differs from {kept}; what came out is in actual/{name}"

    return check


@pytest.fixture(scope="session")
def chromium() -> str:
    """The system's Chromium; without one the test is skipped, with the reason."""
    found = shutil.which("chromium") or shutil.which("chromium-browser")
    if found is None:
        pytest.skip("no chromium among the system's packages")
    return found


def _built_once(
    tmp_path_factory: pytest.TempPathFactory,
    worker_id: str,
    name: str,
    lay_out: Callable[[Path], None],
) -> Path:
    """A folder of lessons, laid out and built once for all workers into ``<name>_out``."""
    base = tmp_path_factory.getbasetemp()
    shared = (base if worker_id == "master" else base.parent) / f"{name} of all"
    lessons = shared / name
    try:
        shared.mkdir()
    except FileExistsError:
        deadline = time.monotonic() + 900  # a slow machine may need minutes
        while not (shared / "built").exists():
            assert time.monotonic() < deadline, f"the other worker did not build {name}"
            time.sleep(0.5)
    else:
        lay_out(lessons)
        ran = recapgen("build", lessons, "--today", TODAY)
        (shared / "built").write_text(str(ran.code), encoding="utf-8")
        assert ran.code == 0, ran.err
    return lessons


@pytest.fixture(scope="session")
def samples(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Path:
    """A copy of the sample lessons, built."""

    def copy(lessons: Path) -> None:
        shutil.copytree(ROOT / "sample_lessons", lessons)

    return _built_once(tmp_path_factory, worker_id, "sample_lessons", copy)


@pytest.fixture(scope="session")
def sample_out(samples: Path) -> Path:
    """What came out of the sample lessons."""
    return samples.with_name("sample_lessons_out")


@pytest.fixture(scope="session")
def languages_out(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Path:
    """What came out of the same lessons told in every language."""
    told = _built_once(tmp_path_factory, worker_id, "languages", lessons_in_every_language)
    return told.with_name("languages_out")


@pytest.fixture(scope="session")
def browser(chromium: str) -> Iterator[Browser]:
    """Chromium, started once for all tests of a worker."""
    with sync_playwright() as engine:
        running = engine.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        yield running
        running.close()
