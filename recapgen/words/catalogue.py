"""One language's sentences: every text people read, looked up by key.

Texts live in ``words/<language>/*.po``: the msgid is the key, the msgstr the sentence with
``{named}`` places. A whole number that fills a place is written in the language's form, a
text as it is: what is no amount (the number of a shot, a name) is handed over as text.
Escaping is the page's business.
"""

from collections.abc import Callable, Iterable
from decimal import Decimal
from enum import Enum
from functools import cache, lru_cache, reduce
from gettext import c2py
from importlib.resources import files
from importlib.resources.abc import Traversable

from babel.core import Locale
from babel.messages.pofile import read_po
from babel.numbers import format_decimal

from recapgen.model.rounding import rounded


class Words:
    """The sentences of one language.

    Raises KeyError for a key that the catalogue lacks: a bug, which a test looks for.
    """

    def __init__(self, language: str) -> None:
        self.language = language
        self.locale = Locale.parse(language)
        self._texts: dict[str, str] = {}
        self._plurals: dict[str, tuple[tuple[str, ...], Callable[[int], int]]] = {}
        for source in _po_files(language):
            with source.open("rb") as po:
                catalogue = read_po(po, locale=language)
            form = c2py(catalogue.plural_expr)
            for message in catalogue:
                if isinstance(message.id, str) and message.id:
                    self._texts[message.id] = str(message.string)
                elif isinstance(message.id, (list, tuple)):
                    forms = tuple(message.string or ())
                    self._plurals[str(message.id[0])] = forms, form
        self._grouped_from = int(self._texts["number.grouped-from"])

    def say(self, key: str, /, **values: object) -> str:
        """The sentence for ``key`` with its places filled."""
        return self._texts[key].format_map(self._written(values))

    def count(self, key: str, n: int, /, **values: object) -> str:
        """The sentence for ``key`` in the plural form that ``n`` needs; ``{n}`` is the number."""
        forms, form = self._plurals[key]
        return forms[form(n)].format_map(self._written({"n": n, **values}))

    def figure(self, n: float, places: int = 0) -> str:
        """A number in the language's form, with as many decimals as ``places``.

        The one place where a number that people read is rounded.
        """
        near = rounded(n, places)
        grouped = abs(near) >= self._grouped_from
        pattern = ("#,##0" if grouped else "0") + ("." + "0" * places if places else "")
        return _written_out(near, pattern, self.language)

    def together(self, sentences: Iterable[str]) -> str:
        """Sentences one after another, as the language sets them; empty ones fall out."""
        return self._joined("join.sentences", sentences)

    def listed(self, things: Iterable[str]) -> str:
        """Things in a row without "and": "top, strike, finish"."""
        return self._joined("join.list", things)

    def enumerated(self, things: Iterable[str]) -> str:
        """Things in a row that belong together: "30 balls and 35 minutes"."""
        *most, last = list(things)
        joint = self._texts["join.and"]
        return joint.format(first=self.listed(most), then=last) if most else last

    def clauses(self, told: Iterable[str]) -> str:
        """Clauses that hold commas themselves, in a row."""
        return self._joined("join.clauses", told)

    def forms(self, key: str) -> tuple[str, ...]:
        """The sentence for ``key`` as it is kept, or each of its plural forms."""
        return self._plurals[key][0] if key in self._plurals else (self._texts[key],)

    def has(self, key: str) -> bool:
        return key in self._texts or key in self._plurals

    def keys(self) -> frozenset[str]:
        return frozenset(self._texts) | frozenset(self._plurals)

    def _written(self, values: dict[str, object]) -> dict[str, object]:
        return {
            name: self.figure(value) if type(value) is int else value
            for name, value in values.items()
        }

    def _joined(self, key: str, parts: Iterable[str]) -> str:
        joint = self._texts[key]
        told = [part for part in parts if part]
        return reduce(lambda done, then: joint.format(first=done, then=then), told) if told else ""


MINUS = "−"
"""As print has it; a hyphen is too short."""


@lru_cache(maxsize=4096)  # a page says the same few numbers again and again
def _written_out(near: Decimal, pattern: str, language: str) -> str:
    return format_decimal(near, pattern, locale=language).replace("-", MINUS)


def key_of(one: Enum | str) -> str:
    """The part of a key that a member's name or a phrase makes: "no-change", "club-path"."""
    text = one.name if isinstance(one, Enum) else one
    return text.lower().replace("_", "-").replace(" ", "-")


def sentence_start(text: str) -> str:
    """``text`` with a capital where its script has them; the rest stays as it is."""
    return text[:1].upper() + text[1:]


@cache
def words(language: str) -> Words:
    """The catalogue of ``language`` ("en"), read once."""
    return Words(language)


def _po_files(language: str) -> list[Traversable]:
    folder = files("recapgen.words").joinpath(language)
    kept = (file for file in folder.iterdir() if file.name.endswith(".po"))
    return sorted(kept, key=lambda file: file.name)
