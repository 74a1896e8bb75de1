"""What the browser's tests look at, and the page they share: opening one costs most of a test."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.kinds_of_pages import lay_out_all


@pytest.fixture(scope="session")
def every_kind(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with every kind of page, at the paths that KINDS names."""
    root = tmp_path_factory.mktemp("kinds")
    lay_out_all(root)
    return root


@pytest.fixture(scope="session")
def one_page(browser: Browser) -> Iterator[Page]:
    opened = browser.new_page()
    yield opened
    opened.close()


@pytest.fixture
def page(one_page: Page) -> Page:
    """A phone's page for tests that only look: they neither listen nor press Tab to its end."""
    one_page.set_viewport_size({"width": 390, "height": 800})
    one_page.emulate_media(media="null", color_scheme="light", reduced_motion="reduce")
    return one_page


@pytest.fixture
def host(sample_out: Path, tmp_path: Path) -> Path:
    """A folder to serve with one student, who has films, somewhere below it."""
    students = sorted(p.parent for p in (sample_out / "site").glob("*/films"))
    student = next(s for s in students if s.name != "cases")
    shutil.copytree(student, tmp_path / "some where" / "card")
    return tmp_path
