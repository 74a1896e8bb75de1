"""Worksheets: a page for each lesson whose notes are to be written, worked with a finger."""

from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct

from recapgen.model.lesson import View
from recapgen.model.page import Page, Site, SiteKind
from recapgen.model.people import Coach
from recapgen.model.shots import Block
from recapgen.model.worksheet import SheetClip, Worksheet
from recapgen.render.coach_mark import mark_assets
from recapgen.render.environment import fill
from recapgen.render.numbers_to_choose import numbers_to_choose
from recapgen.render.worksheet_facts import CLIPS, PLAN_KEYS, sheet_facts, still_name
from recapgen.words.amounts import day
from recapgen.words.catalogue import Words, key_of

FOLDER = "worksheets"
MISHITS = ("thin", "fat", "top", "toe", "heel", "shank")
REASONS = ("phone", "passer", "slip", "other-club", "test")
TOOLS = ("ball", "line", "ring", "follow", "face", "blur", "crop")
_TOLD = (
    "shot", "shot.mishit", "shot.filed", "shot.out", "shot.tool", "shot.no-block", "edge",
    "edge.value", "did.block", "did.block.none", "did.edge",
    "did.mishit", "did.mishit.none", "did.out", "did.out.none", "did.text", "did.number",
    "did.plan", "did.step", "did.step.out", "did.clip", "did.place", "did.place.none",
    "did.impact", "did.impact.none", "undo", "undo.none", "undone", "changes", "changes.none",
    "frame", "impact.set", "impact.none", "impact.guess",
    "place.ball", "place.line", "place.ring", "place.follow", "place.face", "place.blur",
    "place.crop", "take-out", "same-as", "likely-view", "stage", "stage.ready",
    "copied", "by-hand", "saved", "saved-in-folder", "saved-as-it-was", "save-refused",
    "save-gone", "meanwhile.theirs", "meanwhile.mine", "older", "loose", "play", "pause",
)  # fmt: skip
_WAYS = ("higher", "left", "lower", "right", "window", "zero")
_TEXTS = ("intent", "feels like", "student says", "letting go of")
_PLACES = ("block", "file", "n", "name", "other", "reason", "seconds", "shot", "what")


class ClipView(Struct, frozen=True):
    """A clip on the page; ``video`` or ``still`` from there, where there is one."""

    file: str
    video: str | None
    still: str | None
    width: int
    height: int
    frames: int
    why: str


def worksheet_site(sheets: Sequence[Worksheet], coach: Coach, words: Words) -> Site:
    """All worksheets; nothing leads to one of them but the book beside them."""
    return Site(
        kind=SiteKind.WORKSHEET,
        name=words.say("worksheet.title"),
        language=words.language,
        pages=tuple(_page(sheet, coach, words) for sheet in sheets),
        assets=mark_assets(coach),
        accent=coach.accent,
    )


def lies_beside(sheets: Sequence[Worksheet]) -> Mapping[str, SheetClip]:
    """The copies and stills that the worksheets show, by their paths beside the pages."""
    return {path: clip for sheet in sheets for clip in sheet.clips for path in _paths(clip)}


def _paths(clip: SheetClip) -> Iterator[str]:
    if clip.copy is not None:
        yield f"{CLIPS}/{clip.copy.name}"
    elif clip.still is not None:
        yield f"{CLIPS}/{still_name(clip.still)}"


def _page(sheet: Worksheet, coach: Coach, words: Words) -> Page:
    title = words.say("worksheet.heading", name=sheet.student.name, day=day(sheet.on, words))
    body = fill(
        "worksheet.html.jinja",
        words,
        coach=coach,
        title=title,
        sheet=sheet,
        readable=sheet.lesson is not None,
        facts=sheet_facts(sheet, words),
        blocks=[block.value for block in Block],
        block_names=[(b.value, words.say(f"range.block.{b.value}")) for b in Block],
        views=[(v.value, words.say(f"worksheet.view.{key_of(v.value)}")) for v in View],
        texts=_TEXTS,
        mishits=MISHITS,
        reasons=REASONS,
        tools=TOOLS,
        plan=PLAN_KEYS,
        clips=[_clip_view(clip, words) for clip in sheet.clips],
        groups=tuple(numbers_to_choose(coach.units, words)),
        told=tuple(_sentences(words)),
        other_pages=(),
    )
    return Page(sheet.page, title, body)


def _clip_view(clip: SheetClip, words: Words) -> ClipView:
    path = next(_paths(clip), None)
    copy, why = clip.copy, ""
    if copy is None:
        why = words.say("worksheet.clip.still" if path else "worksheet.clip.none")
    return ClipView(
        file=clip.clip.path.name,
        video=path if copy is not None else None,
        still=path if copy is None else None,
        width=copy.width if copy is not None else 0,
        height=copy.height if copy is not None else 0,
        frames=len(copy.times_s) if copy is not None else 0,
        why=why,
    )


def _sentences(words: Words) -> Iterator[tuple[str, str]]:
    """What the script says, with its places left open: "%what"."""
    places = {place: f"%{place}" for place in _PLACES}
    for name in _TOLD:
        yield name, words.say(f"worksheet.{name}", **places)
    for way in _WAYS:
        yield f"way.{way}", words.say(f"range.way.{way}")
