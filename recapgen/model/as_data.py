"""Values of the model as text, to be kept between builds, and back again with every check.

Plain JSON: what was kept can be read by anybody, and runs nothing when it is read.
"""

import json
from collections.abc import Callable, Collection
from dataclasses import fields, is_dataclass
from datetime import date, datetime, time
from enum import Enum
from functools import cache
from pathlib import Path
from types import NoneType, UnionType
from typing import Any, ForwardRef, TypeVar, Union, get_args, get_origin, get_type_hints

import cattrs
from cattrs.gen import make_dict_unstructure_fn, override

from recapgen.model.fix import Value
from recapgen.model.lesson import Conditions

T = TypeVar("T")

FAULTS = (ValueError, LookupError, TypeError, AttributeError, cattrs.BaseValidationError)
"""What is raised where a value or a text is not of the kind that it is said to be."""


def as_text(value: T, kind: type[T]) -> str:
    """``value`` as JSON: enums by name, of a union which member it is, sets in order.

    Raises one of ``FAULTS`` where it is not of the kind that its fields are said to be.
    """
    return json.dumps(_converter().unstructure(value, kind), separators=(",", ":"))


def from_text(text: str, kind: type[T]) -> T:
    """The value that ``as_text`` made ``text`` of. Raises one of ``FAULTS``."""
    return _converter().structure(json.loads(text), kind)


@cache
def _converter() -> cattrs.Converter:
    converter = cattrs.Converter(detailed_validation=False)
    converter.register_structure_hook_func(lambda kind: kind in (bool, int, str), _exactly)
    converter.register_structure_hook_func(lambda kind: kind is float, _number)
    converter.register_unstructure_hook_factory(
        is_dataclass, lambda kind: _without_defaults(kind, converter)
    )
    converter.register_unstructure_hook(Path, str)
    converter.register_structure_hook(Path, lambda kept, _: Path(kept))
    converter.register_unstructure_hook(time, time.isoformat)
    converter.register_structure_hook(time, lambda kept, _: time.fromisoformat(kept))
    converter.register_unstructure_hook(datetime, datetime.isoformat)
    converter.register_structure_hook(datetime, lambda kept, _: datetime.fromisoformat(kept))
    converter.register_unstructure_hook(date, date.isoformat)
    converter.register_structure_hook(date, lambda kept, _: date.fromisoformat(kept))
    converter.register_unstructure_hook_func(_is_enum, lambda member: member.name)
    converter.register_structure_hook_func(_is_enum, lambda name, kind: kind[name])
    converter.register_unstructure_hook_func(_is_set, _in_order)
    converter.register_unstructure_hook_factory(
        _is_union, lambda union: _as_member(union, converter)
    )
    converter.register_structure_hook_factory(
        _is_union, lambda union: _from_member(union, converter)
    )
    converter.register_unstructure_hook_func(
        _is_conditions, lambda value: converter.unstructure(value, Conditions)
    )
    converter.register_structure_hook_func(
        _is_conditions, lambda kept, _: converter.structure(kept, Conditions)
    )
    converter.register_unstructure_hook_func(_is_pasted, lambda value: value)
    converter.register_structure_hook_func(_is_pasted, lambda kept, _: _pasted(kept))
    return converter


def _without_defaults(kind: Any, converter: cattrs.Converter) -> Callable[[Any], Any]:
    """Most fields of most values are at their default; of a float nobody knows which kind of 0."""
    hints = get_type_hints(kind)
    told: dict[str, Any] = {
        each.name: override(omit_if_default=hints[each.name] not in (float, float | None))
        for each in fields(kind)
    }
    return make_dict_unstructure_fn(kind, converter, _cattrs_omit_if_default=True, **told)


def _exactly(kept: object, kind: type[T]) -> T:
    if type(kept) is not kind:
        raise TypeError(f"{kept!r} is no {kind.__name__}")
    return kept


def _number(kept: object, _: type[float]) -> float:
    """Gives a number as it was kept, a whole one whole. Raises TypeError for anything else."""
    if type(kept) not in (int, float):
        raise TypeError(f"{kept!r} is no number")
    return kept  # type: ignore[return-value]


def _is_enum(kind: Any) -> bool:
    return isinstance(kind, type) and issubclass(kind, Enum)


def _is_set(kind: Any) -> bool:
    return get_origin(kind) is frozenset


def _in_order(members: Collection[Enum | str]) -> list[str]:
    return sorted(each.name if isinstance(each, Enum) else each for each in members)


def _is_conditions(kind: Any) -> bool:
    """Is it the field of conditions that holds some of its own kind?"""
    return kind in ("Conditions", ForwardRef("Conditions"))


def _is_pasted(kind: Any) -> bool:
    """Is it what a fix puts behind a key: words, lists and keys, one in another?"""
    return bool(kind == Value)


def _pasted(kept: Any) -> Any:
    match kept:
        case str():
            return kept
        case list():
            return tuple(_pasted(each) for each in kept)
        case dict():
            return {key: _pasted(each) for key, each in kept.items()}
        case _:
            raise TypeError(f"{kept!r} cannot be pasted")


def _is_union(kind: Any) -> bool:
    """Is it a union of more than one kind and nothing?"""
    members = [each for each in get_args(kind) if each is not NoneType]
    return get_origin(kind) in (Union, UnionType) and len(members) > 1 and not _is_pasted(kind)


def _as_member(union: Any, converter: cattrs.Converter) -> Callable[[Any], Any]:
    members = get_args(union)

    def told(value: Any) -> Any:
        if value is None:
            return None
        for at, kind in enumerate(members):
            if _fits(value, kind):
                return [at, converter.unstructure(value, kind)]
        raise TypeError(f"{value!r} is none of {union}")

    return told


def _from_member(union: Any, converter: cattrs.Converter) -> Callable[[Any, Any], Any]:
    members = get_args(union)

    def read(kept: Any, _: Any) -> Any:
        if kept is None and NoneType in members:
            return None
        at, value = kept
        return converter.structure(value, members[at])

    return read


def _fits(value: object, kind: Any) -> bool:
    """Is ``value`` of just this kind? A day is no moment, and a yes no number."""
    made = get_origin(kind) or kind
    return type(value) is made or (made not in (date, int, str) and isinstance(value, made))
