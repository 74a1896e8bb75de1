"""A lesson's clips become films: matched with shots, chosen, and made."""

from collections.abc import Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path

from recapgen.app.build_context import BuildContext
from recapgen.app.films_under_way import Filming
from recapgen.clips.download import make_download
from recapgen.clips.film import make_film
from recapgen.clips.footage import Footage
from recapgen.clips.matching import filmed, match
from recapgen.clips.nameless import hide_faces
from recapgen.model.films import Film
from recapgen.model.lesson import Lesson
from recapgen.model.problem import Checked
from recapgen.privacy.consent import Grants
from recapgen.recap.followed import with_travel
from recapgen.recap.lesson_recaps import sorted_shots
from recapgen.recap.pairing import Pairing, in_blocks, pair_up


def film(
    lesson: Lesson,
    inspected: Sequence[Checked[Footage]],
    granted: Grants,
    context: BuildContext,
) -> Filming:
    """The lesson's pairs chosen and handed over to be made."""
    usable = [look.value for look in inspected if look.value is not None]
    matched, asked = match([filmed(footage) for footage in usable], sorted_shots(lesson))
    travels = {look.clip.path: look.travel for look in usable if look.travel is not None}
    followed = with_travel(lesson, matched, travels)
    shots = sorted_shots(followed.lesson)
    clips = in_blocks(followed.clips, shots)
    footage = {
        clip.path: replace(look, clip=clip) for clip, look in zip(clips, usable, strict=True)
    }
    declaration = lesson.notes.declaration
    pairings, unshown = pair_up(
        clips, shots, declaration.quantity if declaration is not None else None
    )
    told_to_strangers = lesson.notes.case is not None and granted.cases and granted.case_clips
    making = partial(_make, footage=footage, context=context)
    making_nameless = partial(_make_nameless, footage=footage, context=context)
    return Filming(
        followed.lesson,
        context.pool.map(making, pairings if context.converts else ()),
        context.pool.map(making_nameless, pairings if told_to_strangers else ()),
        (
            *asked,
            *followed.problems,
            *unshown,
            *(problem for look in inspected for problem in look.problems),
        ),
    )


def _make(pairing: Pairing, footage: dict[Path, Footage], context: BuildContext) -> Checked[Film]:
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
    pairing: Pairing, footage: dict[Path, Footage], context: BuildContext
) -> Checked[Film]:
    """The same for the case, faces hidden; what else is amiss is told with the lesson's own."""
    sides = tuple(footage[choice.clip.path] for choice in pairing.choices)
    hidden = hide_faces(sides, context.cache)
    if hidden.value is None or not context.converts:
        return Checked(None, hidden.problems)
    film = make_film(pairing.view, hidden.value, context.cache).value
    return Checked(pairing.explain(film) if film is not None else None, hidden.problems)
