"""The coach's private book: every student, every number, every problem."""

from dataclasses import dataclass
from datetime import date

from recapgen.model.problem import Problem
from recapgen.model.recap import StudentRecap


@dataclass(frozen=True, slots=True)
class Book:
    """``students`` in the coach's folder order; ``problems`` of the whole run, sorted by place."""

    students: tuple[StudentRecap, ...]
    problems: tuple[Problem, ...]
    today: date
