"""A student's lock: a key that seals the site, itself sealed with the words for it.

Both are made of the secret, so that whoever has it again has the same locks; which of the many that
it gives, two words by chance say where a coach asked for new ones.
The key stays the same while the lock does, so that an unchanged page is the same bytes again. New
words wrap the same key anew: that changes one page. A new key changes every file.
"""

import hashlib
import hmac
import json
import os
import secrets
from contextlib import suppress
from pathlib import Path

from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from msgspec import Struct
from msgspec.structs import replace

from recapgen.locking.passphrases import as_typed, draw_turn, words_of
from recapgen.tools.atomic import write_text

KEPT_IN = ".recapgen/locks"
ROUNDS = 600_000
"""Of PBKDF2 with HMAC-SHA256, as OWASP advises (2023): some 0.1 s on a phone of today."""
_KEY_BYTES = 32
_SALT_BYTES = 16
_NONCE_BYTES = 12
_KEY_PART = b"key"  # what is wrapped, told to AES-GCM beside it
_COACH_ALONE = 0o600


class DamagedLockError(Exception):
    """A lock's file is not what was written: nothing in it is used."""


class Turns(Struct, frozen=True):
    """Which key and which words of those that the secret gives: "" for the first.

    ``words`` is OWN where they are the coach's, and nothing but the coach knows them.
    """

    key: str = ""
    words: str = ""


FIRST = Turns()
OWN = "own"


class SiteLock(Struct, frozen=True):
    """``key`` seals; ``wrapped`` is a nonce and that key, sealed with ``words`` and ``salt``.

    Without ``turns`` it was drawn by chance, as earlier versions did: no secret gives it again.
    """

    key: bytes
    salt: bytes
    wrapped: bytes
    words: str
    rounds: int = ROUNDS
    turns: Turns | None = None


def lock_of(secret: bytes, address: str, turns: Turns = FIRST, own: str | None = None) -> SiteLock:
    """The lock that the ``secret`` gives the site at ``address``; ``own`` are a coach's words."""
    key = _under(secret, f"key {address} {turns.key}")
    return _locked_with(key, secret, address, turns, own)


def new_lock(secret: bytes, address: str, own: str | None = None) -> SiteLock:
    """A lock with a key and words that were never used."""
    words = draw_turn() if own is None else OWN
    return lock_of(secret, address, Turns(draw_turn(), words), own)


def with_new_words(lock: SiteLock, secret: bytes, address: str, own: str | None = None) -> SiteLock:
    """The same key for other words. Copies of the site from before still open by the old ones."""
    words = draw_turn() if own is None else OWN
    turns = Turns("" if lock.turns is None else lock.turns.key, words)
    changed = _locked_with(lock.key, secret, address, turns, own)
    return changed if lock.turns is not None else replace(changed, turns=None)


def _locked_with(
    key: bytes, secret: bytes, address: str, turns: Turns, own: str | None
) -> SiteLock:
    drawn = _under(secret, f"opened {address} {turns.key} {turns.words}")
    opens = words_of(_under(drawn, "words")) if own is None else as_typed(own)
    salt, nonce = _under(drawn, "salt")[:_SALT_BYTES], _under(drawn, "nonce")[:_NONCE_BYTES]
    wrapped = nonce + AESGCM(_key_of(opens, salt, ROUNDS)).encrypt(nonce, key, _KEY_PART)
    return SiteLock(key, salt, wrapped, opens, ROUNDS, turns)


def unwrap(words: str, salt: bytes, wrapped: bytes, rounds: int = ROUNDS) -> bytes:
    """The key, as a reader's browser comes to it. Raises DamagedLockError where it does not."""
    return _opened(_key_of(as_typed(words), salt, rounds), wrapped, _KEY_PART)


def lock_file(root: Path, address: str) -> Path:
    """Where the lock of the site at ``address`` is kept, beside the secret."""
    return root / KEPT_IN / f"{address}.json"


def lock_mark(root: Path, address: str) -> str:
    """A digest of the lock as it is kept; "" where there is none to be read."""
    try:
        return hashlib.sha256(lock_file(root, address).read_bytes()).hexdigest()
    except OSError:
        return ""


def keep_lock(root: Path, address: str, secret: bytes, lock: SiteLock) -> None:
    """Write the lock down for the coach alone, its words sealed by the secret. Raises OSError."""
    file = lock_file(root, address)
    file.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    told: dict[str, object] = {
        "format": 1,
        "key": lock.key.hex(),
        "rounds": lock.rounds,
        "salt": lock.salt.hex(),
        "words": _sealed(_under(secret, "words"), lock.words.encode(), _KEY_PART).hex(),
        "wrapped": lock.wrapped.hex(),
    }
    if lock.turns is not None:
        told["turns"] = [lock.turns.key, lock.turns.words]
    whole = {**told, "whole": _seen_whole(secret, address, told)}
    write_text(file, json.dumps(whole, indent=1, sort_keys=True) + "\n", _COACH_ALONE)


def read_lock(root: Path, address: str, secret: bytes) -> SiteLock | None:
    """The lock of the site at ``address``; None where there is none.

    Raises DamagedLockError where the file is not whole, or is another student's or secret's.
    """
    file = lock_file(root, address)
    if not os.path.lexists(file):
        return None
    try:
        told = json.loads(file.read_text("ascii"))
        whole = told.pop("whole")
        if not hmac.compare_digest(whole, _seen_whole(secret, address, told)):
            raise DamagedLockError(str(file))
        words = _opened(_under(secret, "words"), bytes.fromhex(told["words"]), _KEY_PART)
        key, salt, wrapped = (bytes.fromhex(told[part]) for part in ("key", "salt", "wrapped"))
        turns = Turns(*told["turns"]) if "turns" in told else None
        lock = SiteLock(key, salt, wrapped, words.decode(), int(told["rounds"]), turns)
    except (OSError, ValueError, KeyError, TypeError, AttributeError) as fault:
        raise DamagedLockError(str(file)) from fault
    if file.stat().st_mode & 0o077:
        with suppress(OSError):  # a disk without rights
            file.chmod(_COACH_ALONE)
    return lock


def _key_of(words: str, salt: bytes, rounds: int) -> bytes:
    return hashlib.pbkdf2_hmac("sha256", words.encode(), salt, rounds, _KEY_BYTES)


def _under(secret: bytes, name: str) -> bytes:
    return hmac.new(secret, f"lock {name}".encode(), hashlib.sha256).digest()


def _seen_whole(secret: bytes, address: str, told: dict[str, object]) -> str:
    text = json.dumps([address, told], sort_keys=True)
    return hmac.new(_under(secret, "whole"), text.encode(), hashlib.sha256).hexdigest()


def _sealed(key: bytes, content: bytes, part: bytes) -> bytes:
    nonce = secrets.token_bytes(_NONCE_BYTES)
    return nonce + AESGCM(key).encrypt(nonce, content, part)


def _opened(key: bytes, box: bytes, part: bytes) -> bytes:
    try:
        return AESGCM(key).decrypt(box[:_NONCE_BYTES], box[_NONCE_BYTES:], part)
    except (InvalidTag, ValueError) as fault:
        raise DamagedLockError("it does not open") from fault
