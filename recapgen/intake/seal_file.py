"""seal.json: the declaration as it was fixed before the after-shots."""

import json
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

from recapgen.intake.declaration import read_aim, read_planned
from recapgen.intake.form import Form
from recapgen.intake.spelling import spelling
from recapgen.intake.text_file import file_of, read_text
from recapgen.intake.yaml_map import ListNode, brief, read_map
from recapgen.model.lesson import Seal
from recapgen.model.people import Coach
from recapgen.model.problem import Checked, Code, Problem, Severity
from recapgen.model.source import SourceRef

_KEYS = spelling("number", "want", "matters", "must not lose", "planned", "sealed at", "earlier")


def read_seal(root: Path, path: Path, coach: Coach) -> Checked[Seal]:
    """The seal; None where anything in it is unclear, since then it proves nothing."""
    file = file_of(root, path)
    text, problems = read_text(root, path)
    if text is None:
        return Checked(None, problems)
    broken = _broken(text, file)
    if broken is not None:
        return Checked(None, (broken,))
    # JSON within YAML: the one reader gives both their places.
    keyed, problems = read_map(text.replace("\t", "  "), file)
    if keyed is None:
        return Checked(None, problems)
    found: list[Problem] = []
    seal = _seal(Form(keyed, _KEYS, found), coach)
    unclear = any(problem.severity is Severity.ERROR for problem in found)
    return Checked(None if unclear else seal, tuple(found))


def _broken(text: str, file: str) -> Problem | None:
    try:
        value = json.loads(text)
    except json.JSONDecodeError as fault:
        where = SourceRef(file, fault.lineno, fault.colno)
        # A line too short to say anything is told with the one before it.
        lines = text[: fault.pos].split("\n")[-2:] + text[fault.pos :].split("\n")[:1]
        return Problem(Code.SEAL_BROKEN, where, {"found": brief(" ".join(lines)) or "…"})
    except (RecursionError, ValueError):
        return Problem(Code.SEAL_BROKEN, SourceRef(file, 1, 1), {"found": brief(text)})
    if not isinstance(value, dict):
        return Problem(Code.SEAL_BROKEN, SourceRef(file, 1, 1), {"found": brief(text)})
    return None


def _seal(form: Form, coach: Coach) -> Seal | None:
    aim = read_aim(form, coach)
    planned = read_planned(form)
    sealed_at = _sealed_at(form)
    earlier = tuple(_earlier(form))
    for key in ("number", "sealed at"):
        if form.node(key) is None:
            form.report(Code.KEY_MISSING, form.place(key), key=key)
    if aim is None or sealed_at is None:
        return None
    return Seal(
        quantity=aim.quantity,
        want=aim.want,
        smallest_change=aim.smallest_change,
        guard=aim.guard,
        planned_before=planned.before,
        planned_after=planned.after,
        sealed_at=sealed_at,
        where=SourceRef(form.where.file, 1, 1),
        earlier_at=earlier,
    )


def _earlier(form: Form) -> Iterator[datetime]:
    """When the seals were made that this one replaced; of each only the time counts."""
    node = form.node("earlier")
    for item in node.items if isinstance(node, ListNode) else ():
        inner = form.inner("earlier", item, _KEYS)
        at = _sealed_at(inner) if inner is not None else None
        if at is not None:
            yield at


def _sealed_at(form: Form) -> datetime | None:
    """A time with its offset from UTC; without one it would mean another moment elsewhere."""
    words = form.words("sealed at")
    if words is None:
        return None
    try:
        at = datetime.fromisoformat(words.text.strip())
    except ValueError:
        at = None
    if at is None or at.utcoffset() is None:
        form.report(Code.SEAL_BROKEN, words.where, found=f'"sealed at" is "{brief(words.text)}"')
        return None
    return at
