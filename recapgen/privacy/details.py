"""Facts of a student that only the coach's files hold: how to reach them, and the year.

A number or an address is known by what it is, a birth year only beside a word of being born:
2,012 may be a spin.
"""

import re
from collections.abc import Iterable, Iterator
from unicodedata import normalize

from msgspec import Struct

from recapgen.model.people import Coach, Student
from recapgen.privacy.names import Heard
from recapgen.tools.contact_reading import dialled_at_home, emails_in, phone_pattern, phones_in

_BIRTH = frozenset(
    """born birth birthday birthdate dob geboren geb jahrgang geburtsjahr geburtstag ne nee
    naissance nacido nacida nacimiento""".split()  # noqa: SIM905  (reads as a list)
)
_BIRTH_UNSPACED = ("生まれ", "生年", "년생", "출생", "태어")


class Contacts(Struct, frozen=True):
    """E-mail addresses in small letters, and numbers by their digits, as each is shown."""

    emails: dict[str, str] = {}
    phones: dict[str, str] = {}

    def less(self, others: "Contacts") -> "Contacts":
        return Contacts(
            {each: shown for each, shown in self.emails.items() if each not in others.emails},
            {each: shown for each, shown in self.phones.items() if each not in others.phones},
        )

    def and_those(self, others: "Contacts") -> "Contacts":
        return Contacts({**self.emails, **others.emails}, {**self.phones, **others.phones})


class Details(Struct, frozen=True):
    """What a text is searched for; ``born`` is the student's own year."""

    contacts: Contacts
    patterns: dict[str, re.Pattern[str]]
    born: int | None = None

    def in_text(self, text: str, heard: Heard) -> Iterator[str]:
        """What of it stands in ``text``, as it is shown to the coach."""
        yield from self.contacts_in(text)
        year = str(self.born)
        if year in heard.words and _speaks_of_birth(text, heard):
            yield year

    def contacts_in(self, text: str) -> Iterator[str]:
        met = emails_in(text) & self.contacts.emails.keys()
        yield from (self.contacts.emails[each] for each in sorted(met))
        if not self.patterns:
            return
        plain = normalize("NFKC", text)
        digits = re.sub(r"\D", "", plain)
        for dialled, shown in self.contacts.phones.items():
            found = self.patterns[dialled].search(plain) if dialled in digits else None
            if found is not None and not ("." in found[0] and " " in found[0]):  # no decimals
                yield shown


def details_of(contacts: Contacts, born: int | None) -> Details:
    return Details(contacts, {each: phone_pattern(each) for each in contacts.phones}, born)


def contacts_in(texts: Iterable[str]) -> Contacts:
    """Every e-mail address and number that stands in ``texts``."""
    texts = tuple(texts)
    phones = (each for text in texts for each in phones_in(text))
    return Contacts({each: each for text in texts for each in emails_in(text)}, _dialled(phones))


def contacts_of(student: Student) -> Contacts:
    return Contacts(contacts_in(student.emails).emails, _dialled(student.phones))


def contacts_of_coach(coach: Coach) -> Contacts:
    """How the coach wants to be reached, which may stand on every page."""
    lines = (coach.name, coach.place, coach.contact, coach.greeting, coach.footer)
    return contacts_in(filter(None, lines))


def guardians_of(student: Student) -> tuple[str, ...]:
    """Everybody who has agreed for the student, in any answer."""
    answers = (student.agreed, *student.answers)
    named = (answer.guardian.name for answer in answers if answer.guardian is not None)
    return tuple(dict.fromkeys(named))


def _dialled(phones: Iterable[str]) -> dict[str, str]:
    known = ((dialled_at_home(shown), shown) for shown in phones)
    return {dialled: shown for dialled, shown in known if dialled is not None}


def _speaks_of_birth(text: str, heard: Heard) -> bool:
    return not _BIRTH.isdisjoint(heard.words) or any(sign in text for sign in _BIRTH_UNSPACED)
