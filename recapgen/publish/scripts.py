"""Scripts as pages load them: joined, since from disk no module loads, and without remarks."""

import re
from pathlib import Path

from rjsmin import jsmin

# Each uses only those before it.
_OF_THE_FILM = ("loading", "screen", "marks", "drawing", "time", "keys", "film")
_OF_THE_RANGE = ("kept", "lesson", "notes", "screen", "aim", "range")
_IMPORT = re.compile(r"^import \{[^}]+\} from \"\./(\w+)\.js\";\n", re.MULTILINE)
_EXPORT = re.compile(r"^export (?=(?:async )?function |const )", re.MULTILINE)


def film_script(template: Path) -> str:
    """``js/film/*.js`` of ``template`` as one script that adds no name to the page.

    Raises ValueError where a part takes from one that comes later.
    """
    return _joined(template / "js" / "film", _OF_THE_FILM)


def range_script(template: Path) -> str:
    """``js/range/*.js`` in the same way."""
    return _joined(template / "js" / "range", _OF_THE_RANGE)


def _joined(folder: Path, jobs: tuple[str, ...]) -> str:
    return (
        '"use strict";\n(() => {\n'
        + "".join(
            _part((folder / f"{job}.js").read_text("utf-8"), jobs[:place])
            for place, job in enumerate(jobs)
        )
        + "})();\n"
    )


def packed(script: str) -> str:
    """``script`` without remarks and spaces that mean nothing: a slow phone waits for each."""
    small: str = jsmin(script)
    return small


def _part(text: str, before: tuple[str, ...]) -> str:
    for job in _IMPORT.findall(text):
        if job not in before:
            raise ValueError(f"{job}.js is joined too late for what takes from it")
    joined = _EXPORT.sub("", _IMPORT.sub("", text))
    if re.search(r"^(import|export)\b", joined, re.MULTILINE):
        raise ValueError("what is joined takes and gives functions and values by name alone")
    return joined
