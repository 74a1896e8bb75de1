"""What is remembered of links, brought up to the folders as they lie there now."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date

from msgspec import Struct, field
from msgspec.structs import replace

from recapgen.model.naming import folded
from recapgen.privacy.addresses import address
from recapgen.privacy.known_again import KnownAgain, Trace, know_again
from recapgen.privacy.lasting_links import (
    LastingLinks,
    LessonLink,
    Memory,
    OldPage,
    SaidOfLink,
    StudentLink,
    address_of,
    all_addresses,
    page_of,
)


class LessonNow(Struct, frozen=True):
    """A lesson's folder: marks of its ``files`` and of the ``lines`` of its notes."""

    key: str
    on: date
    files: tuple[str, ...]
    lines: tuple[str, ...]
    notes: str
    said: SaidOfLink
    shown: str = ""


class StudentNow(Struct, frozen=True):
    """A student's folder.

    ``shown`` is whether a page is agreed to, ``took_back`` whether student.yml plainly says no.
    """

    key: str
    who: str
    files: tuple[str, ...]
    said: SaidOfLink
    shown: bool
    took_back: bool
    lessons: tuple[LessonNow, ...]


class Remembered(Struct):
    """``links`` are those of this run, ``memory`` what to keep.

    ``renamed`` has each folder's path of before under that of now; ``asked`` the folders, by their
    paths, of which it is not known whether they are new, with the names that they may have had,
    ``copies`` those of them that are copies, with what they are copies of.
    """

    links: LastingLinks
    memory: Memory
    renamed: dict[str, str] = field(default_factory=dict)
    asked: dict[str, tuple[str, ...]] = field(default_factory=dict)
    copies: dict[str, str] = field(default_factory=dict)


def remember(
    memory: Memory, everyone: Sequence[StudentNow], secret: bytes, today: date = date.min
) -> Remembered:
    """Every folder's link: the one that it had, whatever it was called, else one of its own."""
    return _Remembering(memory, everyone, secret, today).go()


class _Remembering:
    def __init__(
        self, memory: Memory, everyone: Sequence[StudentNow], secret: bytes, today: date
    ) -> None:
        self.today = today
        self.before, self.everyone, self.secret = memory.students, everyone, secret
        self.retired = set(memory.retired)
        self.claimed = {at for link in self.before.values() for at in all_addresses(secret, link)}
        self.renamed: dict[str, str] = {}
        self.asked: dict[str, tuple[str, ...]] = {}

    def go(self) -> Remembered:
        found = know_again(
            {k: Trace(link.files, who=link.who) for k, link in self.before.items()},
            {s.key: _trace(s.files, s.said, s.who) for s in self.everyone},
        )
        self.asked |= found.asked
        known: dict[str, StudentLink] = {}
        for student in self.everyone:
            known[student.key] = self._student(student, found)
        kept = self._gone(found)
        kept |= {key: link for key, link in known.items() if key not in found.asked}
        links = LastingLinks(self.secret, known)
        memory = Memory(kept, tuple(sorted(self.retired)))
        return Remembered(links, memory, self.renamed, self.asked, found.copies)

    def _gone(self, found: KnownAgain) -> dict[str, StudentLink]:
        """Those that are not there, for as long as nobody else has their folder's name."""
        there = {folded(s.key) for s in self.everyone if s.key not in found.asked}
        still = set(found.was.values())
        gone = {key: link for key, link in self.before.items() if key not in still}
        for link in (link for key, link in gone.items() if folded(key) in there):
            self.retired |= {*all_addresses(self.secret, link)}
        return {key: link for key, link in gone.items() if folded(key) not in there}

    def _student(self, student: StudentNow, found: KnownAgain) -> StudentLink:
        was = found.was.get(student.key)
        if was is None:
            link = self._unclaimed(StudentLink(student.key))
        else:
            link = self.before[was]
            if folded(was) != folded(student.key):
                self.renamed[student.key] = was
        link = self._anew(link, student, known=was is not None)
        lessons = self._lessons(link, student, was)
        return replace(
            link,
            who=student.who or link.who,
            files=student.files,
            shown=link.shown or student.shown,
            former=(*link.former, *self._former(link, student.said)),
            lessons=lessons,
        )

    def _anew(self, link: StudentLink, student: StudentNow, *, known: bool) -> StudentLink:
        """With a new address, where one is asked for or the one before was taken back."""
        asks = known and student.said.new_address and not link.answered
        agreed_again = link.withdrawn and student.shown
        if asks or agreed_again:
            self.retired |= {*all_addresses(self.secret, link)}
            link = self._unclaimed(replace(link, turn=link.turn + 1, former=()))
        took_back = student.took_back and link.shown
        withdrawn = not student.shown and (link.withdrawn or took_back)
        return replace(link, answered=student.said.new_address, withdrawn=withdrawn)

    def _unclaimed(self, link: StudentLink) -> StudentLink:
        """With an address that is nobody's, and never was another's."""
        taken = self.claimed | self.retired
        while address_of(self.secret, link.name, link.turn) in taken:
            link = replace(link, turn=link.turn + 1)
        self.claimed.add(address_of(self.secret, link.name, link.turn))
        return link

    def _former(self, link: StudentLink, said: SaidOfLink) -> Iterator[str]:
        """The address of a folder's earlier name, which is to lead on to that of today."""
        if said.was_called is None or said.was_called in {link.name, *link.former}:
            return
        at = address(self.secret, said.was_called)
        if at not in self.claimed | self.retired:
            self.claimed.add(at)
            yield said.was_called

    def _lessons(
        self, link: StudentLink, student: StudentNow, was: str | None
    ) -> dict[str, LessonLink]:
        before = link.lessons if was is not None else {}
        found = know_again(
            {key: Trace(each.files, each.lines) for key, each in before.items()},
            {each.key: _trace(each.files, each.said, lines=each.lines) for each in student.lessons},
        )
        self.asked |= {f"{student.key}/{key}": names for key, names in found.asked.items()}
        there = {folded(each.key) for each in student.lessons}
        told = {k: v for k, v in before.items() if folded(k) not in there}
        for home in found.was.values():
            told.pop(home, None)
        pages = {page_of(self.secret, link.name, each) for each in before.values()}
        for lesson in student.lessons:
            if lesson.key not in found.asked:
                known = found.was.get(lesson.key)
                told[lesson.key] = self._lesson(lesson, before, known, link.name, pages)
                if known is not None and folded(known) != folded(lesson.key):
                    self.renamed[f"{student.key}/{lesson.key}"] = f"{was}/{known}"
        return told

    def _lesson(
        self,
        lesson: LessonNow,
        before: Mapping[str, LessonLink],
        known: str | None,
        student_name: str,
        pages: set[str],
    ) -> LessonLink:
        link = LessonLink(lesson.key, lesson.on) if known is None else before[known]
        asks = known is not None and lesson.said.new_address and not link.answered
        if asks:
            link = replace(link, turn=link.turn + 1, former=())
        if known is None or asks:
            while page_of(self.secret, student_name, link) in pages:
                link = replace(link, turn=link.turn + 1)
        pages.add(page_of(self.secret, student_name, link))
        return replace(
            link,
            answered=lesson.said.new_address,
            files=lesson.files,
            lines=lesson.lines,
            notes=lesson.notes,
            said=lesson.said,
            shown=lesson.shown,
            corrected_on=self._corrected_on(link, lesson),
            former=(*link.former, *self._former_pages(link, lesson, student_name, pages)),
        )

    def _corrected_on(self, link: LessonLink, lesson: LessonNow) -> date | None:
        """The day of the last change, as long as it is other than on the first day it was up."""
        if not link.told or lesson.shown == link.told or link.up_on == self.today:
            return None
        same = lesson.shown == link.shown and link.corrected_on is not None
        return link.corrected_on if same else self.today

    def _former_pages(
        self, link: LessonLink, lesson: LessonNow, student_name: str, pages: Iterable[str]
    ) -> Iterator[OldPage]:
        called = lesson.said.was_called
        on = None if called is None else day_of(called)
        if called is None or on is None or called == link.name:
            return
        old = OldPage(called, on)
        page = page_of(self.secret, student_name, LessonLink(called, on))
        if old not in link.former and page not in pages:
            yield old


def day_of(folder: str) -> date | None:
    """The day with which a lesson's folder's name begins."""
    try:
        return date.fromisoformat(folder[:10])
    except ValueError:
        return None


def _trace(
    files: tuple[str, ...], said: SaidOfLink, who: str = "", lines: tuple[str, ...] = ()
) -> Trace:
    return Trace(files, lines, who, called=said.was_called, fresh=said.new_address)


def first_told(memory: Memory, up: Mapping[str, Iterable[str]], today: date) -> Memory:
    """``memory`` once these lessons are ``up``, by students' folders, as they are known now.

    On the first day a page is still being written: what it is at the end of it is what it was.
    """
    students = dict(memory.students)
    for key, lessons in up.items():
        if key in students:
            links = dict(students[key].lessons)
            for each in lessons:
                if each in links and (not links[each].told or links[each].up_on == today):
                    links[each] = replace(links[each], told=links[each].shown, up_on=today)
            students[key] = replace(students[key], lessons=links)
    return replace(memory, students=students)
