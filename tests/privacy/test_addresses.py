"""Addresses nobody can guess, and that never change."""

import hashlib
import hmac
import os
import stat
import subprocess
import unicodedata
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recapgen.model.problem import Code
from recapgen.privacy.addresses import (
    KEPT_IN,
    address,
    case_page,
    lesson_page,
    looks_like_address,
    make_secret,
    range_address,
    read_secret,
    secret_mark,
)

SECRET = bytes(range(32))
DAY = date(2027, 4, 11)
SIGNS = "23456789bcdfghjkmnpqrstvwxyz"


def test_an_address_is_the_documented_function_of_its_parts() -> None:
    parts = [b"address", b"anna"]
    message = b"".join(len(p).to_bytes(4, "big") + p for p in parts)
    number = int.from_bytes(hmac.new(SECRET, message, hashlib.sha256).digest(), "big")
    expected = "".join(SIGNS[number // 28**place % 28] for place in range(20))
    assert address(SECRET, "anna") == expected


def test_the_page_for_the_range_has_an_address_that_no_student_can_have() -> None:
    """Not even one whose folder is called like it."""
    own = range_address(SECRET)
    assert looks_like_address(own)
    assert own not in {address(SECRET), address(SECRET, "range"), address(SECRET, "", "range")}
    assert range_address(bytes(32)) != own


@given(st.text(), st.text())
def test_parts_do_not_run_into_each_other(one: str, two: str) -> None:
    joined = address(SECRET, one + two)
    assert address(SECRET, one, two) != joined
    assert looks_like_address(joined)


def test_a_name_spelt_composed_or_decomposed_has_one_address() -> None:
    name = "Zoë Ängström"
    assert address(SECRET, unicodedata.normalize("NFD", name)) == address(SECRET, name)


def test_another_secret_gives_other_addresses() -> None:
    assert address(SECRET, "anna") != address(bytes(32), "anna")
    assert secret_mark(SECRET) != secret_mark(bytes(32))
    assert address(SECRET, "anna") != address(SECRET, "anno")


def test_pages_have_short_stable_names() -> None:
    page = lesson_page(SECRET, "anna", "2027-04-11 wet", DAY)
    assert page.startswith("2027-04-11-")
    assert len(page) == len("2027-04-11-bcdf.html")
    assert page != lesson_page(SECRET, "anna", "2027-04-11 dry", DAY)
    assert case_page(SECRET, "Starts-Right") == case_page(SECRET, "starts-right")
    assert "starts" not in case_page(SECRET, "starts-right")


@pytest.mark.parametrize("name", ["marta", "cases", "assets", "bcdf" * 6, "abcd" * 5])
def test_what_a_coach_may_call_a_folder_is_no_address(name: str) -> None:
    assert not looks_like_address(name)


def test_the_first_build_makes_a_secret_for_the_coach_alone(tmp_path: Path) -> None:
    assert read_secret(tmp_path) == (None, ())
    made = make_secret(tmp_path).value
    assert made is not None
    assert len(made) == 32
    assert read_secret(tmp_path).value == made
    if os.name != "nt":
        assert stat.S_IMODE((tmp_path / KEPT_IN).stat().st_mode) == 0o600


def test_an_existing_secret_is_never_replaced(tmp_path: Path) -> None:
    first = make_secret(tmp_path).value
    assert make_secret(tmp_path).value == first


@pytest.mark.parametrize("text", ["", "abc\n", "g" * 64, "a" * 63, "a" * 65, "é" * 64])
def test_a_malformed_secret_is_a_problem_and_stays(tmp_path: Path, text: str) -> None:
    file = tmp_path / KEPT_IN
    file.parent.mkdir()
    file.write_text(text, encoding="utf-8")
    for found in (read_secret(tmp_path), make_secret(tmp_path)):
        assert found.value is None
        assert [problem.code for problem in found.problems] == [Code.SECRET_MALFORMED]
    assert file.read_text(encoding="utf-8") == text


def test_a_secret_that_cannot_be_written_is_a_problem(tmp_path: Path) -> None:
    found = make_secret(tmp_path / "nowhere")
    assert found.value is None
    assert [problem.code for problem in found.problems] == [Code.SECRET_UNWRITABLE]


def test_a_pipe_in_place_of_the_secret_ends_and_stays(tmp_path: Path) -> None:
    file = tmp_path / KEPT_IN
    file.parent.mkdir()
    os.mkfifo(file)
    for found in (read_secret(tmp_path), make_secret(tmp_path)):
        assert found.value is None
        assert [problem.code for problem in found.problems] == [Code.SECRET_MALFORMED]
    assert stat.S_ISFIFO(file.lstat().st_mode)


def test_a_secret_that_others_can_read_is_told_with_what_mends_it(tmp_path: Path) -> None:
    made = make_secret(tmp_path).value
    (tmp_path / KEPT_IN).chmod(0o640)
    found = read_secret(tmp_path)
    assert found.value == made
    (problem,) = found.problems
    assert problem.code is Code.SECRET_OPEN
    subprocess.run(problem.facts["command"], shell=True, check=True)  # noqa: S602 - as a coach does
    assert read_secret(tmp_path) == (made, ())


def test_a_secret_is_whole_or_not_there_whenever_its_maker_is_killed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def killed(_: int) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", killed)
    with pytest.raises(KeyboardInterrupt):
        make_secret(tmp_path)
    assert read_secret(tmp_path) == (None, ())


@pytest.mark.parametrize("above", ["public_html/lessons", "Public", "x/htdocs"])
def test_lessons_in_a_folder_that_is_handed_out_are_told_of(tmp_path: Path, above: str) -> None:
    root = tmp_path / above / "my"
    root.mkdir(parents=True)
    for found in (make_secret(root), read_secret(root)):
        (problem,) = found.problems
        assert found.value is not None
        assert problem.code is Code.LESSONS_IN_PUBLIC
        assert problem.facts["folder"] in Path(above).parts
