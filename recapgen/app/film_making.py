"""A lesson's clips become films: matched with shots, chosen, and made."""

from collections.abc import Sequence
from functools import partial
from pathlib import Path

from msgspec.structs import replace

from recapgen.app.build_context import BuildContext
from recapgen.app.films_under_way import Filming
from recapgen.choosing.clip_choice import choose_clips, each_alone
from recapgen.clips.download import make_download
from recapgen.clips.film import FOR_STRANGERS, make_film
from recapgen.clips.footage import Footage
from recapgen.clips.nameless import hide_faces
from recapgen.intake.clip_names import read_clip_name
from recapgen.model.films import ClipPairing, Film, FilmedClip
from recapgen.model.lesson import ClipFile, Lesson
from recapgen.model.problem import Checked
from recapgen.model.source import SourceRef
from recapgen.privacy.consent import Grants


def film(
    lesson: Lesson,
    inspected: Sequence[Checked[Footage]],
    granted: Grants,
    context: BuildContext,
    *,
    alone: bool = False,
) -> Filming:
    """The lesson's pairs, or each clip ``alone``, chosen and handed over to be made."""
    usable = [look.value for look in inspected if look.value is not None]
    filmed = [FilmedClip(look.clip, look.struck_at, look.travel) for look in usable]
    chosen = each_alone(lesson, filmed) if alone else choose_clips(lesson, filmed)
    footage = {
        clip.path: replace(look, clip=clip) for clip, look in zip(chosen.clips, usable, strict=True)
    }
    told_to_strangers = lesson.notes.case is not None and granted.cases and granted.case_clips
    making = partial(_make, footage=footage, context=context)
    making_nameless = partial(_make_nameless, footage=footage, context=context)
    return Filming(
        chosen.lesson,
        context.pool.map(making, chosen.pairings if context.converts else ()),
        context.pool.map(making_nameless, chosen.pairings if told_to_strangers else ()),
        (*chosen.problems, *(problem for look in inspected for problem in look.problems)),
        _settled(lesson, chosen.clips),
    )


def _settled(lesson: Lesson, clips: Sequence[ClipFile]) -> frozenset[SourceRef]:
    """Where a name said nothing, if time told of each such clip what it shows."""
    told = {clip.path: clip for clip in clips}
    silent = [clip for clip in lesson.clips if read_clip_name(clip.path.stem).says_nothing]
    shown = (told.get(clip.path, clip) for clip in silent)
    if all(clip.shot is not None or clip.block is not None for clip in shown):
        return frozenset(clip.where for clip in silent)
    return frozenset()


def _make(
    pairing: ClipPairing, footage: dict[Path, Footage], context: BuildContext
) -> Checked[Film]:
    sides = tuple(footage[choice.clip.path] for choice in pairing.choices)
    film, problems = make_film(pairing.view, sides, context.cache)
    if film is None:
        return Checked(None, problems)
    kept = [
        make_download(side, context.cache)
        for side in footage.values()
        if side.clip.view is pairing.view and side.clip.directions.download
    ]
    downloads = tuple(each.value for each in kept if each.value is not None)
    met = (*problems, *(problem for each in kept for problem in each.problems))
    return Checked(replace(pairing.explain(film), downloads=downloads), met)


def _make_nameless(
    pairing: ClipPairing, footage: dict[Path, Footage], context: BuildContext
) -> Checked[Film]:
    """The same for the case, faces hidden; other problems are those of the lesson's own film."""
    sides = tuple(footage[choice.clip.path] for choice in pairing.choices)
    hidden = hide_faces(sides, context.cache)
    if hidden.value is None or not context.converts:
        return Checked(None, hidden.problems)
    film = make_film(pairing.view, hidden.value, context.cache, FOR_STRANGERS).value
    return Checked(pairing.explain(film) if film is not None else None, hidden.problems)
