"""The answers of a student under ``agreed:``: one, or one after the other as a list."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from datetime import date

from msgspec import Struct
from msgspec.structs import replace

from recapgen.intake.form import NAME_LENGTH, Form, meanings_of
from recapgen.intake.spelling import spelling
from recapgen.intake.yaml_map import ListNode, MapNode, Node, Scalar, plain_key
from recapgen.model.fix import Cut, Put, Swap, one_of
from recapgen.model.people import Agreed, GivenBy, Guardian
from recapgen.model.problem import Code, Problem
from recapgen.model.source import SourceRef

AGREED_KEYS = spelling(
    "page", "clips", "body", "cases", "case clips", "since", "until", "withdrawn", "guardian",
    "by", "sheet",
    case="cases", clip="clips", withdrew="withdrawn", given_by="by", signed_by="by",
    parent="guardian",
)  # fmt: skip
GUARDIAN_KEYS = spelling("name", "relation", relationship="relation", role="relation")
_ENDING = ("until", "withdrawn")
_IN_WORDS = frozenset(
    {
        "words", "in words", "words only", "words alone", "only words", "only in words",
        "worte", "nur worte", "mots", "en mots", "palabras", "言葉", "言葉だけ", "말", "말로만",
    }
)  # fmt: skip
_GIVEN_BY = meanings_of(
    {
        GivenBy.STUDENT: (
            "student", "self", "themselves", "themself", "own", "them", "himself", "herself",
            "schüler", "schülerin", "élève", "alumno", "alumna", "本人", "본인",
        ),
        GivenBy.GUARDIAN: (
            "guardian", "parent", "parents", "mother", "father", "eltern", "tuteur", "tutor",
            "padres", "保護者", "보호자",
        ),
    }
)  # fmt: skip


class Told(Struct, frozen=True):
    """What ``agreed:`` says, oldest first, and every line of it that leaves a doubt."""

    answers: tuple[Agreed, ...]
    doubts: tuple[Problem, ...]


def read_answers(node: MapNode | ListNode, guardian: Guardian | None) -> Told:
    """One mapping is one answer; in a list each has its day, whatever order they stand in.

    ``guardian`` is the one named in the file's own key, who counts for each answer that names none.
    """
    doubts: list[Problem] = []
    if isinstance(node, MapNode):
        answer = _answer(Form(node, AGREED_KEYS, doubts))
        return Told((replace(answer, guardian=guardian or answer.guardian),), tuple(doubts))
    answers = []
    for form in _forms(node.items, doubts):
        answer = replace(_answer(form), where=form.where)
        answers.append(replace(answer, guardian=answer.guardian or guardian))
        if answer.since is None and len(node.items) > 1 and not form.has("since"):
            doubts.append(Problem(Code.ANSWER_WITHOUT_DAY, form.where))
    doubts.extend(_of_one_day(answers))
    answers.sort(key=lambda each: each.since or date.min)
    return Told(tuple(answers), tuple(doubts))


def guardian_in(form: Form) -> Guardian | None:
    """``guardian: Rosa Lind``, or with what she is to the student."""
    node = form.node("guardian")
    if not isinstance(node, MapNode):
        name = form.text("guardian", NAME_LENGTH)
        return None if name is None else Guardian(name)
    inner = form.inner("guardian", node, GUARDIAN_KEYS)
    name = None if inner is None else inner.required("name", NAME_LENGTH)
    if inner is None or name is None:
        return None
    return Guardian(name, inner.text("relation", NAME_LENGTH))


def _forms(items: Iterable[Node], doubts: list[Problem]) -> Iterator[Form]:
    for item in items:
        if isinstance(item, MapNode):
            yield Form(item, AGREED_KEYS, doubts)
        else:
            facts = {"key": "agreed", "known": ", ".join(AGREED_KEYS.keys)}
            doubts.append(Problem(Code.KEYS_EXPECTED, item.where, facts))


def _answer(form: Form) -> Agreed:
    in_words = _says_words(form.node("cases"))
    answer = Agreed(
        page=form.yes_no("page") or False,
        clips=form.yes_no("clips") or False,
        body=form.yes_no("body") or False,
        cases=in_words or form.yes_no("cases") or False,
        case_clips=form.yes_no("case clips") or False,
        case_words=in_words,
        since=form.day("since"),
        until=form.day("until"),
        withdrawn=form.day("withdrawn"),
        guardian=guardian_in(form),
        by=form.choice("by", _GIVEN_BY),
        sheet=form.text("sheet", NAME_LENGTH),
    )
    for key in _ENDING:  # a bare "withdrawn:" was written for a reason
        if form.has(key) and form.node(key) is None:
            form.report(Code.DAY_MISSING, form.place(key), key=key)
    if answer.since and answer.until and answer.until < answer.since:
        found = f"{answer.until} before {answer.since}"
        form.report(Code.DATE_IMPOSSIBLE, form.place("until"), key="until", found=found)
    if answer.case_words and answer.case_clips:
        _say_both(form)
    return answer


def _says_words(node: Node | None) -> bool:
    return isinstance(node, Scalar) and plain_key(node.text) in _IN_WORDS


def _say_both(form: Form) -> None:
    """Cases in words alone, and clips in cases: one of them is not what they said."""
    told, clips = form.words("cases"), form.words("case clips")
    if told is not None and clips is not None:
        ways = (Swap(clips.where, clips.text, "no"), Swap(told.where, told.text, "yes"))
        form.report(Code.CASE_WORDS_AND_CLIPS, clips.where, one_of(ways))


def _of_one_day(answers: Iterable[Agreed]) -> Iterator[Problem]:
    """Two answers of one day that say different things: which of them is the newer?"""
    by_day: defaultdict[date, list[Agreed]] = defaultdict(list)
    for each in answers:
        if each.since is not None:
            by_day[each.since].append(each)
    for day, (first, *others) in by_day.items():
        for other in others:
            if first.where and other.where and replace(other, where=first.where) != first:
                facts = {"day": day.isoformat(), "first": str(first.where.line)}
                offers = one_of([Cut(first.where), Cut(other.where)])
                yield Problem(Code.ANSWERS_OF_ONE_DAY, other.where, facts, offers=offers)


ANSWERS: tuple[Mapping[str, str], ...] = (
    {"page": "yes", "clips": "no"},
    {"page": "yes", "clips": "yes"},
    {"page": "no"},
)


def answer_to_add(file: str) -> tuple[Put, ...]:
    """What to write where nothing is said: a page, with clips or without, or none."""
    return tuple(Put(SourceRef(file), ("agreed",), answers) for answers in ANSWERS)
