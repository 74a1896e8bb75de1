"""What every run of the command line reads and works out first, once for all runs of a test.

Runs are forked from a process that has imported this. Nothing here starts a thread, which a
fork would lose: the converter of drawings is imported and not used.
"""

import json
import subprocess
import sys
import tempfile
import threading
from contextlib import redirect_stderr, redirect_stdout
from datetime import date
from functools import cache
from io import StringIO
from pathlib import Path

import altair as alt  # noqa: F401
import vl_convert  # noqa: F401

import recapgen.app.publishing
import recapgen.cli  # noqa: F401
from recapgen.app.building import Options, build
from recapgen.console import Console
from recapgen.intake.clearing_lines import clearings
from recapgen.publish import kept_site
from recapgen.publish.book_index import entries_of
from recapgen.publish.checks import vocabulary
from recapgen.render.charts import specification
from recapgen.render.handbook_pages import handbook_site, to_be_found
from recapgen.tools.cache import Cache
from recapgen.tools.html_reading import read_html
from recapgen.tools.leftovers import temporary_folder
from recapgen.tools.template_folder import template_folder
from recapgen.words.catalogue import words
from tests.end_to_end.small_lessons import TODAY, add_student

_COMPILE = (
    "import json; from recapgen.render.charts.specification import compiled;"
    " print(json.dumps(compiled()))"
)
_VEGA = json.loads(subprocess.check_output([sys.executable, "-c", _COMPILE]))  # it starts threads

specification.specification()
specification.compiled = lambda: _VEGA  # type: ignore[assignment]

# The handbook is the same in every run, and most of a small first build: read once, as it is once
# for a coach, who has it in the cache of the output.
vars(kept_site)["entries_of"] = cache(entries_of)
vars(kept_site)["read_html"] = cache(read_html)
with temporary_folder() as folder:
    kept_site.kept_site(
        lambda: (handbook_site(words("en"), None), to_be_found(words("en"))),
        template_folder(),
        Cache(folder),
    )


def _build_once(folder: Path) -> None:
    """A lesson is built elsewhere, and again here without a drawing: all that a run makes once."""
    lessons, out = folder / "lessons", folder / "out"
    lessons.mkdir()
    coach = lessons / "coach.yml"
    coach.write_text("coach: Ada Quill\n", encoding="utf-8")
    add_student(lessons, "Brida")
    told = ("build", lessons, "--out", out, "--today", TODAY)
    subprocess.run([sys.executable, "-m", "recapgen", *told], check=True, capture_output=True)
    coach.write_text("coach: Ada Quills\n", encoding="utf-8")
    with redirect_stdout(StringIO()), redirect_stderr(StringIO()):
        build(lessons, Options(out, 1, date.fromisoformat(TODAY)), Console(words("en")))


with temporary_folder() as lessons_folder:
    _build_once(lessons_folder)
assert threading.active_count() == 1
tempfile.tempdir = None  # each run looks for its own
vocabulary("en", "en", "en")
list(clearings("No pain."))
