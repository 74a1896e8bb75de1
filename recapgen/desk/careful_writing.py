"""A coach's text changed line by line: what is not changed keeps its bytes, and the old is kept."""

import hashlib
import os
from collections.abc import Iterator
from difflib import SequenceMatcher
from pathlib import Path

from msgspec import Struct

from recapgen.intake.text_file import KEPT_BEFORE, MARKS, decode
from recapgen.model.naming import file_stem
from recapgen.tools.atomic import write_bytes, write_new

_ENDS = ("\r\n", "\r", "\n")


class FileText(Struct, frozen=True):
    """A file as it was read: its bytes, and its text with every line end as one newline."""

    path: Path
    data: bytes
    text: str

    @classmethod
    def of(cls, path: Path) -> "FileText | None":
        """None for a link, for what is no text, and for what cannot be read."""
        try:
            data = path.read_bytes() if path.is_file() and not path.is_symlink() else None
        except OSError:
            return None
        text = decode(data, path.name).value if data is not None else None
        return None if data is None or text is None else cls(path, data, text)

    def become(self, text: str, root: Path) -> bool:
        """Write ``text`` in its place, the old file kept below ``root``.

        False, and nothing is touched, where the file is other than it was read. Raises OSError.
        """
        new = self._changed(text)
        keep_before(self.path, self.data, root)
        now = FileText.of(self.path)
        if now is None or now.data != self.data:
            return False
        write_bytes(self.path, new, self.path.stat().st_mode & 0o777)
        return True

    def _changed(self, text: str) -> bytes:
        """``text`` with the mark, the encoding and, line by line, the ends that were there."""
        mark, encoding = next(((m, e) for m, e in MARKS if self.data.startswith(m)), (b"", "utf-8"))
        old = list(_with_ends(self.data[len(mark) :].decode(encoding)))
        usual = max(_ENDS, key=lambda end: sum(each == end for _, each in old))
        new = text.split("\n")
        plain = [line for line, _ in old]
        told: list[tuple[str, str]] = []
        for kind, i, j, k, m in SequenceMatcher(None, plain, new, autojunk=False).get_opcodes():
            told += old[i:j] if kind == "equal" else [(line, usual) for line in new[k:m]]
        ended = [f"{line}{end or usual}" for line, end in told[:-1]]
        return mark + "".join((*ended, new[-1])).encode(encoding)


def _with_ends(text: str) -> Iterator[tuple[str, str]]:
    """Every line with its own end; the last has none, be it empty."""
    at = 0
    while True:
        ends = [(found, end) for end in _ENDS if (found := text.find(end, at)) >= 0]
        if not ends:
            yield text[at:], ""
            return
        found, end = min(ends, key=lambda each: (each[0], -len(each[1])))
        yield text[at:found], end
        at = found + len(end)


def keep_before(path: Path, data: bytes, root: Path) -> None:
    """Keep the file as it was, once; every later change keeps its own. Raises OSError."""
    within = path.parent.relative_to(root)
    folder = root / KEPT_BEFORE / within
    folder.mkdir(parents=True, exist_ok=True)
    digest = hashlib.sha256(data).hexdigest()[:12]
    place = folder / f"{file_stem(path.stem)}.{digest}{path.suffix}"
    if not os.path.lexists(place):
        write_new(place, data)
