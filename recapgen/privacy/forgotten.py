"""Which folders' students are to be forgotten: kept as marks that hold neither name nor address.

A mark is made of the folder's name by the secret. While forgetting is under way it carries the
receipt as far as it has come, so that a run that was stopped can be finished by another.
"""

import errno
import json
import os
import secrets
from collections.abc import Mapping
from datetime import date
from pathlib import Path

from recapgen.model.receipt import Receipt, TraceKind
from recapgen.privacy.addresses import forgotten_mark
from recapgen.tools.atomic import write_text

KEPT_IN = ".recapgen/forgotten.json"
_COACH_ALONE = 0o600
_NUMBER_SIGNS = "23456789bcdfghjkmnpqrstvwxyz"
_NUMBER_LENGTH = 8


def is_forgotten(root: Path, secret: bytes, student_key: str) -> bool:
    """Whether nothing is to be made of that folder any more."""
    return forgotten_mark(secret, student_key) in _marks(root)


def under_way(root: Path, secret: bytes, student_key: str) -> Receipt | None:
    """The receipt of a run that was stopped; None where none was."""
    kept = _marks(root).get(forgotten_mark(secret, student_key))
    return None if kept is None else _receipt(kept)


def begin(root: Path, secret: bytes, student_key: str, receipt: Receipt) -> None:
    """From now on nothing is made of the folder. Raises OSError."""
    told = {
        "number": receipt.number,
        "on": receipt.on.isoformat(),
        "erased": {kind.value: count for kind, count in receipt.erased.items()},
    }
    _keep(root, {**_marks(root), forgotten_mark(secret, student_key): told})


def finish(root: Path, secret: bytes, student_key: str) -> None:
    """Nothing but the mark is kept: not even the day. Raises OSError."""
    _keep(root, {**_marks(root), forgotten_mark(secret, student_key): None})


def new_number() -> str:
    """A number for a receipt, by chance: nothing about anybody can be read from it."""
    signs = "".join(secrets.choice(_NUMBER_SIGNS) for _ in range(_NUMBER_LENGTH))
    return f"{signs[:4]}-{signs[4:]}"


def _marks(root: Path) -> dict[str, object]:
    """Raises OSError where they cannot be read or are damaged.

    Somebody who was forgotten must not come back for a fault of the disk.
    """
    file = root / KEPT_IN
    try:
        return dict(json.loads(file.read_text("ascii"))["marks"])
    except FileNotFoundError:
        return {}
    except (ValueError, KeyError, TypeError) as fault:
        raise OSError(errno.EIO, os.strerror(errno.EIO), str(file)) from fault


def _keep(root: Path, marks: Mapping[str, object]) -> None:
    told = {"format": 1, "marks": dict(sorted(marks.items()))}
    (root / KEPT_IN).parent.mkdir(mode=0o700, exist_ok=True)
    write_text(root / KEPT_IN, json.dumps(told, indent=1) + "\n", _COACH_ALONE)


def _receipt(kept: object) -> Receipt | None:
    if not isinstance(kept, dict):
        return None
    erased = {TraceKind(kind): int(count) for kind, count in kept["erased"].items()}
    return Receipt(str(kept["number"]), date.fromisoformat(kept["on"]), erased)
