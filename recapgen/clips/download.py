"""A clip for the student to keep: as it was filmed, with nothing in it but the pictures."""

from pathlib import Path

from recapgen.clips.footage import Footage
from recapgen.model.films import Download
from recapgen.model.problem import Checked, Code, Problem
from recapgen.tools.cache import Cache, digest_of_file, key_for, sha256_of_file
from recapgen.tools.media import converter, stripping

_FILE = "download.mp4"
_MADE_OF = "made-of.txt"
_NAME_DIGITS = 16


def make_download(side: Footage, cache: Cache) -> Checked[Download]:
    """The file to save, from the cache if it is there; a problem where it cannot be made."""
    clip = side.clip

    def strip(into: Path) -> None:
        stripping.strip(clip.path, side.recording, into / _FILE)
        (into / _MADE_OF).write_text(sha256_of_file(clip.path), encoding="ascii")

    key = key_for(stripping.RECIPE, _FILE, _MADE_OF, converter.version(), side.content)
    try:
        file = cache.find_or_make(key, strip) / _FILE
    except converter.ConversionError:
        facts = {"file": clip.path.name}
        return Checked(None, (Problem(Code.CLIP_NOT_KEPT, clip.where, facts),))
    fingerprint = digest_of_file(file)[:_NAME_DIGITS]
    made_of = ((file.parent / _MADE_OF).read_text("ascii"),)
    size = file.stat().st_size
    return Checked(Download(file, size, fingerprint, clip.block, clip.shot, made_of), ())
