"""The coach's mark made ready for the foot of a card."""

from pathlib import Path

from recapgen.model.people import MarkPicture
from recapgen.model.problem import Checked, Code, Problem
from recapgen.model.source import SourceRef
from recapgen.tools.cache import Cache, digest_of_file, key_for
from recapgen.tools.media import converter, picture

LONG_SIDE = 192
_PICTURE = "mark.webp"


def make_mark(root: Path, name: str, cache: Cache) -> Checked[MarkPicture]:
    """The picture ``name`` of the lessons folder, small, from the cache if it is there."""
    path = root / name
    try:
        key = key_for(picture.RECIPE, converter.version(), digest_of_file(path), LONG_SIDE)
        entry = cache.find_or_make(
            key, lambda into: picture.make_picture(path, into / _PICTURE, LONG_SIDE)
        )
        return Checked(MarkPicture(entry / _PICTURE, *picture.size(entry / _PICTURE)), ())
    except (OSError, converter.ConversionError):
        return Checked(None, (Problem(Code.MARK_UNUSABLE, SourceRef(name), {"found": name}),))
