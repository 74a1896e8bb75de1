"""The clips of a lesson: as listed in the notes, or as their names tell."""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from unicodedata import normalize

from recapgen.intake.blocks import block_in
from recapgen.intake.clip_directions import DIRECTION_KEYS, read_directions
from recapgen.intake.clip_names import VIEW_WORDS, NamedClip, read_clip_name
from recapgen.intake.form import Form, instead
from recapgen.intake.near_words import nearest
from recapgen.intake.shot_spans import HIGHEST_SHOT
from recapgen.intake.spelling import spelling
from recapgen.intake.text_file import file_of
from recapgen.intake.yaml_map import ListNode, Node, Scalar, brief
from recapgen.model.fix import Add, Cut, Put, one_of
from recapgen.model.lesson import ClipFile
from recapgen.model.problem import Code, Cost, Problem
from recapgen.model.shots import Block
from recapgen.model.source import SourceRef

CLIP_KEYS = spelling(
    "file", "view", "shot", "block", "impact", "show", *DIRECTION_KEYS,
    clip="file", name="file", angle="view", phase="block", strike="impact",
    mirrored="mirror", flip="mirror", save="download",
)  # fmt: skip
LONGEST_CLIP_S = 3600.0


def read_clips(
    form: Form,
    root: Path,
    clips: tuple[Path, ...],
    next_key: SourceRef,
    problems: list[Problem],
    *,
    in_blocks: bool = True,
) -> tuple[ClipFile, ...]:
    """``clips:`` of the notes; without that key, every clip in the folder by its own name.

    Not ``in_blocks`` where there is no before and after, so that a name need not tell of them.
    """
    if form.has("clips"):
        return _listed(form, root, clips)
    named = {path: read_clip_name(path.stem) for path in clips}
    unclear = [path for path in clips if in_blocks and named[path].says_nothing]
    if unclear:
        facts = {"file": ", ".join(path.name for path in unclear)}
        where = SourceRef(file_of(root, unclear[0]))
        offers = one_of(_lists(named, unclear, SourceRef(next_key.file)))
        problems.append(Problem(Code.CLIP_NAME_UNCLEAR, where, facts, offers=offers))
    return clips_by_name(root, clips, next_key)


def clips_by_name(root: Path, clips: tuple[Path, ...], next_key: SourceRef) -> tuple[ClipFile, ...]:
    """Every clip as its own name tells it; ``next_key`` is where the notes would say more."""
    named = ((path, read_clip_name(path.stem)) for path in clips)
    return tuple(
        ClipFile(path, SourceRef(file_of(root, path)), told.view, told.block, told.shot, None,
                 next_key, beside=tuple(other.name for other in clips if other is not path))
        for path, told in named
    )  # fmt: skip


def _lists(
    named: Mapping[Path, NamedClip], unclear: Sequence[Path], notes: SourceRef
) -> Iterator[Put]:
    """Lists of all clips, since what is not on one is not shown: the unclear as before and after.

    Phones count upwards, so the first half is before, or else the other way round; a clip alone
    is first of all of the block that no other shows.
    """
    shown = {told.block for told in named.values()}
    ways = sorted((Block.BEFORE, Block.AFTER), key=lambda block: block in shown)
    for first, second in (ways, ways[::-1]):
        half = (len(unclear) + 1) // 2
        blocks = {p: first if at < half else second for at, p in enumerate(unclear)}
        items = (
            {"file": p.name, **({"block": blocks[p].value} if p in blocks else {})} for p in named
        )
        yield Put(notes, ("clips",), tuple(items))


def _listed(form: Form, root: Path, clips: tuple[Path, ...]) -> tuple[ClipFile, ...]:
    found = []
    used: set[Path] = set()
    by_name = {_one_form(path.name): path for path in clips}
    meant: set[Path] = set()
    for clip in _entries(form, by_name, meant):
        if clip.path in used:
            offers = one_of([Cut(clip.where)])
            form.report(Code.CLIP_TWICE, clip.where, offers, file=clip.path.name)
        else:
            used.add(clip.path)
            found.append(clip)
    for path in clips:
        if path not in used | meant:
            offers = one_of([Add(SourceRef(form.where.file), ("clips",), {"file": path.name})])
            where = SourceRef(file_of(root, path))
            form.report(Code.CLIP_NOT_LISTED, where, offers, file=path.name)
    return tuple(found)


def _entries(form: Form, by_name: dict[str, Path], meant: set[Path]) -> Iterator[ClipFile]:
    node = form.node("clips")
    items: Iterable[Node] = node.items if isinstance(node, ListNode) else filter(None, (node,))
    if isinstance(node, Scalar) and _one_form(node.text.strip()) not in by_name:
        items = form.several("clips")
    for item in items:
        if isinstance(item, Scalar):
            words = form.one("clips", item)
            path = _file(form, words, by_name, meant) if words else None
            if path is not None:
                named = read_clip_name(path.stem)
                yield ClipFile(path, item.where, named.view, named.block, named.shot, None,
                               item.where)  # fmt: skip
            continue
        before = form.costly
        inner = form.inner("clips", item, CLIP_KEYS, Cost.CLIP)
        clip = None if inner is None else _clip(inner, by_name, meant)
        if clip is not None and form.costly == before:
            yield clip
        elif clip is not None:  # what the coach asked for is not clear: shown whole is not it
            meant.add(clip.path)


def _clip(form: Form, by_name: dict[str, Path], meant: set[Path]) -> ClipFile | None:
    words = form.words("file")
    if words is None:
        form.report(Code.KEY_MISSING, form.place("file"), key="file")
        return None
    path = _file(form, words, by_name, meant)
    view = form.choice("view", VIEW_WORDS)
    told = form.words("block")
    block = block_in(form, "block", told) if told else None
    shot = form.whole("shot", 1, HIGHEST_SHOT)
    impact = form.number("impact", 0, LONGEST_CLIP_S, "s")
    chosen = form.yes_no("show") or False
    directions = read_directions(form, LONGEST_CLIP_S)
    if path is None:
        return None
    named = read_clip_name(path.stem)
    view = view if form.has("view") else named.view
    # Where the coach's word and the name tell of different swings, the name says nothing.
    if not form.has("block") and shot in {None, named.shot}:
        block = named.block
    if not form.has("shot") and block in {None, named.block}:
        shot = named.shot
    place = form.place("impact")
    return ClipFile(path, form.where, view, block, shot, impact, place, chosen, directions)


def _file(form: Form, words: Scalar, by_name: dict[str, Path], meant: set[Path]) -> Path | None:
    """The clip in the folder; one that was probably meant is added to ``meant``."""
    name = _one_form(words.text.strip())
    found = {"found": brief(name), "there": ", ".join(by_name) or "-"}
    if "/" in name or "\\" in name:
        last = re.split(r"[/\\]", name)[-1]
        here = (last,) if last in by_name else ()
        form.report(Code.CLIP_ELSEWHERE, words.where, instead(words, *here), **found)
        return None
    if name in by_name:
        return by_name[name]
    alike = _alike(name, by_name)
    if len(alike) == 1:
        return by_name[alike[0]]
    if alike:
        meant.update(by_name[each] for each in alike)
        offers = instead(words, *alike)
        form.report(Code.CLIP_ENDING_OPEN, words.where, offers, clips=", ".join(alike), **found)
        return None
    near = nearest(name, by_name)
    if near is None:
        form.report(Code.CLIP_MISSING, words.where, **found)
    else:
        meant.add(by_name[near])
        form.report(Code.CLIP_MISNAMED, words.where, instead(words, near), near=near, **found)
    return None


def _alike(name: str, by_name: Iterable[str]) -> list[str]:
    """The clips that ``name`` may be where its ending is left out, or capitals differ."""
    fold = name.casefold()
    same = [each for each in by_name if each.casefold() == fold]
    return same or [each for each in by_name if Path(each).stem.casefold() == fold]


def _one_form(name: str) -> str:
    """A name with each letter and its accent as one: some systems store them apart."""
    return normalize("NFC", name)
