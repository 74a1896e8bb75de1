"""Templates filled: everything is escaped unless it was made here as markup."""

from functools import cache, partial

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from recapgen.tools.template_folder import compiled_templates, template_folder
from recapgen.words.catalogue import Words, sentence_start
from recapgen.words.club_names import club_name


@cache
def _environment() -> Environment:
    made = Environment(
        loader=FileSystemLoader(template_folder()),
        autoescape=True,
        undefined=StrictUndefined,
        bytecode_cache=compiled_templates(),
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["sentence_start"] = sentence_start
    return made


def fill(template: str, words: Words, /, **values: object) -> str:
    """The template's HTML; what puts words into the reader's language stands ready in it."""
    return (
        _environment()
        .get_template(template)
        .render(
            say=words.say,
            count=words.count,
            together=words.together,
            listed=words.listed,
            club=partial(club_name, words=words),
            **values,
        )
    )
