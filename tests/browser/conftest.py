"""What the browser's tests look at."""

from pathlib import Path

import pytest

from tests.browser.kinds_of_pages import lay_out_all


@pytest.fixture(scope="session")
def every_kind(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with every kind of page, at the paths that KINDS names."""
    root = tmp_path_factory.mktemp("kinds")
    lay_out_all(root)
    return root
