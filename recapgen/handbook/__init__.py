"""The coach's handbook: chapters in markdown, shipped with the program."""

import re
from functools import cache
from importlib.resources import files

from msgspec import Struct

ORDER = (
    "index",
    "folder",
    "coach_file",
    "student_file",
    "notes",
    "worksheet",
    "questions",
    "range",
    "shots",
    "numbers",
    "clips",
    "practice",
    "verdict",
    "cases",
    "publishing",
    "privacy",
    "safety",
    "commands",
    "output",
    "data",
    "moving",
    "limits",
    "problems_words",
    "problems_shots",
    "problems_clips",
    "problems_publishing",
    "changes",
)
_ON_PROBLEMS = tuple(name for name in ORDER if name.startswith("problems_"))
_SECTION = re.compile(r"^## ([a-z0-9-]+)\n(.*?)(?=^## |\Z)", re.MULTILINE | re.DOTALL)


class Chapter(Struct, frozen=True):
    """One page of the handbook; ``text`` is markdown without its title."""

    name: str
    title: str
    text: str


class ProblemEntry(Struct, frozen=True):
    """What the handbook says of one problem; ``chapter`` is the name of the page."""

    code: str
    chapter: str
    text: str


@cache
def chapters() -> tuple[Chapter, ...]:
    """All pages in the order of the contents."""
    return tuple(_chapter(name) for name in ORDER)


@cache
def entries() -> dict[str, ProblemEntry]:
    """Every problem that the handbook explains, by its code."""
    return {
        code: ProblemEntry(code, chapter.name, text.strip())
        for chapter in chapters()
        if chapter.name in _ON_PROBLEMS
        for code, text in _SECTION.findall(chapter.text)
    }


def _chapter(name: str) -> Chapter:
    title, _, text = files(__name__).joinpath(f"{name}.md").read_text("utf-8").partition("\n")
    return Chapter(name, title.removeprefix("# "), text.strip())
