"""The problems page of the coach's book, and what was changed in public."""

from itertools import groupby

from msgspec import Struct

from recapgen.model.book import Book
from recapgen.model.page import Page
from recapgen.model.problem import Problem
from recapgen.render.environment import fill
from recapgen.render.handbook_pages import handbook_link
from recapgen.words.amounts import day
from recapgen.words.catalogue import Words
from recapgen.words.change_sentences import told_whose
from recapgen.words.problems import ProblemText, tell


class ProblemLine(Struct, frozen=True):
    place: str
    slug: str
    explained: str
    severity: str
    told: ProblemText


def problems_page(book: Book, words: Words) -> Page:
    """All problems by file, below what this build changed in public."""
    title = words.say("book.problems.title")
    files = [
        (file or words.say("book.problems.folder"), [_problem(p, words) for p in found])
        for file, found in groupby(book.problems, key=lambda problem: problem.where.file)
    ]
    public = [
        (words.say(f"public.{change.move.value}", who=told_whose(change, words)), change)
        for change in book.public
    ]
    body = fill(
        "book/pages/problems.html.jinja",
        words,
        title=title,
        files=files,
        public=public,
        on=day(book.today, words),
    )
    return Page(path="problems.html", title=title, body=body)


def _problem(problem: Problem, words: Words) -> ProblemLine:
    where = problem.where
    return ProblemLine(
        place=":".join(str(n) for n in (where.sheet or None, where.line, where.column) if n),
        slug=problem.code.slug,
        explained=handbook_link(problem.code.slug),
        severity=words.say(f"book.problem.{problem.severity}"),
        told=tell(problem, words),
    )
