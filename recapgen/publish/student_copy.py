"""Everything of one student as one file to hand over, with a page to open first."""

from collections.abc import Mapping, Sequence
from pathlib import Path

from recapgen.model.page import SiteKind
from recapgen.model.public import FRONT_PAGE
from recapgen.publish.even_zip import write_zip
from recapgen.publish.policy import guarded
from recapgen.tools.template_folder import template_folder
from recapgen.words.catalogue import words

_PAGE = Path("offline", "copy.html.jinja")


def pack(
    file: Path, held: Mapping[str, Path], left_out: Sequence[str], pages: str | None, language: str
) -> None:
    """Write ``file``: the files ``held`` by their paths in it, and the page to open first.

    ``pages`` is the path of the student's own front page in it. The same gives the same bytes.
    Raises OSError.
    """
    first = _first_page(held, left_out, pages, language).encode()
    write_zip(file, [(FRONT_PAGE, first), *sorted(held.items())])


def _first_page(
    held: Mapping[str, Path], left_out: Sequence[str], pages: str | None, language: str
) -> str:
    from jinja2 import Environment  # noqa: PLC0415  slow, and seldom asked for

    template = (template_folder() / _PAGE).read_text("utf-8")
    say = words(language).say
    told = (
        Environment(autoescape=True)
        .from_string(template)
        .render(
            language=language,
            say=say,
            pages=pages,
            files=[path for path in sorted(held) if path.startswith("lessons/")],
            left_out=left_out,
        )
    )
    return guarded(told, SiteKind.STUDENT)
