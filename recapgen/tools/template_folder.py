"""Where the pages' templates, styles, scripts and fonts are kept."""

from functools import cache
from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent.parent


@cache
def template_folder() -> Path:
    """``site_template``: inside the package when installed, beside it in a checkout."""
    installed = _PACKAGE / "site_template"
    return installed if installed.is_dir() else _PACKAGE.parent / "site_template"
