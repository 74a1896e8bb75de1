"""Templates filled: everything is escaped unless it was made here as markup."""

from functools import cache

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from recapgen.tools.template_folder import template_folder
from recapgen.words.catalogue import Words


@cache
def _environment() -> Environment:
    return Environment(
        loader=FileSystemLoader(template_folder()),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def fill(template: str, words: Words, /, **values: object) -> str:
    """The template's HTML; ``say`` and ``count`` stand ready in it."""
    return _environment().get_template(template).render(say=words.say, count=words.count, **values)
