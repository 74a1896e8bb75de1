"""Problems for renamed folders: a page's address is made of their names, so the link is new."""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from datetime import date

from recapgen.app.build_context import BuildContext
from recapgen.app.consent_first import ConsentNow, address_in
from recapgen.model.problem import Code, Problem
from recapgen.model.public import public_address
from recapgen.model.source import SourceRef
from recapgen.privacy.addresses import lesson_page
from recapgen.publish.build_state import PartState, Seen
from recapgen.publish.renames import renamed

_DAY = len("2027-04-11")


def new_links(
    consents: Sequence[ConsentNow],
    states: Mapping[str, PartState],
    before: Mapping[str, Seen],
    now: Mapping[str, Seen],
    context: BuildContext,
) -> Iterator[Problem]:
    """Every link that was up and is another one with this build, for a folder's new name.

    ``before`` and ``now`` are all files of the lessons at the last build and at this one.
    """
    was_called = {new: old for old, new in renamed(before, now).items()}
    up = {path for state in states.values() for path in state.made}
    before_of, now_of = _by_student(before), _by_student(now)
    for consent in consents:
        key = consent.paths.key
        if consent.address is None or not consent.granted.page:
            continue
        new = _link(context, consent.address)
        if key in was_called:
            old = address_in(states, was_called[key])
            if old is not None and old != consent.address:
                yield _told(Code.STUDENT_RENAMED, key, was_called[key], _link(context, old), new)
        else:
            lessons = {
                new: old
                for old, new in renamed(before_of.get(key, {}), now_of.get(key, {}), key).items()
            }
            yield from _lessons(consent, consent.address, lessons, up, context)


def _by_student(seen: Mapping[str, Seen]) -> dict[str, dict[str, Seen]]:
    """The files by the folder they lie in, directly below the lessons."""
    by_folder: dict[str, dict[str, Seen]] = {}
    for path, file in seen.items():
        by_folder.setdefault(path.partition("/")[0], {})[path] = file
    return by_folder


def _lessons(
    consent: ConsentNow,
    address: str,
    was_called: Mapping[str, str],
    up: set[str],
    context: BuildContext,
) -> Iterator[Problem]:
    """The same of one student's lessons and questions; ``up`` are the pages of the last build."""
    student = consent.paths.key
    for lesson in consent.paths.dated:
        old_key = was_called.get(lesson.key)
        if old_key is None:
            continue
        with suppress(ValueError):  # a name that begins with no date had no page
            old = lesson_page(context.secret, student, old_key, date.fromisoformat(old_key[:_DAY]))
            new = lesson_page(context.secret, student, lesson.key, lesson.on)
            if old != new and f"site/{address}/{old}" in up:
                links = (_link(context, address, page) for page in (old, new))
                yield _told(Code.LESSON_RENAMED, f"{student}/{lesson.key}", old_key, *links)


def _told(code: Code, folder: str, called: str, old: str, new: str) -> Problem:
    return Problem(code, SourceRef(folder), {"called": called, "old": old, "new": new})


def _link(context: BuildContext, *parts: str) -> str:
    """As a student has it, or below site/ where its address is not stated."""
    return public_address(context.coach.address, *parts)
