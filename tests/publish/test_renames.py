"""A folder is known again by what lies in it, or not at all."""

import pytest

from recapgen.publish.build_state import Seen
from recapgen.publish.renames import renamed

OLD = {
    "coach.yml": "c",
    "brida/student.yml": "s",
    "brida/2027-04-11/notes.md": "n",
    "brida/2027-04-11/shots.csv": "t",
    "corvin/2027-04-11/notes.md": "m",
}


def files(contents: dict[str, str]) -> dict[str, Seen]:
    return {path: Seen((0,), digest, settled=True) for path, digest in contents.items()}


def called(old: str, new: str, contents: dict[str, str] = OLD) -> dict[str, str]:
    return {path.replace(old, new, 1): digest for path, digest in contents.items()}


@pytest.mark.parametrize(
    ("now", "expected"),
    [
        (called("brida/", "brida h/"), {"brida": "brida h"}),
        (called("brida/", "brida h/") | {"brida h/student.yml": "changed"}, {"brida": "brida h"}),
        (called("brida/", "brida h/") | {"brida h/2027-05-01/notes.md": "x"}, {"brida": "brida h"}),
        (called("brida/", "_gone/") | {"emil/student.yml": "s"}, {"brida": "_gone"}),
        ({"coach.yml": "c", "emil/student.yml": "s", "corvin/2027-04-11/notes.md": "m"}, {}),
        (OLD | called("brida/", "copy of brida/"), {}),
        (called("brida/", "one/") | called("brida/", "two/"), {}),
    ],
)
def test_a_students_folder(now: dict[str, str], expected: dict[str, str]) -> None:
    assert renamed(files(OLD), files(now)) == expected


def test_a_lessons_folder() -> None:
    now = files(called("2027-04-11", "2027-04-12 driver"))
    assert renamed(files(OLD), now, "brida") == {"2027-04-11": "2027-04-12 driver"}
    assert renamed(files(OLD), now) == {}


def test_what_is_empty_or_cannot_be_read_says_nothing() -> None:
    assert renamed(files({"a/notes.md": ""}), files({"b/notes.md": ""})) == {}
