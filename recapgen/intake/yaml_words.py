"""Values as the coach would type them: quoted where YAML needs it, and only there."""

import json
import re
from collections.abc import Mapping
from textwrap import wrap

from recapgen.intake.text_file import is_hidden
from recapgen.model.fix import Value

# Letters and digits first, then nothing that means anything to YAML in brackets or out of them.
_PLAIN = re.compile(r"[^\W_](?:[\w .()/+'°%-]*[\w.()/+'°%-])?")
_BREAKS = "\t\n\r\v\f\x85\u2028\u2029"
_WIDE = 88
_NOTHING = frozenset({"null", "~"})


def scalar(text: str) -> str:
    """One value on one line, blanks as they are; what nobody can see is left out."""
    line = "".join(" " if c in _BREAKS else c for c in text)
    shown = "".join(c for c in line if not is_hidden(c)).strip()
    if _PLAIN.fullmatch(shown) and shown.casefold() not in _NOTHING:
        return shown
    return json.dumps(shown, ensure_ascii=False)


def in_line(value: Value) -> str:
    """A value on the line of its key."""
    if isinstance(value, str):
        return scalar(value)
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{scalar(k)}: {_blank_or(v)}" for k, v in value.items()) + "}"
    return "[" + ", ".join(in_line(item) for item in value) + "]"


def _blank_or(value: Value) -> str:
    """Nothing where nothing is to stand yet."""
    return "" if value == "" else in_line(value)


def comment(text: str) -> list[str]:
    """``text`` as lines that YAML passes over, whatever stands in it."""
    plain = "".join(" " if c in _BREAKS else c for c in text if c in _BREAKS or not is_hidden(c))
    return [f"# {line}" for line in wrap(plain, _WIDE, break_long_words=False)]


def on_lines(keys: tuple[str, ...], value: Value, indent: int) -> list[str]:
    """``keys``, each below the one before, and the value behind the last; a list below it."""
    at = " " * indent
    key, *further = keys
    if further:
        return [f"{at}{scalar(key)}:", *on_lines(tuple(further), value, indent + 2)]
    if isinstance(value, tuple) and any(not isinstance(item, str) for item in value):
        return [f"{at}{scalar(key)}:", *(f"{at}  - {in_line(item)}" for item in value)]
    return [f"{at}{scalar(key)}: {in_line(value)}"]
