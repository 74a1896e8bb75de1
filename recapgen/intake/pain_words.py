"""What a student wrote of pain in a log: a yes, a no, or words that may be either.

A page is only quiet about pain where the student said no. Whatever may be a yes and is not
plainly one is asked about, never taken for a no.
"""

import re
from enum import Enum, auto

from msgspec import Struct


class PainSaid(Enum):
    YES = auto()
    NO = auto()
    OPEN = auto()  # may be a yes: to be asked


class PainWritten(Struct, frozen=True):
    """``place`` is what was written about where, in the student's words."""

    said: PainSaid
    place: str | None = None


_YES = frozenset({
    "yes", "y", "yep", "yeah", "true", "on", "x", "✓", "✔", "+",
    "ja", "jo", "jep", "wahr",
    "sí", "si", "cierto", "verdadero",
    "oui", "ouais", "vrai",
    "はい", "あり", "有り", "有", "ある", "○", "〇",
    "예", "네", "응", "있음", "있어요", "있다", "유",
})  # fmt: skip
_NO = frozenset({
    "no", "n", "nope", "false", "off", "none", "nothing", "nowhere", "no pain",
    "pain free", "painless", "zero", "nil", "not at all",
    "nein", "nee", "nirgends", "falsch", "keine", "kein", "keiner", "nichts", "keine schmerzen",
    "kein schmerz", "schmerzfrei", "gar nicht", "null",
    "nada", "ninguno", "ninguna", "ningún dolor", "sin dolor", "falso",
    "non", "aucun", "aucune", "rien", "pas de douleur", "aucune douleur", "faux", "zéro",
    "いいえ", "なし", "無し", "無", "ない", "痛みなし", "ゼロ",
    "아니요", "아니오", "아뇨", "없음", "없어요", "없다", "무", "안 아파요",
})  # fmt: skip
# How much it hurt, without a yes: each is one.
_SOME = frozenset({
    "a bit", "a little", "a little bit", "bit", "little", "some", "slight", "slightly", "mild",
    "minor", "sore", "ache", "aches", "aching", "achy", "pain", "painful", "hurts", "twinge",
    "sharp", "bad", "severe", "strong", "a lot", "much", "sometimes",
    "etwas", "ein bisschen", "bisschen", "ein wenig", "wenig", "leicht", "leichte", "stark",
    "schmerz", "schmerzen", "zwickt", "manchmal", "sehr",
    "un poco", "poco", "algo", "leve", "mucho", "dolor", "a veces", "duele",
    "un peu", "peu", "léger", "légère", "légèrement", "beaucoup", "douleur", "parfois",
    "少し", "すこし", "ちょっと", "やや", "痛い", "痛み", "たまに", "かなり",
    "조금", "약간", "아파요", "아픔", "통증", "가끔", "많이",
})  # fmt: skip
_PLACES = re.compile(
    r"\b(?:back|neck|wrists?|elbows?|shoulders?|knees?|hips?|ribs?|hands?|ankles?|foot|feet|legs?"
    r"|arms?|chest|fingers?|thumbs?|head|calf|calves|groin|thighs?|forearms?|heels?|toes?"
    r"|rücken|kreuz|nacken|hals|handgelenke?|ellbogen|ellenbogen|schultern?|knie|hüfte|rippen?"
    r"|fuß|füße|beine?|brust|daumen|kopf|wade"
    r"|espalda|cuello|muñecas?|codos?|hombros?|rodillas?|cadera|costillas?|manos?|tobillos?|pie"
    r"|piernas?|brazos?|pecho|dedos?|pulgar|cabeza|pantorrilla"
    r"|dos|cou|nuque|poignets?|coudes?|épaules?|genoux?|hanches?|côtes?|mains?|chevilles?|pied"
    r"|jambes?|bras|poitrine|doigts?|pouce|tête|mollet)\b"
    r"|腰|背|首|肩|ひじ|肘|手首|膝|ひざ|股関節|肋骨|胸|足|脚|腕|指|頭|ふくらはぎ"
    r"|허리|등|목|어깨|팔꿈치|손목|무릎|골반|갈비|가슴|발|다리|팔|손|머리|종아리"
)
_SCORE = re.compile(
    r"(\d{1,3})(?:[.,]\d)?\s*(?:(?:/|von|of|de|sur|out of)\s*\d{1,3}|점|点|%)?", re.IGNORECASE
)
_PARTS = re.compile(r"\s*(?:[:;,/–—(（、]|\s-|-\s)\s*")


def read_pain(cell: str) -> PainWritten:
    """What ``cell`` says, which is not blank: words, a number, or a word with a place."""
    plain = _plain(cell)
    said = _said(plain)
    if said is not PainSaid.OPEN:
        return PainWritten(said)
    first, rest = _split(cell)
    if rest and _said(_plain(first)) is PainSaid.YES:
        return PainWritten(PainSaid.YES, rest)
    # A no with more behind it may take half of it back.
    if _PLACES.search(plain) and not _begins_with_no(plain):
        return PainWritten(PainSaid.YES, cell)
    return PainWritten(PainSaid.OPEN)


def is_no(cell: str) -> bool:
    """Whether ``cell``, of the column for places, says no instead of naming a place."""
    return _plain(cell) in _NO


def _said(plain: str) -> PainSaid:
    if plain in _NO:
        return PainSaid.NO
    if plain in _YES or plain in _SOME:
        return PainSaid.YES
    score = _SCORE.fullmatch(plain)
    if score is None:
        return PainSaid.OPEN
    return PainSaid.YES if re.search(r"[1-9]", plain.partition("/")[0]) else PainSaid.NO


def _split(cell: str) -> tuple[str, str]:
    """The word before the first mark that parts it from the rest, or before the first blank."""
    found = _PARTS.search(cell) or re.search(r"\s+", cell)
    if found is None:
        return cell, ""
    return cell[: found.start()], cell[found.end() :].strip(" ()（）.,;-–—")


def _begins_with_no(plain: str) -> bool:
    words = re.split(r"[\s,;:.(]+", plain)
    return words[0] in _NO or words[0] in {"not", "nicht", "pas", "sin", "hardly", "kaum", "casi"}


def _plain(cell: str) -> str:
    return " ".join(cell.casefold().split()).strip(" .!")
