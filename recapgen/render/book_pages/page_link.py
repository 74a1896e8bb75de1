"""The way from the coach's book to a student's page."""

from collections.abc import Collection
from urllib.parse import quote

from recapgen.model.public import page_within, path_up, public_path
from recapgen.model.recap import StudentRecap


def page_link(student: StudentRecap, page: str, up: Collection[str] | None) -> str | None:
    """The way from the book to a page of the student's, where it is ``up`` (as in ``Book``)."""
    locked = student.student.locked
    path = path_up(student.address, page, locked=locked)
    if not student.published or (up is not None and path not in up):
        return None
    within = page_within(quote(page), locked=locked)
    return f"../site/{public_path(student.address, within)}"
