"""The way from the coach's book to a student's page."""

from collections.abc import Collection
from urllib.parse import quote

from recapgen.model.public import public_path
from recapgen.model.recap import StudentRecap


def page_link(student: StudentRecap, page: str, up: Collection[str] | None) -> str | None:
    """The way from the book to a page of the student's, where it is ``up`` (as in ``Book``)."""
    path = public_path(student.address, page)
    if not student.published or (up is not None and path not in up):
        return None
    return f"../site/{quote(path)}"
