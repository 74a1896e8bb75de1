"""The past cases that may be shown, and the links that lessons make to them."""

from collections.abc import Iterable, Mapping
from difflib import get_close_matches

from msgspec import Struct
from msgspec.structs import replace

from recapgen.model.fix import Cut, Put, Swap, one_of
from recapgen.model.naming import folded
from recapgen.model.problem import Checked, Code, Problem
from recapgen.model.public import CASES, public_address
from recapgen.model.recap import CaseLink, Recap, StudentRecap
from recapgen.model.source import SourceRef


class AgreedCase(Struct, frozen=True):
    """An agreed case; ``page`` is its file name in site/cases/."""

    title: str
    page: str


class KnownCases(Struct, frozen=True):
    """Agreed cases by the coach's word for them (without regard to case), and all words used."""

    cases: Mapping[str, AgreedCase]
    asked_for: frozenset[str]


NO_CASES = KnownCases({}, frozenset())


def find_cases(students: Iterable[StudentRecap]) -> Checked[KnownCases]:
    """Every case that is agreed; a word used twice is a problem and the first one keeps it."""
    cases: dict[str, AgreedCase] = {}
    asked_for: set[str] = set()
    problems = []
    for student in students:
        for recap in student.recaps:
            note = recap.notes.case
            if note is None:
                continue
            handle = folded(note.handle)
            if handle in asked_for:
                where, other = SourceRef(note.where.file), f"{note.handle}-2"
                offers = one_of([Put(where, ("case", "name"), other)])
                facts = {"name": note.handle}
                problems.append(Problem(Code.CASE_NAME_TWICE, note.where, facts, offers=offers))
                continue
            asked_for.add(handle)
            if recap.case.note is not None and recap.case.page is not None:
                cases[handle] = AgreedCase(note.title, recap.case.page)
    return Checked(KnownCases(cases, frozenset(asked_for)), tuple(problems))


def link_cases(
    student: StudentRecap, known: KnownCases, published_at: str | None
) -> tuple[StudentRecap, tuple[Problem, ...]]:
    """``student`` with the lessons' ``see also`` turned into links.

    A student's folder may be published alone, so a link needs the address in coach.yml:
    without one there is no link, and a problem.
    """
    problems: list[Problem] = []
    recaps = []
    for recap in student.recaps:
        links, met = _links(recap, known, published_at)
        problems.extend(met)
        recaps.append(replace(recap, case=replace(recap.case, links=links)))
    return replace(student, recaps=tuple(recaps)), tuple(problems)


def _links(
    recap: Recap, known: KnownCases, published_at: str | None
) -> tuple[tuple[CaseLink, ...], list[Problem]]:
    links = []
    problems = []
    for wish in recap.notes.see_also:
        handle = folded(wish.handle)
        found = known.cases.get(handle)
        if found is not None and published_at is not None:
            links.append(CaseLink(found.title, public_address(published_at, CASES, found.page)))
            continue
        facts = {"name": wish.handle}
        if found is not None:
            problems.append(Problem(Code.CASE_LINK_NEEDS_ADDRESS, wish.where, facts))
        elif handle in known.asked_for:
            offers = one_of([Cut(wish.where)])
            problems.append(Problem(Code.CASE_LINK_NOT_AGREED, wish.where, facts, offers=offers))
        else:
            near = get_close_matches(handle, known.asked_for, 1)
            code = Code.CASE_LINK_NEAR if near else Code.CASE_LINK_UNKNOWN
            ways = [Swap(wish.where, wish.handle, near[0])] if near else [Cut(wish.where)]
            facts |= {"near": "".join(near)}
            problems.append(Problem(code, wish.where, facts, offers=one_of(ways)))
    return tuple(links), problems
