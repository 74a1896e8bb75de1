"""A fault of the program costs one student's pages, and leaves a report to send."""

from pathlib import Path

from msgspec import Struct

from recapgen.model.problem import Code, Problem
from recapgen.model.source import SourceRef
from recapgen.tools.faults import UncaughtError, keep_report


class OwnFaults(Struct):
    """The faults of one run. ``file`` reports all of them; None while there are none.

    It is kept in ``folder``, or among the temporary files where nothing is written.
    """

    folder: Path | None
    file: Path | None = None

    def over(self, student_key: str, fault: Exception) -> Problem:
        """Keep what is known of ``fault``; the problem for that student. Raises OSError."""
        met = fault if self.folder is None else UncaughtError(self.folder)
        if met is not fault:
            met.__cause__ = fault
        self.file = keep_report(met, after=self.file)
        return Problem(Code.FAULT_OF_OURS, SourceRef(student_key), {"file": str(self.file)})
