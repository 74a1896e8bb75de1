"""notes.md in two: the keys between the two "---" lines, and the coach's words below them."""

import re
from dataclasses import dataclass

from recapgen.intake.slips import between_marks
from recapgen.intake.yaml_map import Keyed, read_map
from recapgen.model.problem import Checked, Code, Problem
from recapgen.model.source import SourceRef

_MARK = re.compile(r"---[ \t]*")
_END = re.compile(r"(---|\.\.\.)[ \t]*")
_KEY_LINES = 12


@dataclass(frozen=True, slots=True)
class FrontMatter:
    """``next_key`` is where a further key would be written."""

    keyed: Keyed
    words: str
    next_key: SourceRef


def split(text: str, file: str, known: frozenset[str]) -> Checked[FrontMatter]:
    """The keys and the words of a notes file; no keys is fine.

    ``known`` are the keys by which front matter without its first "---" is noticed.
    """
    lines = text.split("\n")
    first = next((i for i, line in enumerate(lines) if line.strip()), 0)
    if not _MARK.fullmatch(lines[first]):
        return _unmarked(lines, file, known)
    last = next((i for i in range(first + 1, len(lines)) if _END.fullmatch(lines[i])), None)
    if last is None:
        where = SourceRef(file, first + 1, 1)
        offers = between_marks(lines, file, known)
        return Checked(None, (Problem(Code.NOTES_NOT_CLOSED, where, offers=offers),))
    keyed, problems = read_map("\n".join(lines[first + 1 : last]), file, first + 2)
    if keyed is None:
        return Checked(None, problems)
    words = "\n".join(lines[last + 1 :]).strip("\n")
    return Checked(FrontMatter(keyed, words, SourceRef(file, last + 1, 1)), problems)


def bounds(text: str) -> tuple[int, int] | None:
    """From which character to which the keys stand; None without both "---"."""
    lines = text.split("\n")
    first = next((i for i, line in enumerate(lines) if line.strip()), 0)
    if not _MARK.fullmatch(lines[first]):
        return None
    last = next((i for i in range(first + 1, len(lines)) if _END.fullmatch(lines[i])), None)
    if last is None:
        return None
    starts = [sum(len(line) + 1 for line in lines[:n]) for n in (first + 1, last)]
    return starts[0], starts[1]


def _unmarked(lines: list[str], file: str, known: frozenset[str]) -> Checked[FrontMatter]:
    start = SourceRef(file, 1, 1)
    for number, line in enumerate(lines[:_KEY_LINES], 1):
        key, colon, _ = line.partition(":")
        if colon and " ".join(key.split()).casefold() in known:
            facts = {"found": f"{key.strip()}:"}
            where, offers = SourceRef(file, number, 1), between_marks(lines, file, known)
            return Checked(None, (Problem(Code.NOTES_UNMARKED, where, facts, offers=offers),))
    return Checked(FrontMatter(Keyed((), start), "\n".join(lines).strip("\n"), start), ())
