"""The coach's own mark: a small picture beside coach.yml.

Only pictures made of dots are taken: a drawing in SVG may hold scripts and addresses.
"""

from pathlib import Path

from recapgen.intake.form import Form
from recapgen.intake.text_file import file_of, leads_outside
from recapgen.intake.yaml_map import brief
from recapgen.model.problem import Code

LARGEST_BYTES = 2_000_000
_STARTS = (b"\xff\xd8\xff", b"\x89PNG", b"RIFF")


def read_mark(form: Form, root: Path) -> str | None:
    """The file that ``mark:`` names, from the lessons folder; None where it cannot be shown."""
    words = form.words("mark")
    if words is None:
        return None
    name = words.text.strip()
    found = next((f for f in root.iterdir() if f.name.casefold() == name.casefold()), None)
    if found is None or leads_outside(root, found) or not found.is_file():
        form.report(Code.MARK_MISSING, words.where, found=brief(name))
        return None
    if found.stat().st_size > LARGEST_BYTES or not _is_picture(found):
        form.report(Code.MARK_UNUSABLE, words.where, found=brief(name))
        return None
    return file_of(root, found)


def _is_picture(file: Path) -> bool:
    """By its first bytes, not by its name: JPEG, PNG or WebP."""
    with file.open("rb") as opened:
        return opened.read(4).startswith(_STARTS)
