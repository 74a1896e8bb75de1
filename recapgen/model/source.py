"""Where a value came from, as an editor shows it."""

from msgspec import Struct


class SourceRef(Struct, frozen=True, order=True):
    """A place in the coach's folder.

    ``file`` is a path relative to the lessons folder with forward slashes
    (empty for the folder itself); ``line`` and ``column`` count from 1 and are
    None where the whole file is meant. ``sheet`` is the one of a workbook that has several.
    """

    file: str
    line: int | None = None
    column: int | None = None
    sheet: str = ""

    def __str__(self) -> str:
        parts = [f"{self.file}/{self.sheet}" if self.sheet else self.file or "."]
        if self.line is not None:
            parts.append(str(self.line))
            if self.column is not None:
                parts.append(str(self.column))
        return ":".join(parts)
