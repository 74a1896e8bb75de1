"""``usually:`` what a lesson's notes need not say, since it is nearly always the same."""

from collections.abc import Iterable, Iterator
from datetime import date

from msgspec.structs import replace

from recapgen.intake.form import NAME_LENGTH, Form
from recapgen.intake.practice_plan import read_practice, with_words_of
from recapgen.intake.quantities import amount_in, quantity_in
from recapgen.intake.spelling import spelling
from recapgen.intake.usual_words import SURFACES, read_kinds, read_moved
from recapgen.intake.yaml_map import Scalar, brief
from recapgen.model.drill import Drill
from recapgen.model.filled import FilledFrom, FilledKey
from recapgen.model.fix import Swap, one_of
from recapgen.model.lesson import Conditions, Notes, Surface
from recapgen.model.people import Coach, Student
from recapgen.model.problem import Code
from recapgen.model.quantity import Quantity
from recapgen.model.usual import Usual

_KEYS = spelling(
    "ball", "surface", "moved", "matters", "practice", "kind", "since",
    balls="ball", ground="surface", plan="practice", kinds="kind",
)  # fmt: skip


def read_usual(form: Form, coach: Coach, drills: tuple[Drill, ...]) -> Usual | None:
    """What is usual; None where the key is absent."""
    inner = form.form("usually", _KEYS)
    if inner is None:
        return None
    return Usual(
        ball=inner.text("ball", NAME_LENGTH),
        surface=inner.choice("surface", SURFACES),
        moved=read_moved(inner) if inner.node("moved") is not None else None,
        matters=tuple(_matters(inner, coach)),
        practice=read_practice(inner, drills),
        kinds=read_kinds(inner),
        since=inner.day("since"),
    )


def _matters(form: Form, coach: Coach) -> Iterator[tuple[Quantity, float]]:
    """``matters: {carry: 2 m, club path: 1 deg}``: a size belongs to a number."""
    node = form.node("matters")
    if isinstance(node, Scalar):
        offers = one_of(Swap(node.where, node.text, {number: node.text}) for number in ("carry",))
        form.report(Code.KEYS_EXPECTED, node.where, offers, key="matters", known="carry: 2 m")
        return
    for entry in form.pairs("matters", "carry: 2 m"):
        quantity = quantity_in(form, "matters", Scalar(entry.key, entry.where, quoted=True))
        words = form.one(entry.key, entry.value)
        if quantity is None or words is None:
            continue
        if quantity.is_outcome:
            found = {"found": brief(words.text), "number": str(quantity)}
            form.report(Code.SHARE_WITHOUT_MATTERS, words.where, **found)
            continue
        amount = amount_in(form, brief(entry.key), words, quantity, coach)
        if amount is not None:
            yield quantity, amount


def fill_in(
    notes: Notes, form: Form, on: date, people: tuple[Coach, Student | None],
    drills: tuple[Drill, ...],
) -> Notes:  # fmt: skip
    """The notes with what they leave unsaid and is usual, the student's own before the coach's.

    ``form`` holds what they do say, ``drills`` are those that the lesson's plan may name.
    """
    coach, student = people
    sources = (
        (FilledFrom.STUDENT, student.usual if student is not None else None),
        (FilledFrom.COACH, coach.usual),
    )
    for source, usual in sources:
        if usual is not None and usual.holds_on(on):
            notes = _filled(notes, form, source, usual, drills)
    return notes


def _filled(
    notes: Notes, form: Form, source: FilledFrom, usual: Usual, drills: tuple[Drill, ...]
) -> Notes:
    told = {each.key for each in notes.filled}
    keys: list[str] = []

    def unsaid(key: str) -> bool:
        return not form.has(key) and key not in told

    conditions = notes.conditions
    if usual.ball is not None and conditions.ball is None and not conditions.balls:
        conditions = _in_all_blocks(conditions, usual.ball, conditions.surface)
        keys.append("ball")
    if usual.surface is not None and conditions.surface is None:
        conditions = _in_all_blocks(conditions, conditions.ball, usual.surface)
        keys.append("surface")
    notes = replace(notes, conditions=conditions)
    if usual.moved is not None and unsaid("moved"):
        notes = replace(notes, moved=usual.moved)
        keys.append("moved")
    if usual.kinds and unsaid("kind"):
        notes = replace(notes, kinds=usual.kinds)
        keys.append("kind")
    if usual.practice is not None and unsaid("practice"):
        notes = replace(notes, practice=with_words_of(usual.practice, drills))
        keys.append("practice")
    aim = notes.declaration
    change = None if aim is None else dict(usual.matters).get(aim.quantity)
    if aim is not None and change is not None and aim.smallest_change is None and unsaid("matters"):
        notes = replace(notes, declaration=replace(aim, smallest_change=change))
        keys.append("matters")
    return replace(notes, filled=(*notes.filled, *_from(keys, source)))


def _from(keys: Iterable[str], source: FilledFrom) -> Iterator[FilledKey]:
    return (FilledKey(key, source) for key in keys)


def _in_all_blocks(conditions: Conditions, ball: str | None, surface: Surface | None) -> Conditions:
    """``conditions`` with ball and surface set for the lesson and for every block."""
    blocks = tuple(
        (block, replace(own, ball=ball, surface=surface)) for block, own in conditions.blocks
    )
    return replace(conditions, ball=ball, surface=surface, blocks=blocks)
