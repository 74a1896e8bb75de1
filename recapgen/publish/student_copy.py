"""Everything of one student as one file to hand over, with a page to open first."""

import shutil
from collections.abc import Mapping, Sequence
from pathlib import Path
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from recapgen.model.page import SiteKind
from recapgen.model.public import FRONT_PAGE
from recapgen.publish.policy import guarded
from recapgen.tools.template_folder import template_folder
from recapgen.words.catalogue import words

_ONE_TIME = (1980, 1, 1, 0, 0, 0)  # the first that a zip can tell, so that the same is the same
_RIGHTS = 0o644 << 16
_PAGE = Path("offline", "copy.html.jinja")


def pack(
    file: Path, held: Mapping[str, Path], left_out: Sequence[str], pages: str | None, language: str
) -> None:
    """Write ``file``: the files ``held`` by their paths in it, and the page to open first.

    ``pages`` is the path of the student's own front page in it. The same gives the same bytes.
    Raises OSError.
    """
    making = file.with_name(f".{file.name}.tmp")
    with ZipFile(making, "w", ZIP_DEFLATED) as packed:
        packed.writestr(_entry(FRONT_PAGE), _first_page(held, left_out, pages, language))
        for path, source in sorted(held.items()):
            with source.open("rb") as read, packed.open(_entry(path), "w") as written:
                shutil.copyfileobj(read, written)
    making.chmod(0o600)
    making.replace(file)


def _entry(path: str) -> ZipInfo:
    entry = ZipInfo(path, _ONE_TIME)
    entry.compress_type, entry.external_attr = ZIP_DEFLATED, _RIGHTS
    return entry


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
