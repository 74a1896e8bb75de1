"""What was agreed to, as student.yml says it: where anything is in doubt, nothing is."""

import re
from collections.abc import Collection, Iterable, Iterator, Sequence
from pathlib import Path

from msgspec import Struct

from recapgen.intake.answers import (
    AGREED_KEYS,
    GUARDIAN_KEYS,
    answer_to_add,
    guardian_in,
    read_answers,
)
from recapgen.intake.folder import StudentPaths
from recapgen.intake.form import Form
from recapgen.intake.keys_abroad import in_english
from recapgen.intake.near_words import nearest
from recapgen.intake.spelling import Spelling
from recapgen.intake.text_file import MOST_BYTES, file_of, lines_in
from recapgen.intake.yaml_map import ListNode, MapEntry, MapNode, Node, Scalar, brief, plain_key
from recapgen.intake.yes_no import yes_or_no
from recapgen.model.fix import Cut, Offer, Put, one_of
from recapgen.model.people import AgeBand, Agreed
from recapgen.model.problem import Code, Problem
from recapgen.model.source import SourceRef

_ASKED = ("page", "clips", "cases", "case clips")  # "body" is a key of its own, too
_LONG = 5
_BEGINNINGS = ("withdr", "revok", "retract")  # however it goes on
_MARK = re.compile(r"(---|\.\.\.)\s*")
_KEY = re.compile(
    r"""(^|[{,])\s*(-\s+)*(?P<key>["'“‘]?(?P<name>[^\W\d][\w '-]*?)["'”’]?)\s*:(?=\s|$)"""
    r"""(?P<value>[^{},]*)"""
)
_ENDS = frozenset(
    {
        "until", "agreed until", "valid until", "ends", "end", "ended", "expires", "expired",
        "expiry", "bis", "gültig bis", "endet", "abgelaufen", "jusqu'au", "jusqu'à", "fin",
        "expire", "hasta", "caduca", "vence", "期限", "まで", "만료", "까지",
    }
)  # fmt: skip
_TAKEN_BACK = frozenset(
    {
        "withdrawn", "withdraw", "withdrew", "withdraws", "withdrawal", "consent withdrawn",
        "withdrawn on", "revoked", "revoke", "revokes", "revocation", "taken back", "take back",
        "takes back", "took back", "retracted", "opted out", "opt out", "cancelled", "canceled",
        "no longer agrees", "no longer agreed", "does not agree", "not agreed", "disagrees",
        "take down", "taken down", "stop", "stopped", "forget", "delete", "remove",
        "widerrufen", "widerruf", "zurückgezogen", "zurückgenommen",
        "retiré", "retrait", "révoqué", "annulé", "retirado", "retirada", "revocado", "anulado",
        "撤回", "取り消し", "取消", "철회", "취소",
    }
)  # fmt: skip
_REFUSED = frozenset(
    {
        "not allowed", "no permission", "no consent", "no page", "do not show", "don't show",
        "do not publish", "don't publish",
    }
)  # fmt: skip
_ASKED_FOR = frozenset(
    {
        "agreed", "agrees", "agree", "agreement", "consent", "consents", "permission", "allowed",
        "page", "cases", "case clips", "einverstanden", "zugestimmt", "einwilligung",
        "zustimmung", "erlaubnis", "accord", "d'accord", "consentement", "autorisation",
        "acordado", "acuerdo", "consentimiento", "permiso", "同意", "許可", "동의", "허락",
    }
)  # fmt: skip
_AGE = frozenset(
    {
        "age", "age band", "ageband", "years", "born", "birthday", "birth year", "year of birth",
        "date of birth", "dob", "minor", "child", "junior", "under 18", "alter", "geburtsjahr",
        "jahrgang", "âge", "année de naissance", "edad", "año de nacimiento", "年齢", "生年",
        "나이", "출생 연도",
    }
)  # fmt: skip


class Age(Struct, frozen=True):
    """What could be read of it."""

    band: AgeBand | None = None
    born: int | None = None


def read_agreed(
    form: Form, keyed: MapNode, known: Spelling, age: Age, problems: list[Problem]
) -> tuple[Agreed, ...]:
    """The student's answers, oldest first; one that agrees to nothing where any line is in doubt.

    In doubt is also a key anywhere in the file that could mean the agreement ends or was taken
    back, a birth year that cannot be read, and an age that cannot be read while no guardian is
    named. ``known`` are the file's own keys.
    """
    _say_where_asked(keyed, known, problems)
    elsewhere = list(_taken_back_elsewhere(keyed, known))
    problems.extend(elsewhere)
    answers = _under_agreed(form, problems)
    if elsewhere or (age.born is None and form.node("born") is not None):
        return (_unclear(answers),)
    alone = any(each.guardian is None and (each.page or each.cases) for each in answers)
    if alone and age == Age() and _age_in_doubt(form, keyed, known):
        problems.append(Problem(Code.AGE_UNCLEAR, form.place("age band")))
        return (Agreed(unclear=True),)
    return answers


def _say_where_asked(keyed: MapNode, known: Spelling, problems: list[Problem]) -> None:
    """A key of "agreed:" outside it is no other key misspelt ("page" is no "age"), nor nothing."""
    outside = {
        entry.where: entry
        for entry in keyed.entries
        if entry.name in _ASKED and known.key(entry.name) is None
    }
    for at, problem in enumerate(problems):
        entry = outside.get(problem.where)
        if entry is not None and problem.code in {Code.KEY_MISSPELT, Code.KEY_UNKNOWN}:
            facts = {**problem.facts, "near": f"agreed: {{{entry.name}: …}}"}
            offers = _moved(entry, entry.name)
            problems[at] = Problem(Code.KEY_MISSPELT, problem.where, facts, offers=offers)


def _under_agreed(form: Form, problems: list[Problem]) -> tuple[Agreed, ...]:
    guardian = guardian_in(form)
    written, probably = form.node("agreed"), form.guess("agreed")
    node = probably if written is None and isinstance(probably, MapNode) else written
    if node is None:
        offers = one_of(answer_to_add(form.where.file))
        problems.append(Problem(Code.AGREED_MISSING, form.where, offers=offers))
        return (Agreed(guardian=guardian),)
    if isinstance(node, Scalar) or (isinstance(node, ListNode) and not node.items):
        form.form("agreed", AGREED_KEYS)
        return (Agreed(unclear=True),)
    told = read_answers(node, guardian)
    if not told.doubts and node is written:
        return told.answers
    problems.extend(told.doubts)
    where = form.place("agreed") if node is written else node.where
    line = (told.doubts[0].where if told.doubts else where).line
    form.report(Code.AGREEMENT_UNCLEAR, where, line=str(line))
    return (_unclear(told.answers),)


def _unclear(answers: Sequence[Agreed]) -> Agreed:
    """Nothing is agreed; who would have agreed is known all the same."""
    return Agreed(guardian=answers[-1].guardian if answers else None, unclear=True)


def _taken_back_elsewhere(keyed: MapNode, known: Spelling) -> Iterator[Problem]:
    """Every key outside "agreed:" that could mean that the agreement ends or was taken back."""
    for entry in _entries_outside(keyed, known):
        means = _meant(entry.name)
        told = entry.name in _ASKED or in_english(entry.name, known.keys)  # elsewhere, as such
        answers = not told and _not_granted(entry.name, entry.value)
        if means is not None or answers:
            facts = {"found": brief(entry.key), "key": means or "page"}
            tells = means or (entry.name in _ASKED_FOR and _plainly(entry.value, False))
            offers = _moved(entry, means or "page") if tells else ()
            yield Problem(Code.WITHDRAWAL_ELSEWHERE, entry.where, facts, offers=offers)


def _entries_outside(keyed: MapNode, known: Spelling) -> Iterator[MapEntry]:
    for entry in keyed.entries:
        key = known.key(entry.name)
        if key is None:
            yield entry
        if key != "agreed":
            own = GUARDIAN_KEYS if key == "guardian" else None
            below = _entries_below(entry.value)
            yield from (each for each in below if own is None or own.key(each.name) is None)


def _entries_below(node: Node) -> Iterator[MapEntry]:
    if isinstance(node, MapNode):
        for entry in node.entries:
            yield entry
            yield from _entries_below(entry.value)
    elif isinstance(node, ListNode):
        for item in node.items:
            yield from _entries_below(item)


def taken_back_in_notes(root: Path, paths: StudentPaths) -> Iterator[Problem]:
    """The same among the keys of lessons and questions, where it was noted at the next meeting.

    Looked for by line, before and whatever else the notes may be: consent comes first. What was
    asked for has its place in student.yml; here, anything but a plain yes to it may be a no.
    """
    for lesson in paths.dated:
        for number, line in _among_the_keys(lines_in(lesson.notes, MOST_BYTES) or ()):
            for key in _KEY.finditer(line):
                means = _means_in_notes(plain_key(key["name"]), key["value"])
                if means is not None:
                    where = SourceRef(file_of(root, lesson.notes), number, key.start("key") + 1)
                    facts = {"found": brief(key["name"]), "key": means}
                    yield Problem(Code.WITHDRAWAL_ELSEWHERE, where, facts)


def _among_the_keys(lines: Iterable[str]) -> Iterator[tuple[int, str]]:
    """The numbered lines down to the mark that ends the keys, however many stand above them."""
    begun = False
    for number, line in enumerate(lines, 1):
        mark = _MARK.fullmatch(line) is not None
        if begun and mark:
            return
        begun = begun or (bool(line.strip()) and not mark)
        yield number, line


def _means_in_notes(name: str, value: str) -> str | None:
    if _says_taken_back(name):
        return "withdrawn"
    granted = name in _ASKED_FOR and yes_or_no(value) is True
    return "page" if name in _ASKED_FOR | _REFUSED and not granted else None


def _says_taken_back(name: str) -> bool:
    return name in _TAKEN_BACK or name.startswith(_BEGINNINGS)


def _meant(name: str) -> str | None:
    """The key under "agreed:" that a key of that name could stand for, if any."""
    for words, key in ((_TAKEN_BACK, "withdrawn"), (_ENDS, "until")):
        if _near(name, words):
            return key
    return None


def _moved(entry: MapEntry, key: str) -> tuple[Offer, ...]:
    """The same day, where it counts."""
    if not isinstance(entry.value, Scalar) or entry.value.empty:
        return ()
    there = Put(SourceRef(entry.where.file), ("agreed", key), entry.value.text)
    return one_of([(Cut(entry.where), there)])


def _not_granted(name: str, value: Node) -> bool:
    """Was something asked for, under a name that is not its own, and not plainly granted?"""
    return name in _REFUSED or (name in _ASKED_FOR and not _plainly(value, True))


def _plainly(value: Node, answer: bool) -> bool:
    return isinstance(value, Scalar) and yes_or_no(value.text) is answer


def _age_in_doubt(form: Form, keyed: MapNode, known: Spelling) -> bool:
    """Something is said of the age, and it is not clear whether the student is a child."""
    if form.node("age band") is not None:
        return True
    return any(known.key(entry.name) is None and _near(entry.name, _AGE) for entry in keyed.entries)


def _near(name: str, words: Collection[str]) -> bool:
    """A short word is near to anything, so only longer ones may be misspelt."""
    long = [word for word in words if len(word) >= _LONG]
    return name in words or (len(name) >= _LONG and nearest(name, long) is not None)
