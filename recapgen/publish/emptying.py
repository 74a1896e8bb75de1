"""What stays for a year where a student's site was: no name, and a worker that empties phones.

A phone that kept the site asks for its worker at the next visit online. Were there none, the old
one would go on showing the pages that it has.
"""

import json
from datetime import date
from functools import cache
from pathlib import Path

from recapgen.model.page import SiteKind
from recapgen.model.public import FRONT_PAGE
from recapgen.publish.offline import WORKER
from recapgen.publish.output import Output, open_up
from recapgen.publish.policy import guarded
from recapgen.publish.swap import put, stage, take_down
from recapgen.tools.atomic import write_text
from recapgen.tools.template_folder import template_folder
from recapgen.words.catalogue import words

KEPT_DAYS = 366
_FOLDER = "offline"
_WORKER = "emptying.js"
_PAGE = "taken_down.html.jinja"
_LEADS_ON = b'http-equiv="refresh"'


def empty_out(output: Output, address: str, language: str, today: date) -> None:
    """Put the emptying worker in the place of a site, in one step; nothing where none is up."""
    goal = output.site / address
    if not goal.is_dir() or is_emptied(goal):
        return
    from jinja2 import Environment  # noqa: PLC0415  slow, and a site is seldom taken down

    new = stage(output.staging)
    template = template_folder() / _FOLDER
    page = Environment(autoescape=True).from_string((template / _PAGE).read_text("utf-8"))
    say = words(language).say
    told = page.render(language=language, title=say("page.gone.title"), line=say("page.gone.line"))
    write_text(new / FRONT_PAGE, guarded(told, SiteKind.STUDENT))
    write_text(new / WORKER, (template / _WORKER).read_text("utf-8"))
    open_up(new, output.umask)
    put(new, goal, output.root)
    _remember(output, {**_since(output), address: today.isoformat()})


def is_emptying(folder: Path) -> bool:
    """Whether nothing is left in a site's folder but what empties phones."""
    try:
        worker = (folder / WORKER).read_text("utf-8")
    except (OSError, UnicodeDecodeError):
        return False
    return worker == _what_empties()


def is_emptied(folder: Path) -> bool:
    """The same of one that does not lead on to another address either."""
    if not is_emptying(folder):
        return False
    front = folder / FRONT_PAGE
    return not front.is_file() or _LEADS_ON not in front.read_bytes()


@cache
def _what_empties() -> str:
    return (template_folder() / _FOLDER / _WORKER).read_text("utf-8")


def clear_emptied(output: Output, address: str, today: date) -> None:
    """Take an emptying folder down when its year is over."""
    since = _since(output)
    begun = date.fromisoformat(since.setdefault(address, today.isoformat()))
    if (today - begun).days >= KEPT_DAYS:
        take_down(output.site / address, output.staging)
        del since[address]
    _remember(output, since)


def _since(output: Output) -> dict[str, str]:
    """Address -> the day it was emptied; what cannot be read begins anew."""
    try:
        kept = json.loads(output.emptied.read_text("utf-8"))
        return {str(address): date.fromisoformat(day).isoformat() for address, day in kept.items()}
    except (OSError, ValueError, AttributeError, TypeError):
        return {}


def _remember(output: Output, since: dict[str, str]) -> None:
    if since != _since(output):
        write_text(output.emptied, json.dumps(since, sort_keys=True) + "\n")
