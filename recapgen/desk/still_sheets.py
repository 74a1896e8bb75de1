"""``recapgen stills``: a sheet of pictures with times for every clip, to read the strike off."""

from collections.abc import Iterator
from pathlib import Path

from recapgen.clips.footage import Footage, inspect_any_length
from recapgen.intake.text_file import file_of
from recapgen.intake.which_folder import lesson_given
from recapgen.model.lesson import ClipFile
from recapgen.model.problem import Checked, Code, Problem
from recapgen.model.source import SourceRef
from recapgen.publish.output import claim
from recapgen.tools.cache import Cache
from recapgen.tools.media.contact_sheet import make_sheet
from recapgen.tools.media.converter import ConversionError
from recapgen.tools.template_folder import template_folder

_ALL_ALONG = 12
_AROUND_STRIKE = 24
FONT = "fonts/figtree-numerals.ttf"  # figures alone, as ffmpeg reads no WOFF2


def lay_out_stills(lesson: Path, out: Path | None) -> Checked[tuple[Path, ...]]:
    """Write a sheet for each clip of the folder ``lesson`` below ``stills`` in the output.

    Twelve pictures all along the clip, and every one around the best guess at the strike; where
    several swings may be meant, some around each.
    """
    given = lesson_given(lesson, "stills")
    if given.value is None:
        return Checked(None, given.problems)
    above, paths = given.value.found.root, given.value.lesson
    claimed = claim(out or above.with_name(f"{above.name}_out"), above)
    if claimed.value is None:
        return Checked(None, claimed.problems)
    output = claimed.value
    problems: list[Problem] = []
    sheets = []
    try:
        into = output.stills / paths.folder.relative_to(above)
        into.mkdir(parents=True, exist_ok=True)
        for path in paths.clips:
            made = _sheet(path, SourceRef(file_of(above, path)), into, Cache(output.cache))
            problems += made.problems
            sheets += [made.value] if made.value is not None else []
    finally:
        output.release()
    return Checked(tuple(sheets), tuple(problems))


def _sheet(path: Path, where: SourceRef, into: Path, cache: Cache) -> Checked[Path]:
    """The sheet is what a guess asks for, so of the clip's problems only refusals count."""
    clip = ClipFile(path, where, None, None, None, None, where)
    looked = inspect_any_length(clip, cache)
    if looked.value is None:
        return Checked(None, looked.problems)
    sheet = into / f"{path.name}.webp"
    try:
        pictures = sorted(set(pictures_of(looked.value)))
        make_sheet(path, looked.value.recording, pictures, template_folder() / FONT, sheet)
    except ConversionError:
        facts = {"file": path.name}
        return Checked(None, (Problem(Code.CLIP_NOT_CONVERTED, where, facts),))
    return Checked(sheet, ())


def pictures_of(footage: Footage) -> Iterator[int]:
    times = footage.recording.times_s
    yield from (round(k * (len(times) - 1) / (_ALL_ALONG - 1)) for k in range(_ALL_ALONG))
    struck_s = footage.impacts_s or (footage.strike.at_s,)
    around = _AROUND_STRIKE // len(struck_s)
    for at_s in struck_s:
        struck = times.index(footage.recording.nearest_picture_s(at_s))
        first = max(0, min(struck - around // 2, len(times) - around))
        yield from range(first, min(len(times), first + around))
