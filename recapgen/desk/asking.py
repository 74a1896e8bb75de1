"""The desk's questions put, and their answers understood; what is not, is asked again."""

from collections.abc import Sequence
from datetime import date
from difflib import get_close_matches

from msgspec.structs import replace

from recapgen.desk.whose import Person
from recapgen.intake.days import read_day
from recapgen.intake.folder import NEVER_STUDENTS, begins_with_a_date
from recapgen.intake.text_file import is_hidden
from recapgen.intake.yes_no import yes_or_no
from recapgen.model.naming import folded
from recapgen.model.question import Ask, ChangeFile, WhichDay, WhichFolder, WhoseFiles
from recapgen.model.receipt import ForgetStudent

LEAVE = "-"
_TRIES = 3
_NO_NAMES = frozenset({"quit", "exit", "help", "skip", "none", "nobody", "stop", "cancel"})
_LONGEST_NAME = 80
_NEVER_IN_NAMES = frozenset('/\\\\:*?"<>|')


def person_called(words: str, people: Sequence[Person]) -> Person | None:
    """The one student of that folder or that name."""
    wanted = folded(words.strip())
    own = [each for each in people if folded(each.key) == wanted]
    named = own or [each for each in people if wanted in map(folded, each.names)]
    return named[0] if len(named) == 1 else None


def nearly_called(words: str, people: Sequence[Person]) -> tuple[str, ...]:
    """The folders of those whose name is one or two letters off."""
    by_name = {folded(name): each.key for each in people for name in (each.key, *each.names)}
    near = get_close_matches(folded(words.strip()), by_name, n=3, cutoff=0.75)
    return tuple(dict.fromkeys(by_name[name] for name in near))


def may_be_a_folder(name: str) -> bool:
    """Whether a new student's folder can have that name, on any computer."""
    return (
        0 < len(name) <= _LONGEST_NAME
        and not (name.startswith((".", "_", "-", "~")) or name.endswith((".", " ")))
        and not any(c in _NEVER_IN_NAMES or is_hidden(c) for c in name)
        and folded(name) not in NEVER_STUDENTS
        and not begins_with_a_date(name)
        and not folded(name).startswith("coach.y")
    )


def _may_be_a_name(words: str) -> bool:
    """Whether an answer may be a new student's name: none that was meant for another question."""
    letters = sum(map(str.isalpha, words))
    other = yes_or_no(words) is not None or words.casefold() in _NO_NAMES
    return may_be_a_folder(words) and letters > 1 and not other


def ask_whose(question: WhoseFiles, people: Sequence[Person], ask: Ask) -> str | None:
    """A student's folder, there already or new; None where nobody says whose it is.

    A new name that is nearly one that is there is asked about once more.
    """
    for _ in range(_TRIES):
        answer = ask(question)
        words = LEAVE if answer is None else " ".join(answer.split())
        if words == LEAVE or not (words or question.likely):
            return None
        if not words:
            return question.people[0]
        if words.isdecimal() and 1 <= int(words) <= len(question.people):
            return question.people[int(words) - 1]
        person = person_called(words, people)
        if person is not None:
            return person.key
        near = nearly_called(words, people) if _may_be_a_name(words) else ()
        if _may_be_a_name(words) and (not near or words == question.refused):
            return words
        question = replace(question, refused=words, near=near)
    return None


def ask_day(question: WhichDay, ask: Ask) -> date | None:
    for _ in range(_TRIES):
        answer = ask(question)
        if not answer or not answer.strip():
            return None
        day = read_day(answer)
        if isinstance(day, date):
            return day
        question = replace(question, refused=answer.strip())
    return None


def ask_folder(question: WhichFolder, ask: Ask) -> str | None:
    for _ in range(_TRIES):
        answer = (ask(question) or "").strip()
        if not answer:
            return None
        if answer.isdecimal() and 1 <= int(answer) <= len(question.folders):
            return question.folders[int(answer) - 1]
        question = replace(question, refused=answer)
    return None


def may_change(question: ChangeFile | ForgetStudent, ask: Ask) -> bool:
    return is_yes(ask(question))


def is_yes(answer: str | None) -> bool:
    """Only a yes is one."""
    return answer is not None and yes_or_no(answer) is True
