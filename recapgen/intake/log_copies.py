"""A log that was copied more than once: days already there are recognised.

A student's page copies headings with its lines, so whatever stands below further headings is
another copy, which may have the earlier one's days again, changed, or only what is new.
"""

from collections.abc import Sequence
from datetime import date

from msgspec import Struct
from msgspec.structs import replace

from recapgen.intake.log_line import LogLine
from recapgen.model.fix import Change, Edit, one_of
from recapgen.model.practice_log import LogEntry
from recapgen.model.problem import Code, Problem
from recapgen.model.source import SourceRef

_NOWHERE = SourceRef("")


class CopiedLine(Struct, frozen=True):
    """A readable line: ``copy`` counts the headings above it."""

    copy: int
    line: LogLine
    entry: LogEntry

    @property
    def values(self) -> LogEntry:
        """What it says, wherever it stands."""
        return replace(self.entry, where=_NOWHERE)


def entries_once(lines: Sequence[CopiedLine], problems: list[Problem]) -> list[LogEntry]:
    """Each session once; a line that speaks against an earlier copy is asked about.

    The same line is one line. A day of an earlier copy that stands in a later one with other
    lines, and without all it had, was corrected or was practised twice: until that is said the
    later lines are left out, but for their pain.
    """
    days: dict[date, list[CopiedLine]] = {}
    repeated: list[CopiedLine] = []
    entries: list[LogEntry] = []
    for each in lines:
        of_day = days.setdefault(each.entry.on, [])
        same = [one for one in of_day if one.values == each.values]
        if same:
            repeated += [each] if any(one.copy == each.copy for one in same) else []
            of_day.append(each)
            continue
        against = _not_repeated(of_day, each, lines)
        if not against:
            entries.append(each.entry)
            of_day.append(each)
            continue
        facts = {"day": each.entry.on.isoformat(), "earlier": str(against[0].line.number)}
        offers = one_of(_answers(against, each))
        problems.append(Problem(Code.LOG_DAY_DIFFERS, each.line.where, facts, offers=offers))
        if each.entry.pain:
            kept = LogEntry(each.entry.on, each.entry.where, pain=True)
            entries.append(replace(kept, pain_place=each.entry.pain_place))
    if repeated:
        facts = {"lines": str(len(repeated))}
        problems.append(Problem(Code.LOG_LINES_TWICE, repeated[0].line.where, facts))
    return entries


def _not_repeated(
    of_day: Sequence[CopiedLine], each: CopiedLine, lines: Sequence[CopiedLine]
) -> list[CopiedLine]:
    """Lines of the day in earlier copies that the copy of ``each`` does not have."""
    here = [one.values for one in lines if one.copy == each.copy]
    return [one for one in of_day if one.copy < each.copy and one.values not in here]


def _answers(against: Sequence[CopiedLine], later: CopiedLine) -> list[tuple[Change, ...]]:
    """The later one is right, the earlier one is, or both were practised."""
    gone = _without(later.line)
    ways: list[tuple[Change, ...]] = [tuple(_without(one.line) for one in against), (gone,)]
    first = against[0].line
    if later.line.columns == first.columns:
        below = first.number + first.height
        ways.append((Edit(first.where.file, below, below - 1, later.line.written), gone))
    return ways


def _without(line: LogLine) -> Edit:
    return Edit(line.where.file, line.number, line.number + line.height - 1, ())
