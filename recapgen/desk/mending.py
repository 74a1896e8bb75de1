"""``check --fix``: the changes that cannot be wrong, each shown before it is made."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path

from msgspec import Struct, field

from recapgen.desk.asking import may_change
from recapgen.desk.careful_writing import FileText
from recapgen.model.fix import Edit, Sureness, mended
from recapgen.model.problem import Problem
from recapgen.model.question import Ask, ChangeFile


class Mending(Struct):
    """What was changed below ``root``, and what was changed by somebody else while it was shown.

    What was asked once is not asked again, be it in a later round.
    """

    root: Path
    ask: Ask
    changed: list[str] = field(default_factory=list)
    meanwhile: list[str] = field(default_factory=list)
    _asked: set[ChangeFile] = field(default_factory=set)

    def go_round(self, problems: Iterable[Problem]) -> bool:
        """Offer every certain change of ``problems``, a file at a time; True where one was made.

        What lies on another change waits for the next round.
        """
        before = len(self.changed)
        for file, edits in _of_files(problems).items():
            there = FileText.of(self.root / file)
            after = mended(there.text, edits) if there is not None else None
            if there is None or after is None or after == there.text:
                continue
            question = ChangeFile(file, there.text, after)
            if question in self._asked:
                continue
            self._asked.add(question)
            if may_change(question, self.ask):
                done = there.become(after, self.root)
                (self.changed if done else self.meanwhile).append(file)
        return len(self.changed) > before


def _of_files(problems: Iterable[Problem]) -> Mapping[str, Sequence[Edit]]:
    """The certain edits of each file, as many as do not touch each other."""
    found: defaultdict[str, list[Edit]] = defaultdict(list)
    for problem in problems:
        for edits in _certain(problem):
            taken = found[edits[0].file]
            if not any(_touch(new, old) for new in edits for old in taken):
                taken += edits
    return {file: edits for file, edits in found.items() if edits}


def _certain(problem: Problem) -> Iterator[tuple[Edit, ...]]:
    """What mends it in one way only, within one file; what goes over several is the coach's."""
    for fix in problem.fixes:
        files = {edit.file for edit in fix.edits}
        if fix.sureness is Sureness.CERTAIN and len(files) == 1:
            yield fix.edits


def _touch(one: Edit, other: Edit) -> bool:
    """Whether they share a line, or go in at the same place."""
    first = max(one.first_line, other.first_line)
    return first <= max(min(one.last_line, other.last_line), min(one.first_line, other.first_line))
