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
_AFTER_A_SIGN = re.compile(rf"(?<=[:,{{\[])[ {_BLANKS}]+")
_BEFORE_ALL = re.compile(rf"^[ {_BLANKS}]+(?=[^ {_BLANKS}])")
# “…” „…“ »…« «…» "…”: phones set such pairs where two straight quotes are typed.
_DOUBLE = re.compile(
    r"(?<=[:,{\[])( *)[“„”»«]([^“„”»«\"\\\n]*)[“”»«](?=\s*(?:[,}\]]|$))", re.MULTILINE
)
_SINGLE = re.compile(r"(?<=[:,{\[])( *)[‘‚]([^‘’'\n]*)[’‘](?=\s*(?:[,}\]]|$))", re.MULTILINE)


def opens_or_closes(line: str) -> bool:
    """Whether ``line`` is the "---" around the keys, three hyphens or what a phone made of them."""
    mark = _MARK.fullmatch(line)
    if mark is None:
        return False
    return len(mark["dashes"]) >= _HYPHENS or bool(mark["dashes"].strip("-"))


def closes(line: str) -> bool:
    """Whether ``line`` may end the keys: "---" or the "..." that YAML knows, too."""
    return opens_or_closes(line) or _END.fullmatch(line) is not None


def as_meant(text: str) -> str:
    """Keys and values as they were meant, sign for sign and as long as ``text``.

    A blank that does not break, a tab or a sign nobody sees behind a colon is a blank; a wide
    colon with a blank behind it a colon; wide brackets and commas are plain ones; curly quotes
    around a whole value are straight ones. Within words all stays as it is.
    """
    return "\n".join(map(_line, text.split("\n")))


def _line(line: str) -> str:
    line = _BEFORE_ALL.sub(_leading, line)
    line = _WIDE_COLON.sub(r"\1:", line)
    if _IN_BRACKETS.match(line):
        line = _WIDE_COLON_WITHIN.sub(":", line.translate(_WIDE_SIGNS))
    line = _AFTER_A_SIGN.sub(_blanks, line)
    line = _DOUBLE.sub(r'\1"\2"', line)
    return _SINGLE.sub(r"\1'\2'", line)


def _blanks(found: re.Match[str]) -> str:
    return " " * len(found[0])


def _leading(found: re.Match[str]) -> str:
    """Wide and unbroken blanks before a key as blanks; a tab is asked about, as it has no width."""
    return re.sub("[\u00a0\u2000-\u200a\u202f\u205f\u3000]", " ", found[0])
