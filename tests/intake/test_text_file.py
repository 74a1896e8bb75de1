import os
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recapgen.intake.text_file import MOST_BYTES, decode, file_of, leads_outside, read_text
from recapgen.model.problem import Code
from recapgen.model.source import SourceRef


@pytest.mark.parametrize(
    "data",
    [
        "Grüße, 球\nzwei".encode(),
        b"\xef\xbb\xbf" + "Grüße, 球\nzwei".encode(),
        b"\xff\xfe" + "Grüße, 球\nzwei".encode("utf-16-le"),
        b"\xfe\xff" + "Grüße, 球\nzwei".encode("utf-16-be"),
        "Grüße, 球\r\nzwei".encode(),
        "Grüße, 球\rzwei".encode(),
    ],
)
def test_every_usual_encoding_and_line_end_reads_alike(data: bytes) -> None:
    assert decode(data, "notes.md") == ("Grüße, 球\nzwei", ())


@pytest.mark.parametrize(
    ("data", "line", "column"),
    [
        (b"Ren\xe9", 1, 4),
        ("Grüße\r\nRen".encode() + b"\xe9 hums", 2, 4),
        (b"\xef\xbb\xbfRen\xe9", 1, 4),
        (b"\xff\xfe" + "ab\nc".encode("utf-16-le") + b"\x00\xd8x\x00", 2, 2),
        (b"cut off \xe7\x90", 1, 9),
    ],
)
def test_the_first_bad_byte_is_found(data: bytes, line: int, column: int) -> None:
    text, (problem,) = decode(data, "notes.md")
    assert text is None
    assert problem.code is Code.NOT_UTF8
    assert problem.where == SourceRef("notes.md", line, column)


@pytest.mark.parametrize(
    "character", ["\x00", "\x1b", "\x7f", "\x85", "\u2028", "\u202e", "\u2066"]
)
def test_characters_that_nobody_sees_are_refused(character: str) -> None:
    text, (problem,) = decode(f"one\ntw{character}o".encode(), "notes.md")
    assert text is None
    assert problem.code is Code.HIDDEN_CHARACTER
    assert problem.where == SourceRef("notes.md", 2, 3)
    assert f"U+{ord(character):04X}" in problem.facts["found"]


def test_joined_emoji_are_words_like_others() -> None:
    assert decode("👩‍🦰 hums".encode(), "notes.md").value == "👩‍🦰 hums"


@given(st.binary(max_size=80))
def test_any_bytes_are_text_or_have_a_place(data: bytes) -> None:
    text, problems = decode(data, "f")
    assert (text is None) == bool(problems)
    for problem in problems:
        assert (problem.where.line or 0) >= 1
        assert (problem.where.column or 0) >= 1


def test_a_link_out_of_the_folder_is_refused(tmp_path: Path) -> None:
    (tmp_path / "secret.md").write_text("not for anybody")
    root = tmp_path / "lessons"
    root.mkdir()
    link = root / "notes.md"
    link.symlink_to(tmp_path / "secret.md")
    text, (problem,) = read_text(root, link)
    assert text is None
    assert problem.code is Code.LINK_OUTSIDE


def test_links_within_the_folder_are_followed(tmp_path: Path) -> None:
    (tmp_path / "plan.md").write_text("hum")
    (tmp_path / "notes.md").symlink_to(tmp_path / "plan.md")
    assert not leads_outside(tmp_path, tmp_path / "notes.md")
    assert read_text(tmp_path, tmp_path / "notes.md").value == "hum"


def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "notes.md")
    text, (problem,) = read_text(tmp_path, tmp_path / "notes.md")
    assert text is None
    assert problem.code is Code.FILE_UNREADABLE


def test_a_film_named_notes_is_too_big(tmp_path: Path) -> None:
    with (tmp_path / "notes.md").open("wb") as file:
        file.truncate(MOST_BYTES + 1)
    text, (problem,) = read_text(tmp_path, tmp_path / "notes.md")
    assert text is None
    assert problem.code is Code.FILE_TOO_BIG


def test_places_are_printable_whatever_the_name(tmp_path: Path) -> None:
    name = os.fsdecode(b"mart\xe9\x1b[31m")
    assert file_of(tmp_path, tmp_path / name) == "mart\\udce9\\u001b[31m"
    assert file_of(tmp_path, tmp_path) == ""
