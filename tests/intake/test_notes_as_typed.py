"""Where every value of the notes stands, counted as a script in a browser counts."""

from collections.abc import Iterator

import pytest

from recapgen.intake.notes_as_typed import digest_of_notes, typed_in
from recapgen.model.worksheet import NotesText, Written, WrittenValue

NOTES = """\
---
Intent: Hum 😀 one note   # theirs
blocks: {Warm Up: 1-4, before: 5-14}
clip:
  - {file: a.mov, strike: 1.2}
  - file: "b.mov"
    mark: {line: [0, 0, 1, 1]}
matters:
---
Words.
"""


def read(data: bytes) -> NotesText:
    found = typed_in(data)
    assert found is not None
    return found


def spelt(notes: NotesText) -> dict[str, str]:
    """The text of each value, by the names that lead to it."""
    units = notes.text.encode("utf-16-le")

    def within(value: WrittenValue, path: str) -> Iterator[tuple[str, str]]:
        for place, part in enumerate(value.parts):
            name = f"{path}/{part.name or place}"
            yield name, units[2 * part.value.first : 2 * part.value.last].decode("utf-16-le")
            if value.kind is not Written.TEXT:
                yield from within(part.value, name)

    assert notes.keys is not None
    return dict(within(notes.keys, ""))


@pytest.mark.parametrize(
    "data",
    [
        NOTES.encode(),
        NOTES.replace("\n", "\r\n").encode("utf-8-sig"),
        NOTES.replace("\n", "\r").encode(),
        f"\ufeff{NOTES}".encode("utf-16-le"),
        f"\ufeff{NOTES}".encode("utf-16-be"),
    ],
)
def test_every_value_is_found_whatever_the_line_ends_and_the_encoding(data: bytes) -> None:
    notes = read(data)
    assert notes.text.encode(notes.encoding) == data
    assert notes.digest == digest_of_notes(data)
    told = spelt(notes)
    assert told["/intent"] == "Hum 😀 one note"
    assert told["/shots/warm-up"] == "1-4"
    assert told["/clips/0/impact"] == "1.2"
    assert told["/clips/1/file"] == '"b.mov"'
    assert told["/clips/1/mark/line"] == "[0, 0, 1, 1]"
    assert told["/matters"] == ""
    assert notes.end is not None
    units = notes.text.encode("utf-16-le")
    assert units[2 * notes.end :].decode("utf-16-le").startswith("---")


def test_notes_without_keys_say_where_one_would_go() -> None:
    assert read(b"Well done.\n").end is None
    assert read(b"").end is None
    empty = read(b"---\n---\nWell done.\n")
    assert empty.end == 4
    assert empty.keys is not None
    assert empty.keys.parts == ()


def test_what_is_no_text_has_no_places() -> None:
    assert typed_in(b"\xff\x00\xff") is None
    assert read(b"---\nshots: {before: 1-3\n---\n").keys is None
