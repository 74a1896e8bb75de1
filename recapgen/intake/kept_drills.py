"""A lesson keeps the words of its drills as they were when its recap was first built.

They lie in ``.recapgen/drills/`` under the lesson's own path, with a mark of the notes.md that
named them. A drill that is changed later reaches the lessons given from then on; an older one
takes the new words only when its notes.md is changed too.
"""

import hashlib
import json
from pathlib import Path

import msgspec

from recapgen.intake.folder import LessonPaths
from recapgen.intake.yaml_map import plain_key
from recapgen.model.drill import Drill
from recapgen.model.lesson import DrillStep, Practice
from recapgen.model.naming import file_stem
from recapgen.model.source import SourceRef
from recapgen.tools.atomic import write_text

KEPT_BELOW = Path(".recapgen", "drills")


def drills_for(root: Path, paths: LessonPaths, library: tuple[Drill, ...]) -> tuple[Drill, ...]:
    """The drills that this lesson may name: as its page had them before, else as they are now."""
    kept = _kept(root, paths)
    names = {plain_key(drill.name) for drill in kept}
    return (*kept, *(drill for drill in library if plain_key(drill.name) not in names))


def changed_since(
    root: Path, paths: LessonPaths, practice: Practice | None, library: tuple[Drill, ...]
) -> tuple[str, ...]:
    """The names of drills that this lesson has in words the library has changed since."""
    now = {plain_key(drill.name): drill.step for drill in library}
    used = _used(practice)
    return tuple(
        drill.name
        for drill in _kept(root, paths)
        if plain_key(drill.name) in used
        and now.get(plain_key(drill.name), drill.step) != drill.step
    )


def keep_words(
    root: Path, paths: LessonPaths, practice: Practice | None, library: tuple[Drill, ...]
) -> None:
    """Keep the words of the drills this lesson names, unless it has kept them already.

    What cannot be written is not kept: the library has it.
    """
    used = _used(practice)
    if used <= {plain_key(drill.name) for drill in _kept(root, paths)}:
        return
    drills = [d for d in drills_for(root, paths, library) if plain_key(d.name) in used]
    told = {"notes": _mark(paths), "steps": [msgspec.to_builtins(drill.step) for drill in drills]}
    place = kept_words_file(root, paths)
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        write_text(place, json.dumps(told, ensure_ascii=False, indent=1) + "\n")
    except OSError:
        return


def _kept(root: Path, paths: LessonPaths) -> tuple[Drill, ...]:
    """None where nothing was kept, or where notes.md is another by now."""
    try:
        told = json.loads(kept_words_file(root, paths).read_bytes())
        if told["notes"] != _mark(paths):
            return ()
        steps = msgspec.convert(told["steps"], tuple[DrillStep, ...])
    except (OSError, ValueError, KeyError, TypeError, msgspec.ValidationError):
        return ()
    return tuple(Drill(step.drill, step, SourceRef(".recapgen")) for step in steps if step.drill)


def _used(practice: Practice | None) -> set[str]:
    steps = (*practice.steps, practice.test) if practice is not None else ()
    return {plain_key(step.drill) for step in steps if step is not None and step.drill}


def kept_words_file(root: Path, paths: LessonPaths) -> Path:
    """Where the words of a lesson's drills are kept, once they are."""
    lesson = paths.folder.relative_to(root)
    return root / KEPT_BELOW / lesson.parent / f"{file_stem(lesson.name)}.json"


def _mark(paths: LessonPaths) -> str:
    try:
        return hashlib.sha256(paths.notes.read_bytes()).hexdigest()
    except OSError:
        return ""
