"""Slips of the pen that keep keys from being read, with the line as it was probably meant."""

import re
from collections.abc import Sequence

from recapgen.intake.yaml_words import scalar
from recapgen.model.fix import Edit, Offer, certain, one_of
from recapgen.model.problem import Code
from recapgen.model.source import SourceRef

_KEY = re.compile(r"(?P<key>\s*(?:- )?(?P<name>[\w ()-]+?)\s*[:：])(?P<gap>\s*)(?P<rest>\S.*?)\s*")
_IN_BRACES = re.compile(r"((?:[{,]|^\s*- )\s*[\w -]+?)[:：](?=[^\s])")
_TABS = re.compile("^\t+")
_PAIRS = re.compile(r"[\w -]+:\s[^:,{}]+(?:,\s*[\w -]+:\s[^:,{}]+)*")
# Keys with keys of their own, which a coach may write behind them without the braces.
_WITH_KEYS = frozenset(
    (
        "shots", "left out", "mishits", "must not lose", "conditions", "practice", "planned",
        "swings", "case", "clubs", "agreed", "guardian", "units", "place", "columns", "accuracy",
        "at", "mark",
    )
)  # fmt: skip
_OPENERS = {"[": "]", "{": "}"}


def meant(code: Code, line: str, where: SourceRef, above: str = "") -> tuple[Offer, ...]:
    """What ``line``, which cannot be read for ``code`` at ``where``, may have been meant as.

    ``above`` is the line above it.
    """
    column = (where.column or 1) - 1
    match code:
        case Code.NO_SPACE_AFTER_COLON:
            spaced = _IN_BRACES.sub(r"\1: ", line) if column else line
            return certain(*_edits(where, spaced if spaced != line else _spaced(line)))
        case Code.WORDS_AFTER_QUOTE:
            return certain(*_edits(where, _quoted_value(line)))
        case Code.NEEDS_QUOTES:
            return certain(*_edits(where, _quoted_from(line, column)))
        case Code.COLON_IN_WORDS:
            ways = [_colons(line)]
        case Code.QUOTE_NOT_CLOSED:
            ways = [_quoted_from(line, column, opened=True)]
        case Code.BRACKET_NOT_CLOSED:
            ways = [_closed(line)]
        case Code.TAB_BEFORE_KEY:
            indent = "  " if above.rstrip().endswith(":") or line[:1] != "\t" else ""
            ways = [line.replace("\t", indent, 1).replace("\t", " ")]
        case Code.NOT_KEYS:
            key = re.fullmatch(r"([\w -]+?)\s*[;=]\s*(\S.*)", line)
            ways = [None if key is None else f"{key[1]}: {key[2]}"]
        case _:
            ways = []
    return one_of(tuple(_edits(where, way)) for way in dict.fromkeys(ways) if way != line)


def without_tabs(lines: Sequence[str], file: str, first_line: int) -> tuple[Offer, ...]:
    """Every tab that lines begin with as two blanks."""
    edits = (
        Edit(file, number, number, (_TABS.sub(lambda tabs: "  " * len(tabs[0]), line),))
        for number, line in enumerate(lines, first_line)
        if line.startswith("\t")
    )
    return one_of([tuple(edits)])


def _named(line: str) -> str:
    key, colon, _ = line.partition(":")
    return " ".join(re.sub(r"[_-]", " ", key).split()).casefold() if colon else ""


def _edits(where: SourceRef, line: str | None) -> list[Edit]:
    number = where.line or 1
    return [] if line is None else [Edit(where.file, number, number, (line,))]


def _spaced(line: str) -> str | None:
    parts = _KEY.fullmatch(line)
    if parts is None:
        return None
    plain = parts["rest"][0] in _OPENERS or not re.search(r": | #|^[&*!|>%@`'\"]", parts["rest"])
    key = parts["key"].replace("：", ":")
    return f"{key} {parts['rest'] if plain else scalar(parts['rest'])}"


def _quoted_value(line: str) -> str | None:
    """Everything behind the key in quotes; those around it were meant to be the ones."""
    parts = _KEY.fullmatch(line)
    if parts is None:
        return None
    rest = parts["rest"]
    if len(rest) > 1 and rest[0] == rest[-1] and rest[0] in "'\"":
        rest = rest[1:-1]
    return f"{parts['key']} {_in_quotes(rest)}"


def _quoted_from(line: str, column: int, *, opened: bool = False) -> str | None:
    """What begins at ``column`` in quotes, up to the end of the line or of its brackets."""
    before, words = line[:column], line[column:].rstrip()
    closing = [_OPENERS[c] for c in before if c in _OPENERS]
    tail = ""
    if closing:
        end = next((i for i, c in enumerate(words) if c in ",]}"), len(words))
        words, tail = words[:end].rstrip(), words[end:]
    if opened:
        words = words[1:]
    return f"{before}{_in_quotes(words)}{tail}" if words else None


def _in_quotes(words: str) -> str:
    told = scalar(words)
    return told if told.startswith('"') else f'"{told}"'


def _colons(line: str) -> str | None:
    """In braces where keys of its own belong, else in quotes."""
    parts = _KEY.fullmatch(line)
    if parts is None or parts["rest"][0] in "[{":
        return None
    if _named(f"{parts['name']}:") not in _WITH_KEYS:
        return f"{parts['key']} {_in_quotes(parts['rest'])}"
    return f"{parts['key']} {{{parts['rest']}}}" if _PAIRS.fullmatch(parts["rest"]) else None


def _closed(line: str) -> str | None:
    """The line with the brackets closed that it leaves open."""
    waiting = []
    for character in line:
        if character in _OPENERS:
            waiting.append(_OPENERS[character])
        elif waiting and character == waiting[-1]:
            waiting.pop()
    return line.rstrip().rstrip(",") + "".join(reversed(waiting)) if waiting else None
