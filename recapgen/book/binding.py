"""The recaps of all students become the coach's book."""

from collections.abc import Iterable, Sequence
from datetime import date

from recapgen.book.examples import find_examples
from recapgen.book.lesson_endings import Joined, endings_of_all
from recapgen.book.tried_intents import Pooling, count_tried_intents, pooled
from recapgen.model.book import Book
from recapgen.model.problem import Problem
from recapgen.model.public import PublicChange
from recapgen.model.recap import StudentRecap


def bind_book(
    students: Sequence[StudentRecap],
    problems: Iterable[Problem],
    today: date,
    *,
    up: frozenset[str] | None = None,
    intents: Joined = (),
    misses: Joined = (),
    public: tuple[PublicChange, ...] = (),
    pooling: Pooling = pooled,
    slips: tuple[tuple[str, str], ...] = (),
) -> Book:
    """The book as of ``today``: ``students`` in the coach's order, ``problems`` by place.

    ``up`` are the paths below site/ that are there: a student held back at first has none.
    ``intents`` and ``misses`` are the coach's short names for what was tried and for what
    students come with, each with its wordings;
    ``public`` is what this run changed of the published pages; ``pooling`` gives the rows
    of intents, worked out anew or kept; ``slips`` are the words for locked students' sites.
    """
    return Book(
        students=tuple(students),
        problems=tuple(sorted(problems, key=_place)),
        today=today,
        tried_intents=count_tried_intents(students, intents, pooling),
        up=up,
        public=public,
        slips=slips,
        endings=endings_of_all(students, misses=misses, intents=intents),
        examples=find_examples(students, today, up, misses=misses, intents=intents),
    )


def _place(problem: Problem) -> tuple[str, int, int, str]:
    where = problem.where
    return where.file, where.line or 0, where.column or 0, problem.code.slug
