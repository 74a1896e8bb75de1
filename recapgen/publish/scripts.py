"""Scripts as pages load them: joined, since from disk no module loads, and without remarks."""

import re
from pathlib import Path

from rjsmin import jsmin

# Each uses only those before it.
_SHARED = ("shared/elements", "shared/written")
_JOBS = {
    "film": ("loading", "screen", "marks", "drawing", "time", "keys", "film"),
    "range": (*_SHARED, "kept", "lesson", "notes", "screen", "aim", "range"),
    "worksheet": (
        *_SHARED,
        "facts",
        "kept",
        "state",
        "splice",
        "notes",
        "shots",
        "aim",
        "plan",
        "picture",
        "clips",
        "text",
        "worksheet",
    ),
}
_IMPORT = re.compile(r"^import \{[^}]+\} from \"\.\.?/([\w/]+)\.js\";\n", re.MULTILINE)
_EXPORT = re.compile(r"^export (?=(?:async )?function |const )", re.MULTILINE)


def joined_script(template: Path, name: str) -> str:
    """``js/<name>/*.js`` of ``template`` as one script that adds no name to the page.

    Raises ValueError where a part takes from one that comes later.
    """
    jobs = _JOBS[name]
    return (
        '"use strict";\n(() => {\n'
        + "".join(
            _part(_file(template / "js", name, job).read_text("utf-8"), jobs[:place])
            for place, job in enumerate(jobs)
        )
        + "})();\n"
    )


def _file(folder: Path, name: str, job: str) -> Path:
    """What several scripts share lies in a folder of its own."""
    return folder / f"{job}.js" if "/" in job else folder / name / f"{job}.js"


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
