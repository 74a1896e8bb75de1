"""The clubs of the bag: the many ways they are written, and one name for each."""

import re
from collections.abc import Mapping
from enum import StrEnum

LOWEST_DRIVER_LOFT_DEG = 6
LOWEST_WEDGE_LOFT_DEG = 42
HIGHEST_WEDGE_LOFT_DEG = 72
LONGEST_NAME = 80


class Family(StrEnum):
    """Clubs that are made and swung alike."""

    DRIVER = "driver"
    WOOD = "wood"
    HYBRID = "hybrid"
    IRON = "iron"
    WEDGE = "wedge"
    PUTTER = "putter"


_WHOLE_WORDS: Mapping[str, str] = {
    "driver": "driver d dr drv drvr dvr 1w w1 1wood wood1 1wd bigstick ドライバー 드라이버",
    "mini driver": "minidriver mini md",
    "pitching wedge": "pw p pitchingwedge pitching pitchwedge pwedge wedgep "
    "ピッチングウェッジ 피칭웨지",
    "gap wedge": "gw g gapwedge gap gwedge aw approachwedge approach awedge attackwedge uw "
    "utilitywedge アプローチウェッジ 어프로치웨지",
    "sand wedge": "sw s sandwedge sand sandiron swedge サンドウェッジ 샌드웨지",
    "lob wedge": "lw l lobwedge lob lwedge ロブウェッジ 로브웨지",
    "putter": "putter put putt pt ptr パター 퍼터",
    "chipper": "chipper",
}
_KIND_WORDS: Mapping[str, str] = {
    "wood": "w wd wood woods fw fwy fairway fairwaywood f holz bois madera madeira legno "
    "ウッド 우드",
    "hybrid": "h hy hyb hybrid hybrids utility ut ユーティリティ 하이브리드 유틸리티",
    "iron": "i ir irn iron irons di drivingiron utilityiron ui "
    "eisen fer hierro ferro ijzer jern järn アイアン 아이언",
}
_WHOLE = {word: club for club, words in _WHOLE_WORDS.items() for word in words.split()}
_NUMBERED = {word: kind for kind, words in _KIND_WORDS.items() for word in words.split()}
_NUMBERS_AS_WORDS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
_NUMBER_WORDS = {word: str(n) for n, word in enumerate(_NUMBERS_AS_WORDS, start=1)}
_HIGHEST_NUMBER = {"wood": 15, "hybrid": 12, "iron": 12}
_BREAKS = re.compile(r"(?:[\s_\-/#]|(?<!\d)\.|\.(?!\d))+")
_LOFT = re.compile(
    r"(?:wedge|w|wdg)?(\d{2}(?:[.,]5)?)(?:°|º|˚|deg|degree|degrees)?(?:wedge|w|wdg|(?:pw|gw|aw|sw|lw))?"
)


def _lofted_wedge(squeezed: str) -> str | None:
    match = _LOFT.fullmatch(squeezed)
    if match is None:
        return None
    loft = float(match[1].replace(",", "."))
    if not LOWEST_WEDGE_LOFT_DEG <= loft <= HIGHEST_WEDGE_LOFT_DEG:
        return None
    return f"{loft:g} deg wedge"


def _numbered(squeezed: str) -> str | None:
    match = re.fullmatch(r"(\d{1,2})(?:er|番|번)?([^\W\d_]+)|([^\W\d_]+)(\d{1,2})", squeezed)
    if match is None:
        return None
    number, kind = int(match[1] or match[4]), _NUMBERED.get(match[2] or match[3])
    if kind is None or not 1 <= number <= _HIGHEST_NUMBER[kind]:
        return None
    return "driver" if (kind, number) == ("wood", 1) else f"{number} {kind}"


def club_named(text: str) -> str | None:
    """The one name of a club ("driver", "3 wood", "5 hybrid", "7 iron", "56 deg wedge"), or None.

    Takes any common spelling ("7i", "Iron 7", "seven-iron", "PW", "56°", "Driver (10.5)").
    """
    if len(text) > LONGEST_NAME:
        return None
    lower = re.sub(r"\([^)]*\)|\[[^\]]*\]", " ", text.casefold())
    words = [_NUMBER_WORDS.get(word, word) for word in _BREAKS.split(lower) if word]
    squeezed = "".join(word for word in words if word not in {"no", "nr", "club", "the", "my"})
    squeezed = squeezed or "".join(words)
    driver = re.fullmatch(r"(?:driver|dr|d)(\d{1,2})(?:[.,]?\d)?(?:°|deg)?", squeezed)
    if driver is not None:  # "Driver 2" is a second one, whatever the first is called
        return "driver" if int(driver[1]) == 1 or int(driver[1]) >= LOWEST_DRIVER_LOFT_DEG else None
    return _WHOLE.get(squeezed) or _numbered(squeezed) or _lofted_wedge(squeezed)


def same_club(one: str, other: str) -> bool:
    """Whether two spellings may be of one club; "Driver (9°)" is not "Driver (10.5°)"."""
    names = club_named(one), club_named(other)
    if names[0] != names[1]:
        return False
    if names[0] is None:
        return _BREAKS.split(one.casefold().strip()) == _BREAKS.split(other.casefold().strip())
    told = _further(one), _further(other)
    return not all(told) or told[0] == told[1]


def _further(text: str) -> str:
    """What a spelling says beyond the club's name: in brackets, or a driver's loft."""
    lower = text.casefold()[:LONGEST_NAME]
    inside = re.findall(r"\(([^)]*)\)|\[([^\]]*)\]", lower)
    words = " ".join(first or second for first, second in inside)
    loft = re.match(r"(?:driver|dr|d)\W*(\d{1,2}(?:[.,]?\d)?)", lower)
    return re.sub(r"\W+", "", words or (loft[1] if loft else ""))


def family_of(club: str) -> Family | None:
    """The family of a club named by ``club_named``; None for any other text."""
    last = club.rsplit(" ", 1)[-1]
    if last == "chipper":
        return Family.WEDGE
    return Family(last) if last in set(Family) else None
