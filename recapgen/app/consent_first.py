"""Before anything else is done: what is not agreed any more comes down."""

from collections.abc import Callable, Iterable, Mapping
from datetime import date

from msgspec import Struct

from recapgen.intake.folder import StudentPaths, Survey
from recapgen.intake.kept_readings import KeptReadings
from recapgen.model.consent_on_file import as_it_counts
from recapgen.model.people import Coach, Student
from recapgen.model.problem import Checked, Code
from recapgen.model.public import CASES, FRONT_PAGE
from recapgen.privacy.consent import Grants, grants, took_back
from recapgen.privacy.lasting_links import LastingLinks
from recapgen.publish.build_state import PartState
from recapgen.publish.emptying import empty_out
from recapgen.publish.host_headers import HOST_FILES
from recapgen.publish.output import Output
from recapgen.publish.swap import take_down

CARD = "card"
RANGE = "range"
_STUDENT = "student "
_ON_PAGES = frozenset({"page", "clips", "body"})
_IN_CASES = frozenset({"cases", "case_clips", "case_shots"})
_NOTHING_SAID = frozenset({Code.STUDENT_FILE_MISSING, Code.AGREED_MISSING})
_WHOSE_IS_IT = frozenset({Code.STUDENT_TWICE, Code.LINK_UNSURE, Code.STUDENT_COPIED})


class ConsentNow(Struct, frozen=True):
    """One student's folder, who it is, and what holds today.

    ``who`` is student.yml as it was read, once for the whole run. ``address`` is None where
    neither a secret nor the build state gives it.
    """

    paths: StudentPaths
    who: Checked[Student]
    granted: Grants
    address: str | None

    @property
    def student(self) -> Student:
        """Who it is; no more than the folder's name where student.yml cannot be read."""
        return self.who.value or Student(self.paths.key, self.paths.key)


class WhoAgrees(Struct, frozen=True):
    """Who a folder's student is, what holds of what they agreed to, and whether they took it back.

    ``who`` has the answer that counts today.
    ``took_back`` is True only where student.yml plainly says so: no page, or withdrawn.
    """

    who: Checked[Student]
    granted: Grants
    took_back: bool


def people_in(found: Survey, coach: Coach, today: date, read: KeptReadings) -> dict[str, WhoAgrees]:
    """Every student by folder, with consent as it stands today, read before any lesson is."""
    people = {}
    for paths in found.students:
        who = read.read_student(found.root, paths, coach)
        student = who.value or Student(paths.key, paths.key)
        said = not any(problem.code in _NOTHING_SAID for problem in who.problems)
        back = said and who.value is not None and took_back(student, today)
        now = who if who.value is None else Checked(as_it_counts(student, today), who.problems)
        people[paths.key] = WhoAgrees(now, grants(student, today), back)
    return people


def consents_of(
    found: Survey, people: Mapping[str, WhoAgrees], address_of: Callable[[str], str | None]
) -> tuple[ConsentNow, ...]:
    """Every student's consent, and where their pages are.

    Nothing may be shown where it is not known whose page an address shows.
    """
    return tuple(
        ConsentNow(
            paths,
            people[paths.key].who,
            Grants()
            if any(problem.code in _WHOSE_IS_IT for problem in paths.problems)
            else people[paths.key].granted,
            address_of(paths.key),
        )
        for paths in found.students
    )


def take_back(
    consents: Iterable[ConsentNow],
    states: Mapping[str, PartState],
    output: Output,
    language: str,
    today: date,
) -> None:
    """Take down every site and case that shows more than is agreed.

    Where student.yml cannot be read it is not known whether it takes something back: nothing
    counts as agreed. A folder that is gone takes its cases with it. ``language`` is the coach's.
    The single files of lessons and the bundles go every time: whose they are is not kept.
    """
    for to_send in (output.one_pages, output.bundles):
        take_down(to_send, output.staging)
    granted_now: dict[str, frozenset[str]] = {}
    for consent in consents:
        part = part_of(consent.paths.key)
        granted_now[part] = in_force(consent.granted)
        had = frozenset(states[part].granted) if part in states else _ON_PAGES
        if consent.address is not None and _ON_PAGES & had - granted_now[part]:
            empty_out(output, consent.address, consent.student.language or language, today)
    told = {part for part, state in states.items() if _IN_CASES & frozenset(state.granted)}
    more = any(
        _IN_CASES & frozenset(states[part].granted) - granted_now.get(part, frozenset())
        for part in told
    )
    if more or not states:  # without a build state it is not known whose the cases are
        take_down(output.site / CASES, output.staging)


def in_use(
    consents: Iterable[ConsentNow], range_at: str | None, links: LastingLinks | None
) -> set[str]:
    """The names in site/ that belong there: the card's, the cases' and agreed addresses.

    ``range_at`` is that of the page for the range, where it is known; ``links`` say which earlier
    addresses lead on.
    """
    shown = [s for s in consents if s.granted.page and s.address is not None]
    agreed = {s.address for s in shown if s.address is not None}
    if links is not None:
        agreed |= {old for s in shown for old in links.former_addresses(s.paths.key)}
    return {FRONT_PAGE, "assets", CASES, *HOST_FILES, *agreed, *([range_at] if range_at else [])}


def address_in(states: Mapping[str, PartState], student_key: str) -> str | None:
    """Where the build state says a student's site lies, whatever became of the secret."""
    return _place_of(part_of(student_key), states)


def range_in(states: Mapping[str, PartState]) -> str | None:
    """The same of the page for the range."""
    return _place_of(RANGE, states)


def _place_of(part: str, states: Mapping[str, PartState]) -> str | None:
    state = states.get(part)
    if state is None:
        return None
    return next((path.split("/")[1] for path in state.made if path.startswith("site/")), None)


def whose(consents: Iterable[ConsentNow], states: Mapping[str, PartState]) -> dict[str, str]:
    """Address -> the student's name; where the folder is gone, what the build state called it."""
    keys = (key_of(part) for part in states if is_student(part))
    told = {at: key for key in keys if (at := address_in(states, key)) is not None}
    return told | {s.address: s.student.name for s in consents if s.address is not None}


def in_force(granted: Grants) -> frozenset[str]:
    """The names of what is granted, as the build state keeps them."""
    return frozenset(name for name in _ON_PAGES | _IN_CASES if getattr(granted, name))


def is_student(part: str) -> bool:
    """Whether a part of the build state is a student's site."""
    return part.startswith(_STUDENT)


def key_of(part: str) -> str:
    """Whose site a student's part of the build state is."""
    return part.removeprefix(_STUDENT)


def part_of(student_key: str) -> str:
    """The build state's name for a student's site."""
    return f"{_STUDENT}{student_key}"
