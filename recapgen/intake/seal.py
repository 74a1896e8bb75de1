"""seal.json: the declaration as it was fixed before the after-shots."""

import json
from datetime import datetime
from pathlib import Path

from recapgen.intake.declaration import read_aim
from recapgen.intake.form import Form, spelling
from recapgen.intake.text_file import file_of, read_text
from recapgen.intake.yaml_map import brief, read_map
from recapgen.model.lesson import Seal
from recapgen.model.people import Coach
from recapgen.model.problem import Checked, Code, Problem, Severity
from recapgen.model.source import SourceRef

_KEYS = spelling("number", "want", "matters", "must not lose", "planned", "sealed at")
_PLANNED_KEYS = spelling("before", "after")
MOST_PLANNED = 1000


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
        return Problem(Code.SEAL_BROKEN, where, {"found": brief(fault.msg)})
    except (RecursionError, ValueError):
        return Problem(Code.SEAL_BROKEN, SourceRef(file, 1, 1), {"found": brief(text)})
    if not isinstance(value, dict):
        return Problem(Code.SEAL_BROKEN, SourceRef(file, 1, 1), {"found": brief(text)})
    return None


def _seal(form: Form, coach: Coach) -> Seal | None:
    aim = read_aim(form, coach)
    planned = form.form("planned", _PLANNED_KEYS)
    sealed_at = _sealed_at(form)
    for key in ("number", "sealed at"):
        if form.node(key) is None:
            form.report(Code.KEY_MISSING, form.place(key), key=key)
    if aim is None or sealed_at is None:
        return None
    return Seal(
        quantity=aim.quantity,
        want=aim.want,
        matters=aim.matters,
        guard=aim.guard,
        planned_before=planned.whole("before", 0, MOST_PLANNED) if planned else None,
        planned_after=planned.whole("after", 0, MOST_PLANNED) if planned else None,
        sealed_at=sealed_at,
        where=SourceRef(form.where.file, 1, 1),
    )


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
