"""Digests of what is published in site/, from which a run's changes are found."""

import hashlib
from collections.abc import Mapping
from pathlib import Path

from recapgen.model.public import CASES, RANGE_PAGE, Move, PublicChange
from recapgen.privacy.addresses import looks_like_address
from recapgen.publish.emptying import is_emptying
from recapgen.publish.offline import WORKER


def what_is_up(site: Path) -> dict[str, str]:
    """Folder -> a digest of what is in it: every student's that has pages, and the cases.

    The coach's page for the range is left out.

    A student's worker lists each file with its hash, so it stands for all of them.
    """
    folders = [entry for entry in site.iterdir() if entry.is_dir()] if site.is_dir() else []
    return {
        folder.name: _digest(folder)
        for folder in folders
        if folder.name == CASES or _is_a_students(folder)
    }


def _is_a_students(folder: Path) -> bool:
    return looks_like_address(folder.name) and not (
        is_emptying(folder) or (folder / RANGE_PAGE).is_file()
    )


def moves(
    before: Mapping[str, str], after: Mapping[str, str], names: Mapping[str, str]
) -> tuple[PublicChange, ...]:
    """What was put up, changed or came down; ``names`` are whose each folder is or was."""
    changes = []
    for folder in sorted({*before, *after}, key=lambda each: (names.get(each, ""), each)):
        if before.get(folder) == after.get(folder):
            continue
        move = Move.CHANGED
        if folder not in before:
            move = Move.PUT_UP
        elif folder not in after:
            move = Move.CAME_DOWN
        changes.append(PublicChange(move, names.get(folder, ""), folder))
    return tuple(changes)


def _digest(folder: Path) -> str:
    worker = folder / WORKER
    files = [worker] if worker.is_file() else sorted(f for f in folder.rglob("*") if f.is_file())
    told = hashlib.sha256()
    for file in files:
        told.update(file.relative_to(folder).as_posix().encode("utf-8", "surrogateescape"))
        told.update(hashlib.sha256(file.read_bytes()).digest())
    return told.hexdigest()
