"""The films of a lesson, as the page shows them."""

from collections.abc import Sequence
from dataclasses import dataclass

from recapgen.model.films import Film, FilmSide, ImpactFrom
from recapgen.model.page import Asset
from recapgen.model.shots import Block
from recapgen.words.catalogue import Words
from recapgen.words.evidence import tell_clip

_PAIR = 2


@dataclass(frozen=True, slots=True)
class FilmView:
    """What ``parts/film.html.jinja`` needs; paths are relative to the page."""

    video: str
    poster: str
    fps: int
    frames: int
    impact_frame: int
    width: int
    height: int
    two_sided: bool
    then_caption: str
    now_caption: str
    heading: str
    guess_note: str


def film_view(film: Film, words: Words) -> FilmView:
    two_sided = len(film.sides) == _PAIR
    captions = [_caption(side, two_sided, words) for side in film.sides]
    view = film.view.name.lower() if film.view else "unknown"
    return FilmView(
        video=_video_path(film),
        poster=_poster_path(film),
        fps=film.fps,
        frames=film.frames,
        impact_frame=film.impact_frame,
        width=film.width,
        height=film.height,
        two_sided=two_sided,
        then_caption=captions[0],
        now_caption=captions[1] if two_sided else "",
        heading=words.say(f"page.film.view.{view}"),
        guess_note=_guess_note(film, words),
    )


def anchors(films: Sequence[Film]) -> dict[int, str]:
    """Where on the page a shot is to be seen: number of the shot -> id of its film."""
    found: dict[int, str] = {}
    for place, film in enumerate(films, 1):
        for side in film.sides:
            if side.shot is not None:
                found.setdefault(side.shot, f"film-{place}")
    return found


def film_assets(films: tuple[Film, ...]) -> tuple[Asset, ...]:
    """The files behind the films, under names that say nothing."""
    return tuple(
        asset
        for film in films
        for asset in (
            Asset(_video_path(film), film.video),
            Asset(_poster_path(film), film.poster),
        )
    )


def _video_path(film: Film) -> str:
    return f"films/{film.fingerprint}{film.video.suffix}"


def _poster_path(film: Film) -> str:
    return f"films/{film.fingerprint}{film.poster.suffix}"


def _caption(side: FilmSide, two_sided: bool, words: Words) -> str:
    """Which shot this is and why it stands for its block; nothing where no shot is known."""
    told = tell_clip(side, words)
    if not told:
        return ""
    if not two_sided and side.block not in (Block.BEFORE, Block.AFTER):
        return told
    when = words.say("page.film.now" if side.block is Block.AFTER else "page.film.then")
    return words.say("page.film.caption", when=when, told=told)


def _guess_note(film: Film, words: Words) -> str:
    guessed = [side.strike.found_in is ImpactFrom.GUESS for side in film.sides]
    if not any(guessed):
        return ""
    if len(guessed) < _PAIR:
        return words.say("film.guess.single")
    if all(guessed):
        return words.say("film.guess.both")
    return words.say("film.guess.then" if guessed[0] else "film.guess.now")
