"""A secret on paper: read back whole, or told what is wrong with it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recapgen.locking.locks import FIRST, OWN, Turns
from recapgen.locking.passphrases import word_list
from recapgen.locking.recovery_words import (
    SECRET_WORDS,
    SlipDoubt,
    lock_line,
    read_lock_line,
    read_secret_words,
    secret_words,
)

SECRETS = st.binary(min_size=32, max_size=32)
SECRET = bytes(range(32))


@given(SECRETS)
def test_the_words_give_the_secret_back_however_they_are_typed(secret: bytes) -> None:
    words = secret_words(secret)
    assert len(words) == SECRET_WORDS
    typed = "\n".join(f"{number}. {word.upper()},  " for number, word in enumerate(words, 1))
    assert read_secret_words(typed) == secret


@given(SECRETS, st.integers(0, SECRET_WORDS - 2))
def test_two_words_that_changed_places_are_noticed(secret: bytes, at: int) -> None:
    words = [*secret_words(secret)]
    words[at], words[at + 1] = words[at + 1], words[at]
    if tuple(words) != secret_words(secret):
        assert read_secret_words(" ".join(words)) == SlipDoubt(SECRET_WORDS, ())


def test_another_word_of_the_list_is_noticed_at_every_place() -> None:
    words, passed = secret_words(SECRET), 0
    for at in range(SECRET_WORDS):
        for other in word_list()[:40]:
            typed = " ".join((*words[:at], other, *words[at + 1 :]))
            passed += other != words[at] and read_secret_words(typed) != SlipDoubt(SECRET_WORDS, ())
    assert passed <= 2  # of some thousand; one in 16,384 fits by chance


def test_a_word_that_is_not_on_the_list_is_told_with_its_place_and_the_nearest() -> None:
    words = [*secret_words(SECRET)]
    words[4] = f"{words[4]}x"
    told = read_secret_words(" ".join(words))
    assert isinstance(told, SlipDoubt)
    assert told.unknown == ((5, words[4], words[4][:-1]),)


@pytest.mark.parametrize("count", [0, 1, 26, 28])
def test_too_few_or_many_words_are_counted(count: int) -> None:
    typed = " ".join((*secret_words(SECRET), "acorn")[:count])
    assert read_secret_words(typed) == SlipDoubt(count, ())


@pytest.mark.parametrize(
    "turns", [Turns("acorn-beach"), Turns("", "cedar-dozen"), Turns("acorn-beach", OWN)]
)
@pytest.mark.parametrize("folder", ["marta", "Zoë B: left / right"])
def test_a_line_for_a_lock_is_read_back_and_a_touched_one_is_not(folder: str, turns: Turns) -> None:
    line = lock_line(folder, turns)
    assert line is not None
    assert read_lock_line(f"  {line}\n") == (folder, turns)
    head, check = line.rsplit(" / ", 1)
    for wrong in (head, f"x{line}", line.replace(" / ", " - "), f"{head} / {check}x", "", ": / /"):
        assert read_lock_line(wrong) is None


def test_a_first_lock_needs_no_line() -> None:
    assert lock_line("marta", FIRST) is None
