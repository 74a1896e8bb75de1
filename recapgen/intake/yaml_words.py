"""Values as the coach would type them: quoted where YAML needs it, and only there."""

import json
import re
from collections.abc import Mapping

from recapgen.intake.text_file import is_hidden
from recapgen.model.fix import Value

# Letters and digits first, then nothing that means anything to YAML in brackets or out of them.
_PLAIN = re.compile(r"[^\W_](?:[\w .()/+'°%-]*[\w.()/+'°%-])?")
_BREAKS = "\t\n\r\v\f\x85\u2028\u2029"
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
        return "{" + ", ".join(f"{scalar(k)}: {in_line(v)}" for k, v in value.items()) + "}"
    return "[" + ", ".join(in_line(item) for item in value) + "]"


def on_lines(keys: tuple[str, ...], value: Value, indent: int) -> list[str]:
    """``keys``, each below the one before, and the value behind the last; a list below it."""
    at = " " * indent
    key, *further = keys
    if further:
        return [f"{at}{scalar(key)}:", *on_lines(tuple(further), value, indent + 2)]
    if isinstance(value, tuple) and any(not isinstance(item, str) for item in value):
        return [f"{at}{scalar(key)}:", *(f"{at}  - {in_line(item)}" for item in value)]
    return [f"{at}{scalar(key)}: {in_line(value)}"]
