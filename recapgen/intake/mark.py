"""The coach's own mark: a small picture beside coach.yml.

Only pictures made of dots are taken: a drawing in SVG may hold scripts and addresses.
"""

from pathlib import Path

from recapgen.intake.form import Form, instead
from recapgen.intake.near_words import nearest
from recapgen.intake.text_file import file_of, leads_outside
from recapgen.intake.yaml_map import brief
from recapgen.model.fix import Cut, one_of
from recapgen.model.naming import folded
from recapgen.model.problem import Code

LARGEST_BYTES = 2_000_000
_ENDINGS = frozenset({".png", ".jpg", ".jpeg", ".webp"})
_STARTS = (b"\xff\xd8\xff", b"\x89PNG", b"RIFF")


def read_mark(form: Form, root: Path) -> str | None:
    """The file that ``mark:`` names, from the lessons folder; None where it cannot be shown."""
    words = form.words("mark")
    if words is None:
        return None
    name = words.text.strip()
    without = one_of([Cut(form.place("mark"))])
    found = next((f for f in root.iterdir() if folded(f.name) == folded(name)), None)
    if found is None or leads_outside(root, found) or not found.is_file():
        near = nearest(name, (f.name for f in root.iterdir() if f.suffix in _ENDINGS))
        offers = (*instead(words, *([near] if near else ())), *without)
        form.report(Code.MARK_MISSING, words.where, offers, found=brief(name))
        return None
    if found.stat().st_size > LARGEST_BYTES or not _is_picture(found):
        form.report(Code.MARK_UNUSABLE, words.where, without, found=brief(name))
        return None
    return file_of(root, found)


def _is_picture(file: Path) -> bool:
    """By its first bytes, not by its name: JPEG, PNG or WebP."""
    with file.open("rb") as opened:
        return opened.read(4).startswith(_STARTS)
