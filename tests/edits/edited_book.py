"""A folder that is edited between builds, and how an edit finds and sets what it changes."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from random import Random

from recapgen.tools.template_folder import template_folder
from tests.edits.three_students import lay_out

FIRST_DAY = date(2027, 6, 1)


@dataclass(slots=True)
class Book:
    """The folder, the day it is built on and the templates; ``away`` is what was put aside."""

    root: Path
    clip: Path | None
    day: date = FIRST_DAY
    template: Path = field(default_factory=template_folder)

    def __post_init__(self) -> None:
        for folder in (self.untouched, self.root):
            lay_out(folder, self.clip)
        self.away.mkdir()

    @property
    def away(self) -> Path:
        return self.root.with_name("away")

    @property
    def untouched(self) -> Path:
        """The folder as it was at first, to mend from."""
        return self.root.with_name("untouched")

    def students(self) -> list[Path]:
        return sorted(p.parent for p in self.root.glob("*/student.yml"))

    def lessons(self) -> list[Path]:
        return sorted(p.parent for p in self.root.glob("*/*/notes.md"))

    def looks(self) -> tuple[object, ...]:
        """Two books that look the same give the same pages."""
        held = {
            file.relative_to(self.root).as_posix(): file.read_bytes()
            for file in sorted(self.root.rglob("*"))
            if file.is_file() and ".recapgen" not in file.parts
        }
        links = sorted(p.as_posix() for p in self.root.rglob("*") if p.is_symlink() or p.is_dir())
        return self.day, self.template, tuple(held.items()), tuple(links)


def pick(draw: Random, among: Sequence[Path]) -> Path | None:
    return draw.choice(among) if among else None


def read_text(file: Path) -> str | None:
    """None where it is no file of text, or none that was left as it was."""
    try:
        return file.read_text("utf-8")
    except (OSError, UnicodeDecodeError):
        return None


def set_key(file: Path, key: str, value: str | None) -> None:
    """Set a key on a line of its own to ``value``, or take it out."""
    text = read_text(file)
    if text is None:
        return
    rest = re.sub(rf"^{re.escape(key)}:.*\n(?:  .*\n)*", "", text, flags=re.MULTILINE)
    if value is not None:
        start = 4 if rest.startswith("---\n") else 0
        rest = f"{rest[:start]}{key}: {value}\n{rest[start:]}"
    file.write_text(rest, "utf-8")
