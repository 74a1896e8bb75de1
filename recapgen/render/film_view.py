"""The films of a lesson, as the page shows them."""

from collections.abc import Iterator, Sequence

from msgspec import Struct

from recapgen.model.filming import Box, MarkLine, MarkRing, Position
from recapgen.model.films import (
    Download,
    Film,
    FilmSide,
    ImpactFrom,
    Tempo,
    Travel,
    Unlike,
    UnlikeIn,
)
from recapgen.model.page import TO_SAVE, Asset
from recapgen.model.shots import Block
from recapgen.words.amounts import number
from recapgen.words.catalogue import Words, key_of
from recapgen.words.verdict_sentences import tell_clip

_PAIR = 2
_LEAST_WIDTHS = 0.05  # of travel; less rounds to none
_PLACED = frozenset({UnlikeIn.SIZE, UnlikeIn.ASIDE, UnlikeIn.HEIGHT, UnlikeIn.LEAN})


class Strip(Struct, frozen=True):
    """One side's stills in a row, and what is said of them."""

    image: str
    side: str
    words: str


class FilmStop(Struct, frozen=True):
    """A position of the swing: its name, and the frame where it is in the later clip."""

    name: str
    frame: int


class FilmView(Struct, frozen=True):
    """What ``parts/film.html.jinja`` needs; paths are relative to the page.

    ``named`` are the positions under the ruler, impact always among them.
    ``ticks`` are (frame, "before" or "after") of the positions; ``marks`` are shapes as SVG paths
    in the film's pixels; ``downloads`` are (path, words) of clips to save.
    """

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
    notes: tuple[str, ...]
    strips: tuple[Strip, ...]
    positions: tuple[FilmStop, ...]
    named: tuple[FilmStop, ...]
    moments_note: str
    tempo: tuple[str, ...]
    ticks: tuple[tuple[int, str], ...]
    marks: tuple[str, ...]
    downloads: tuple[tuple[str, str], ...]


def film_view(film: Film, words: Words) -> FilmView:
    two_sided = len(film.sides) == _PAIR
    captions = [_caption(side, two_sided, words) for side in film.sides]
    view = key_of(film.view) if film.view else "unknown"
    stops = tuple(
        FilmStop(words.say(f"film.position.{at}"), dict(film.sides[-1].moments)[at])
        for at in film.positions
    )
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
        notes=tuple(_notes(film, words)),
        strips=_strips(film, words),
        positions=stops,
        named=stops or (FilmStop(words.say("film.impact"), film.impact_frame),),
        moments_note=words.say("film.estimated")
        if any(side.estimated for side in film.sides)
        else "",
        tempo=tuple(
            _tempo(side.tempo, words.say(f"page.film.{name}"), words)
            for side, name in zip(film.sides, _names(film), strict=True)
            if side.tempo is not None
        ),
        ticks=tuple(
            (dict(side.moments)[at], name)
            for side, name in zip(film.sides, _names(film), strict=True)
            for at in film.positions
            if at is not Position.IMPACT
        ),
        marks=tuple(_drawn(shape, film) for side in film.sides for shape in _shapes(side)),
        downloads=tuple((_download_path(kept), _save(kept, words)) for kept in film.downloads),
    )


def _save(download: Download, words: Words) -> str:
    """What the link says, its size in megabytes included."""
    megabytes = number(download.size_bytes / 1e6, 1, words)
    if download.shot is not None:
        return words.say("film.save.shot", shot=download.shot, megabytes=megabytes)
    which = {Block.BEFORE: "before", Block.AFTER: "after"}
    key = which.get(download.block, "clip") if download.block else "clip"
    return words.say(f"film.save.{key}", megabytes=megabytes)


def _names(film: Film) -> tuple[str, ...]:
    """Which side is which: "before" or "after"."""
    if len(film.sides) == _PAIR:
        return ("before", "after")
    return ("before" if film.sides[0].block is Block.BEFORE else "after",)


def _strips(film: Film, words: Words) -> tuple[Strip, ...]:
    told = words.listed(words.say(f"film.position.{at}") for at in film.positions)
    return tuple(
        Strip(
            _strip_path(film, number),
            words.say(f"film.side.{name}"),
            words.say("film.strip", told=told),
        )
        for number, name in zip(range(len(film.stills)), _names(film), strict=False)
    )


def _tempo(tempo: Tempo, side: str, words: Words) -> str:
    """In hundredths of a second, each with how far it may be trusted."""
    times = (tempo.back_s, tempo.back_within_s, tempo.down_s, tempo.down_within_s)
    back, back_within, down, down_within = (number(seconds, 2, words) for seconds in times)
    return words.say(
        "film.tempo",
        side=side,
        back=back,
        back_within=back_within,
        down=down,
        down_within=down_within,
    )


def _shapes(side: FilmSide) -> Iterator[MarkLine | MarkRing | Box]:
    if side.mark is not None:
        yield side.mark
    if side.patch is not None:
        yield side.patch


def _drawn(mark: MarkLine | MarkRing | Box, film: Film) -> str:
    """The mark as an SVG path in the film's pixels."""
    if isinstance(mark, Box):
        x, y = mark.x * film.width, mark.y * film.height
        width, height = mark.width * film.width, mark.height * film.height
        return f"M{x:.1f} {y:.1f}h{width:.1f}v{height:.1f}h{-width:.1f}z"
    if isinstance(mark, MarkLine):
        ends = (mark.start, mark.end)
        return "M" + "L".join(f"{p.x * film.width:.1f} {p.y * film.height:.1f}" for p in ends)
    x, y, radius = mark.middle.x * film.width, mark.middle.y * film.height, mark.radius * film.width
    half = f"a{radius:.1f} {radius:.1f} 0 1 0"
    return f"M{x - radius:.1f} {y:.1f}{half} {2 * radius:.1f} 0{half} {-2 * radius:.1f} 0"


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
            *(Asset(_strip_path(film, n), strip) for n, strip in enumerate(film.stills)),
            *(Asset(_download_path(kept), kept.file) for kept in film.downloads),
        )
    )


def _video_path(film: Film) -> str:
    return f"films/{film.fingerprint}{film.video.suffix}"


def _poster_path(film: Film) -> str:
    return f"films/{film.fingerprint}{film.poster.suffix}"


def _download_path(download: Download) -> str:
    return f"{TO_SAVE}/{download.fingerprint}{download.file.suffix}"


def _strip_path(film: Film, number: int) -> str:
    return f"films/{film.fingerprint}-{number + 1}{film.stills[number].suffix}"


def _caption(side: FilmSide, two_sided: bool, words: Words) -> str:
    """Which shot this is and why it stands for its block; nothing where no shot is known."""
    told = tell_clip(side, words)
    if not told:
        return ""
    if not two_sided and side.block not in (Block.BEFORE, Block.AFTER):
        return told
    when = words.say("page.film.after" if side.block is Block.AFTER else "page.film.before")
    return words.say("page.film.caption", when=when, told=told)


def _guess_note(film: Film, words: Words) -> str:
    guessed = [side.strike.found_in is ImpactFrom.GUESS for side in film.sides]
    return words.say(f"film.guess.{_which(guessed)}") if any(guessed) else ""


def _notes(film: Film, words: Words) -> Iterator[str]:
    """What is worth knowing of how the two were filmed."""
    mirrored = [side.mirrored for side in film.sides]
    if any(mirrored):
        yield words.say(f"film.mirrored.{_which(mirrored)}")
    damaged = [side.part_only for side in film.sides]
    if any(damaged):
        yield words.say(f"film.damaged.{_which(damaged)}")
    for side, name in zip(film.sides, _names(film), strict=True):
        if side.travel is not None:
            yield _followed(side.travel, words.say(f"page.film.{name}"), words)
    for each in film.unlike:
        yield _unlike(each, words)
    if any(each.what in _PLACED for each in film.unlike):
        yield words.say("film.unlike.so")


def _followed(travel: Travel, side: str, words: Words) -> str:
    """How far the framed patch went, in its own widths, or that it could not be followed."""
    if not travel.steady:
        return words.say("film.followed.lost", side=side)
    across = _way(travel.across, ("right", "left", "hardly-aside"), words)
    up = _way(travel.up, ("up", "down", "hardly-up"), words)
    score = number(travel.score, 2, words)
    return words.say("film.followed", side=side, across=across, up=up, score=score)


def _way(widths: float, names: tuple[str, str, str], words: Words) -> str:
    """One direction's travel: forth, back, or hardly any."""
    forth, back, hardly = names
    if abs(widths) < _LEAST_WIDTHS:
        return words.say(f"film.followed.{hardly}")
    told = number(abs(widths), 1, words)
    return words.say(f"film.followed.{forth if widths > 0 else back}", widths=told)


def _unlike(each: Unlike, words: Words) -> str:
    """One difference in how then and now were filmed."""
    figures = {}
    if each.what is UnlikeIn.SIZE:
        figures = {"times": number(max(each.now, 1 / each.now), 1, words)}
    elif each.what in {UnlikeIn.ASIDE, UnlikeIn.HEIGHT}:
        figures = {"percent": number(100 * abs(each.now), 0, words)}
    elif each.what is UnlikeIn.LEAN:
        figures = {"degrees": number(abs(each.now), 1, words)}
    elif each.what is UnlikeIn.RATE:
        figures = {"before": number(each.then, 0, words), "after": number(each.now, 0, words)}
    way = _ways(each.what)[each.now > each.then]
    return words.say(f"film.unlike.{way}", **figures)


def _which(sides: Sequence[bool]) -> str:
    """The key's ending for the sides that something holds of."""
    if len(sides) < _PAIR:
        return "single"
    if all(sides):
        return "both"
    return "before" if sides[0] else "after"


def _ways(what: UnlikeIn) -> tuple[str, str]:  # noqa: PLR0911  one answer a case
    """What is said of a difference where then has more of it, and where now has."""
    match what:
        case UnlikeIn.SHAPE:
            return "upright", "lying"
        case UnlikeIn.VIEW:
            return "view", "view"
        case UnlikeIn.SIZE:
            return "smaller", "larger"
        case UnlikeIn.ASIDE:
            return "right", "left"
        case UnlikeIn.HEIGHT:
            return "down", "up"
        case UnlikeIn.LEAN:
            return "lean", "lean"
        case UnlikeIn.RATE:
            return "rate", "rate"
        case UnlikeIn.SHARPNESS:
            return "softer-after", "softer-before"
