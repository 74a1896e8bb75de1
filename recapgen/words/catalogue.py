"""One language's sentences: every text people read, looked up by key.

Texts live in ``words/<language>/*.po``: the msgid is the key, the msgstr the sentence with
``{named}`` places. Values are put in as they are; escaping is the page's business.
"""

from functools import cache
from importlib.resources import files

from babel.core import Locale
from babel.messages.pofile import read_po
from babel.plural import to_python


class Words:
    """The sentences of one language.

    Raises KeyError for a key that the catalogue lacks: a bug, which a test looks for.
    """

    def __init__(self, language: str) -> None:
        self.language = language
        self.locale = Locale.parse(language)
        self._texts: dict[str, str] = {}
        self._plurals: dict[str, tuple[str, ...]] = {}
        self._form = to_python(self.locale.plural_form)
        for source in sorted(
            (
                f
                for f in files("recapgen.words").joinpath(language).iterdir()
                if f.name.endswith(".po")
            ),
            key=lambda f: f.name,
        ):
            with source.open("rb") as po:
                catalogue = read_po(po, locale=language)
            for message in catalogue:
                if isinstance(message.id, str) and message.id:
                    self._texts[message.id] = str(message.string)
                elif isinstance(message.id, (list, tuple)):
                    self._plurals[str(message.id[0])] = tuple(message.string or ())
        self._tags = [*self.locale.plural_form.rules, "other"]

    def say(self, key: str, /, **values: object) -> str:
        """The sentence for ``key`` with its places filled."""
        return self._texts[key].format_map(values)

    def count(self, key: str, n: int, /, **values: object) -> str:
        """The sentence for ``key`` in the plural form that ``n`` needs; ``{n}`` is the number."""
        forms = self._plurals[key]
        index = min(self._tags.index(self._form(n)), len(forms) - 1)
        return forms[index].format_map({"n": n, **values})

    def forms(self, key: str) -> tuple[str, ...]:
        """The sentence for ``key`` as it is kept, or each of its plural forms."""
        return self._plurals.get(key) or (self._texts[key],)

    def has(self, key: str) -> bool:
        return key in self._texts or key in self._plurals

    def keys(self) -> frozenset[str]:
        return frozenset(self._texts) | frozenset(self._plurals)


@cache
def words(language: str) -> Words:
    """The catalogue of ``language`` ("en"), read once."""
    return Words(language)
