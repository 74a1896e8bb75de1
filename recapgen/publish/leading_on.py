"""What stands at an earlier address: no name, and the way to the page of today.

A phone that kept the site of the earlier address asks for its worker there; the one that empties
phones answers, so that the pages of then do not hide the way.
"""

from collections.abc import Mapping
from pathlib import Path

from recapgen.model.page import SiteKind, WrittenFile
from recapgen.model.public import FRONT_PAGE
from recapgen.publish.offline import WORKER
from recapgen.publish.output import Output, open_up
from recapgen.publish.policy import guarded
from recapgen.publish.swap import put, stage
from recapgen.tools.atomic import write_text
from recapgen.tools.template_folder import template_folder
from recapgen.words.catalogue import words

_FOLDER = "offline"
_PAGE = "moved.html.jinja"
_EMPTIES = "emptying.js"


def leading_pages(ways: Mapping[str, str], language: str) -> tuple[WrittenFile, ...]:
    """Pages at earlier file names; each of ``ways`` has the one that it leads to."""
    return tuple(WrittenFile(page, _leading_to(to, language)) for page, to in sorted(ways.items()))


def lead_on(
    output: Output, earlier: str, address: str, pages: Mapping[str, str], language: str
) -> None:
    """Put what leads to the site at ``address`` in the place of the one ``earlier``.

    ``pages`` are the lessons' file names there, each with that of today. Nothing where it stands so
    already.
    """
    goal = output.site / earlier
    ways = {FRONT_PAGE: "", **pages}
    files = {page: _leading_to(f"../{address}/{to}", language) for page, to in ways.items()}
    files[WORKER] = (template_folder() / _FOLDER / _EMPTIES).read_text("utf-8")
    if _as_it_stands(goal) == files:
        return
    new = stage(output.staging)
    for name, text in files.items():
        write_text(new / name, text)
    open_up(new, output.umask)
    put(new, goal, output.root)


def _as_it_stands(folder: Path) -> dict[str, str]:
    try:
        return {file.name: file.read_text("utf-8") for file in folder.iterdir()}
    except (OSError, UnicodeDecodeError):
        return {}


def _leading_to(to: str, language: str) -> str:
    from jinja2 import Environment  # noqa: PLC0415  slow, and few links were ever changed

    page = (template_folder() / _FOLDER / _PAGE).read_text("utf-8")
    say = words(language).say
    told = Environment(autoescape=True).from_string(page)
    facts = {"title": say("page.moved.title"), "link": say("page.moved.link")}
    return guarded(told.render(language=language, to=to, **facts), SiteKind.STUDENT)
