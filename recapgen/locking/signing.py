"""Signatures under what is published: the public half of a key tells whether they are the coach's.

The key is made of the secret, so there is nothing more to keep, and whoever has the secret again
signs as before. Ed25519 signs the same content the same way every time.
"""

import hashlib
import hmac

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey

_LABEL = b"sign what is published"


def public_key(secret: bytes) -> str:
    """The half that anybody may know, as 64 hexadecimal signs."""
    return _key_of(secret).public_key().public_bytes_raw().hex()


def signature(secret: bytes, content: bytes) -> str:
    """What is set under ``content``, as 128 hexadecimal signs."""
    return _key_of(secret).sign(content).hex()


def is_signed(public: str, content: bytes, signed: str) -> bool:
    """Whether ``content`` is what the owner of the ``public`` key set ``signed`` under."""
    try:
        key = Ed25519PublicKey.from_public_bytes(bytes.fromhex(public))
        key.verify(bytes.fromhex(signed), content)
    except (InvalidSignature, ValueError):
        return False
    return True


def _key_of(secret: bytes) -> Ed25519PrivateKey:
    return Ed25519PrivateKey.from_private_bytes(hmac.new(secret, _LABEL, hashlib.sha256).digest())
