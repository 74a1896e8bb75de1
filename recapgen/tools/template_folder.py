"""Where the pages' templates, styles, scripts and fonts are kept."""

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from jinja2 import BytecodeCache

_PACKAGE = Path(__file__).resolve().parent.parent


@cache
def template_folder() -> Path:
    """``site_template``: inside the package when installed, beside it in a checkout."""
    installed = _PACKAGE / "site_template"
    return installed if installed.is_dir() else _PACKAGE.parent / "site_template"


def compiled_templates() -> "BytecodeCache | None":
    """Where compiled templates are kept between runs: this user's own temporary files.

    None where no such place is safe from other users.
    """
    from jinja2 import FileSystemBytecodeCache  # noqa: PLC0415  a run with nothing new needs none

    try:
        return FileSystemBytecodeCache()
    except (RuntimeError, OSError):
        return None
