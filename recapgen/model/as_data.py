"""Values of the model as text, to be kept between builds, and back again with every check.

Plain JSON: what was kept can be read by anybody, and runs nothing when it is read.
"""

import json
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

import msgspec

T = TypeVar("T")

_HALF_A_SIGN = "\\ud"  # as json writes what stands for a byte of a name that is no text

FAULTS = (ValueError, LookupError, TypeError, AttributeError, msgspec.MsgspecError)
"""What is raised where a value or a text is not of the kind that it is said to be."""


def as_text(value: T, kind: type[T]) -> str:
    """``value`` as JSON: fields by name, enums by value, of a union which member it is.

    Raises one of ``FAULTS`` where ``value`` would not come back as it is: where it is not of the
    kind that its fields are said to be, or holds a number that JSON has no form for.
    """
    try:
        told = _writer().encode(value).decode()
    except UnicodeEncodeError:  # a file's name that is no text
        told = json.dumps(msgspec.to_builtins(value, enc_hook=_as_plain), separators=(",", ":"))
    if from_text(told, kind) != value:
        raise ValueError(f"this {kind} cannot be kept")
    return told


def from_text(text: str, kind: type[T]) -> T:
    """The value that ``as_text`` made ``text`` of. Raises one of ``FAULTS``."""
    if _HALF_A_SIGN in text:
        return msgspec.convert(json.loads(text), kind, dec_hook=_from_plain)
    return _reader(kind).decode(text)


@cache
def _writer() -> msgspec.json.Encoder:
    return msgspec.json.Encoder(enc_hook=_as_plain)


_readers: dict[type[Any], msgspec.json.Decoder[Any]] = {}


def _reader(kind: type[T]) -> msgspec.json.Decoder[T]:
    """Made once a kind: it costs more than reading does."""
    if kind not in _readers:
        _readers[kind] = msgspec.json.Decoder(kind, dec_hook=_from_plain)
    return _readers[kind]


def _as_plain(value: object) -> str:
    """Gives a path as text. Raises TypeError for what else JSON does not know."""
    if isinstance(value, Path):
        return str(value)
    raise TypeError(f"{value!r} is nothing to be kept")


def _from_plain(kind: type[Any], kept: object) -> Path:
    if kind is Path and isinstance(kept, str):
        return Path(kept)
    raise TypeError(f"{kept!r} is no {kind}")
