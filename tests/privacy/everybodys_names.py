"""First and last names of many countries, and how each may be mentioned."""

import importlib
import pkgutil
import re
import unicodedata
from collections.abc import Iterable, Iterator
from functools import cache
from hashlib import sha256

import faker.providers.person


@cache
def everybodys_names() -> tuple[str, ...]:
    """Every first and last name that the package has, of some 80 places, in order."""
    found: set[str] = set()
    for module in pkgutil.iter_modules(faker.providers.person.__path__):
        if module.ispkg:
            provider = importlib.import_module(f"faker.providers.person.{module.name}").Provider
            for kept in (k for k in dir(provider) if re.match(r"(first|last)_names?", k)):
                found.update(_texts(getattr(provider, kept)))
    return tuple(sorted(name for name in found if re.search(r"[^\W\d_]", name)))


def some_names(count: int) -> list[str]:
    """As many of them, the same at every run."""
    everybody = sorted(everybodys_names(), key=lambda name: sha256(name.encode()).digest())
    return everybody[:count]


def mentions(name: str) -> Iterator[str]:
    """Ways to write ``name`` inside a sentence, on whatever keyboard."""
    yield f"You move as {name} does, and it goes far."
    yield f"It was {name}'s idea; keep it."
    yield f"Ask {name}, who found it hard."
    yield f"Play a round with {unicodedata.normalize('NFD', name)} in the week."
    yield f"So sagte {name}\u200b neulich."


def first_mentions(name: str) -> Iterator[str]:
    """Ways that begin a sentence, where every word has a capital."""
    yield f"{name} found it hard too."
    yield f"Keep it. {name}’s swing shows how."


def _texts(kept: object) -> Iterable[str]:
    if isinstance(kept, str):
        return [] if "{" in kept else [kept.strip()]
    if isinstance(kept, dict | list | tuple):
        return [text for part in kept for text in _texts(part)]
    return []
