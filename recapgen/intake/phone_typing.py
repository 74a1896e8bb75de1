"""What phones, and keyboards of other scripts, put in the place of the signs that keys need.

Everything here keeps its place: a sign becomes another sign, so lines and columns stay true.
"""

import re

_DASHES = "\\-\u2010-\u2015\u2212\u2e3a\u2e3b\ufe58\ufe63\uff0d\u30fc"
_UNSEEN = "\u200b-\u200f\u2060\ufeff"
_BLANKS = f"\t\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000{_UNSEEN}"
_MARK = re.compile(rf"[ {_BLANKS}]*(?P<dashes>[{_DASHES}]+)[ {_BLANKS}]*")
_END = re.compile(r"(?:\.\.\.|…)\s*")
_HYPHENS = 3
_WIDE_COLON = re.compile(rf"^([ {_BLANKS}]*(?:- )?[\w \-{_BLANKS}]+)：(?=[ {_BLANKS}]|$)")
_IN_BRACKETS = re.compile(rf"^[ {_BLANKS}]*(?:- )?[\w \-]*(?::[ {_BLANKS}]+)?[{{\[｛［]")
_WIDE_SIGNS = str.maketrans("｛｝［］，、", "{}[],,")
_WIDE_COLON_WITHIN = re.compile(rf"：(?=[ {_BLANKS}])")
# Words in straight quotes are passed over; an apostrophe in words opens none.
_QUOTED = r"""(?<!\w)"(?:[^"\\\n]|\\.)*"|(?<!\w)'(?:[^'\n]|'')*'"""
_AFTER_A_SIGN = re.compile(rf"{_QUOTED}|(?<=[:,{{\[])(?P<blanks>[ {_BLANKS}]+)")
_BEFORE_ALL = re.compile(rf"^[ {_BLANKS}]+(?=[^ {_BLANKS}])")
# “…” „…“ »…« «…» "…”: phones set such pairs where two straight quotes are typed.
_CURLY = re.compile(
    rf"{_QUOTED}|(?<=[:,{{\[])(?P<gap> *)"
    r"(?:[“„”»«](?P<double>[^“„”»«\"\\]*)[“”»«]|[‘‚](?P<single>[^‘’']*)[’‘])"
    r"(?=\s*(?:[,}\]]|$))"
)


def opens_or_closes(line: str) -> bool:
    """Whether ``line`` is the "---" around the keys, three hyphens or what a phone made of them."""
    mark = _MARK.fullmatch(line)
    if mark is None:
        return False
    return len(mark["dashes"]) >= _HYPHENS or bool(mark["dashes"].strip("-"))


def nearly_opens(line: str) -> bool:
    """Whether ``line`` is two hyphens alone, one too few."""
    return line.strip() == "--"


def closes(line: str) -> bool:
    """Whether ``line`` may end the keys: "---" or the "..." that YAML knows, too."""
    return opens_or_closes(line) or _END.fullmatch(line) is not None


def as_meant(text: str) -> str:
    """Keys and values as they were meant, sign for sign and as long as ``text``.

    A blank that does not break, a tab or a sign nobody sees behind a colon is a blank; a wide
    colon with a blank behind it a colon; wide brackets and commas are plain ones; curly quotes
    around a whole value are straight ones. Within words, and in straight quotes, all stays.
    """
    return "\n".join(map(_line, text.split("\n")))


def _line(line: str) -> str:
    line = _BEFORE_ALL.sub(_leading, line)
    line = _WIDE_COLON.sub(r"\1:", line)
    if _IN_BRACKETS.match(line):
        line = _WIDE_COLON_WITHIN.sub(":", line.translate(_WIDE_SIGNS))
    return _CURLY.sub(_straight, _AFTER_A_SIGN.sub(_blanks, line))


def _blanks(found: re.Match[str]) -> str:
    return found[0] if found["blanks"] is None else " " * len(found["blanks"])


def _straight(found: re.Match[str]) -> str:
    if found["double"] is not None:
        return f'{found["gap"]}"{found["double"]}"'
    return found[0] if found["single"] is None else f"{found['gap']}'{found['single']}'"


def _leading(found: re.Match[str]) -> str:
    """Wide and unbroken blanks before a key as blanks; a tab beside them has no width."""
    return re.sub("[\u00a0\u2000-\u200a\u202f\u205f\u3000]", " ", found[0])
