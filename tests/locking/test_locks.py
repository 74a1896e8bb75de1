"""Words, keys and sealed files by themselves."""

import json
import math
import stat
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from recapgen.locking.locks import (
    ROUNDS,
    DamagedLockError,
    keep_lock,
    lock_file,
    lock_of,
    new_lock,
    read_lock,
    unwrap,
    with_new_words,
)
from recapgen.locking.passphrases import (
    DRAWN,
    as_typed,
    draw_turn,
    is_too_short,
    word_list,
    words_of,
)
from recapgen.locking.sealed_files import padded, sealed_name, sealed_script

SECRET, KEY = bytes(range(32)), bytes(range(1, 33))
AT = "somewhere"
OWN = "four words of mine here"


def test_the_words_are_five_of_a_thousand_short_ones_and_never_the_same() -> None:
    listed = word_list()
    assert len(set(listed)) == len(listed) == 1024
    assert all(word.isascii() and word.isalpha() and word.islower() for word in listed)
    assert max(map(len, listed)) <= 8
    drawn = words_of(KEY).split("-")
    assert len(drawn) == DRAWN
    assert set(drawn) <= set(listed)
    assert DRAWN * math.log2(len(listed)) >= 50
    assert len({words_of(bytes([n, 1, n, 2, n, 3, n])) for n in range(200)}) == 200
    assert len({draw_turn() for _ in range(200)}) > 190


@pytest.mark.parametrize(
    "typed",
    [
        "Acorn  BEACH cedar",
        " acorn-beach-cedar\n",
        "acorn – beach\u2011cedar",
        "ａcorn beach cedar",
    ],
)
def test_how_they_are_typed_does_not_matter(typed: str) -> None:
    assert as_typed(typed) == "acorn-beach-cedar"


@pytest.mark.parametrize(
    "words", ["", "abc", "one two three four", "a a a a a a a a a a a a", "x" * 60]
)
def test_words_of_ones_own_that_are_soon_guessed_are_known(words: str) -> None:
    assert is_too_short(words)


def test_only_its_own_words_open_a_lock_and_new_ones_leave_the_key() -> None:
    lock = lock_of(SECRET, AT)
    assert lock.rounds == ROUNDS >= 600_000
    assert unwrap(lock.words.upper().replace("-", " "), lock.salt, lock.wrapped) == lock.key
    changed = with_new_words(lock, SECRET, AT, OWN)
    assert changed.key == lock.key
    assert unwrap(OWN, changed.salt, changed.wrapped) == lock.key
    assert (changed.salt, changed.wrapped) != (lock.salt, lock.wrapped)
    with pytest.raises(DamagedLockError):
        unwrap(lock.words, changed.salt, changed.wrapped)
    assert new_lock(SECRET, AT).key != new_lock(SECRET, AT).key


def test_the_secret_gives_the_same_lock_again_and_each_site_and_turn_another() -> None:
    changed = new_lock(SECRET, AT)
    assert changed.turns is not None
    locks = [
        lock_of(SECRET, AT),
        lock_of(SECRET, "elsewhere"),
        lock_of(KEY, AT),
        changed,
        with_new_words(changed, SECRET, AT),
    ]
    assert [lock_of(SECRET, AT), lock_of(SECRET, AT, changed.turns)] == [locks[0], changed]
    assert len({lock.key for lock in locks}) == 4
    assert len({lock.words for lock in locks}) == 5
    assert len({lock.salt for lock in locks}) == 5
    assert with_new_words(changed, SECRET, AT, OWN) == with_new_words(changed, SECRET, AT, OWN)
    by_chance = replace(changed, key=KEY, turns=None)  # as earlier versions made them
    assert with_new_words(by_chance, SECRET, AT).key == KEY
    assert with_new_words(by_chance, SECRET, AT).turns is None


def test_a_lock_is_kept_for_the_coach_alone_and_its_words_in_no_plain_form(tmp_path: Path) -> None:
    lock = lock_of(SECRET, AT, own=OWN)
    keep_lock(tmp_path, "somewhere", SECRET, lock)
    file = lock_file(tmp_path, "somewhere")
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert "words of mine" not in file.read_text().replace("-", " ")
    file.chmod(0o644)
    assert read_lock(tmp_path, "somewhere", SECRET) == lock
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert read_lock(tmp_path, "elsewhere", SECRET) is None


@pytest.mark.parametrize("part", ["key", "rounds", "salt", "words", "wrapped", "whole"])
def test_a_damaged_lock_is_never_used(part: str, tmp_path: Path) -> None:
    keep_lock(tmp_path, AT, SECRET, lock_of(SECRET, AT, own=OWN))
    file = lock_file(tmp_path, "somewhere")
    told = json.loads(file.read_text())
    told[part] = 1 if part == "rounds" else "00" * 32
    file.write_text(json.dumps(told))
    with pytest.raises(DamagedLockError):
        read_lock(tmp_path, "somewhere", SECRET)


def test_a_lock_of_another_student_or_secret_or_half_of_one_is_not_used(tmp_path: Path) -> None:
    keep_lock(tmp_path, AT, SECRET, lock_of(SECRET, AT, own=OWN))
    file = lock_file(tmp_path, "somewhere")
    file.with_name("elsewhere.json").write_bytes(file.read_bytes())
    file.with_name("half.json").write_bytes(file.read_bytes()[:100])
    file.with_name("empty.json").write_bytes(b"")
    for address, secret in (
        ("elsewhere", SECRET), ("half", SECRET), ("empty", SECRET), ("somewhere", KEY)
    ):  # fmt: skip
        with pytest.raises(DamagedLockError):
            read_lock(tmp_path, address, secret)


@given(st.binary(max_size=9000), st.binary(max_size=9000))
def test_one_nonce_is_for_one_path_and_content(one: bytes, other: bytes) -> None:
    first = sealed_name(KEY, "a", one)
    assert first == sealed_name(KEY, "a", one)
    further = {sealed_name(KEY, "b", one), sealed_name(KEY[::-1], "a", one)}
    if one != other:
        further.add(sealed_name(KEY, "a", other))
    assert first.nonce not in {each.nonce for each in further}
    assert first.name not in {each.name for each in further}


@given(st.integers(0, 3_000_000))
def test_a_length_shows_as_one_of_few_and_costs_little(length: int) -> None:
    whole = len(padded(bytes(length)))
    assert length + 8 <= whole <= max(4096, 1.12 * (length + 8) + 1)
    assert whole.bit_count() <= whole.bit_length().bit_length() + 1


def test_the_same_file_is_the_same_bytes_and_a_changed_one_does_not_open() -> None:
    sealed = sealed_name(KEY, "films/a.mp4", b"film")
    script = sealed_script(KEY, sealed, b"film")
    assert script == sealed_script(KEY, sealed_name(KEY, "films/a.mp4", b"film"), b"film")
    assert script.startswith(f'sealed("{sealed.name}","'.encode())
    assert b"film" not in script
    bare = AESGCM(KEY).encrypt(sealed.nonce, padded(b"film"), sealed.name.encode())
    assert AESGCM(KEY).decrypt(sealed.nonce, bare, sealed.name.encode())[8:12] == b"film"
