"""What a clip's own name says: "face on before shot 12.mov", "dtl_after_31.mp4"."""

import re
from collections.abc import Mapping
from typing import TypeVar
from unicodedata import normalize

from msgspec import Struct

from recapgen.intake.form import meanings_of
from recapgen.intake.table.cell_words import block_in_clip_name
from recapgen.model.lesson import View
from recapgen.model.shots import Block

VIEW_WORDS = meanings_of(
    {
        View.FACE_ON: (
            "face on", "faceon", "fo", "front on", "front", "von vorne", "von vorn", "frontal",
            "de face", "de frente", "正面", "정면",
        ),
        View.DOWN_THE_LINE: (
            "down the line", "downtheline", "dtl", "down line", "behind", "von hinten",
            "de derrière", "desde atrás", "por detrás", "後方", "飛球線後方", "후방",
        ),
    }
)  # fmt: skip
_SHOT = re.compile(r"\b(?:shots?|no|nr|ball)\s*(\d{1,6})\b|#\s*(\d{1,6})\b")
_SMALL_NUMBER = re.compile(r"(?<!\d)(\d{1,3})(?!\d)")

V = TypeVar("V")


class NamedClip(Struct, frozen=True):
    view: View | None
    block: Block | None
    shot: int | None

    @property
    def says_nothing(self) -> bool:
        return self.view is None and self.block is None and self.shot is None


def read_clip_name(stem: str) -> NamedClip:
    """View, block and shot from a file's name without its ending.

    A number counts as the shot's where "shot" or "#" stands before it, or where it is the only
    small one beside words that tell the view or block; a phone's own counting never does.
    """
    letters = normalize("NFC", stem)
    apart = re.sub(r"(?<=[a-z])(?=[A-Z])|(?<=[^\W\d_])(?=\d)|(?<=\d)(?=[^\W\d_])", " ", letters)
    plain = " ".join(re.sub(r"[_\-.,()\[\]+]+", " ", apart).casefold().split())
    view, rest = _take(plain, VIEW_WORDS)
    block = block_in_clip_name(rest)
    told = _SHOT.search(rest)
    numbers = _SMALL_NUMBER.findall(rest)
    shot = None
    if told is not None:
        shot = int(told[1] or told[2])
    elif len(numbers) == 1 and (view or block) and not re.search(r"\d{4}", rest):
        shot = int(numbers[0])
    return NamedClip(view, block, shot or None)


def _take(plain: str, meanings: Mapping[str, V]) -> tuple[V | None, str]:
    """The meaning of the longest of the words that stand in ``plain``, and the rest."""
    for word in sorted(meanings, key=len, reverse=True):
        edge = r"\b" if word.isascii() else ""  # where no blanks part words, none has an edge
        found = re.search(rf"{edge}{re.escape(word)}{edge}", plain)
        if found is not None:
            return meanings[word], f"{plain[: found.start()]} {plain[found.end() :]}"
    return None, plain
