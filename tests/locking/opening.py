"""A reader of locked sites of its own: what a browser does, done again from the standards."""

import base64
import gzip
import hashlib
import json
import re
from dataclasses import dataclass
from pathlib import Path

from cryptography.hazmat.primitives.ciphers.aead import AESGCM

LENGTH_BYTES, NONCE_BYTES = 8, 12


@dataclass(frozen=True, slots=True)
class Opened:
    """The files of the open site by path, and each one's name, nonce and padded length."""

    files: dict[str, bytes]
    names: dict[str, str]
    nonces: tuple[bytes, ...]
    padded: dict[str, int]


def open_site(site: Path, words: str) -> Opened:
    """Raises cryptography's InvalidTag where the ``words`` are others."""
    told = dict(re.findall(r'data-(\w+)="([^"]*)"', (site / "index.html").read_text("utf-8")))
    salt, wrapped = (base64.b64decode(told[part]) for part in ("salt", "wrapped"))
    wrapping = hashlib.pbkdf2_hmac("sha256", words.encode(), salt, int(told["rounds"]), 32)
    key = AESGCM(wrapping).decrypt(wrapped[:NONCE_BYTES], wrapped[NONCE_BYTES:], b"key")
    contents, *_ = _opened(site, key, told["contents"])
    files, names, padded, nonces = {}, {}, {}, []
    for path, (name, _, packed) in json.loads(gzip.decompress(contents)).items():
        content, nonce, length = _opened(site, key, name)
        files[path] = gzip.decompress(content) if packed else content
        names[path], padded[path] = name, length
        nonces.append(nonce)
    return Opened(files, names, tuple(nonces), padded)


def _opened(site: Path, key: bytes, name: str) -> tuple[bytes, bytes, int]:
    box = sealed_box(site / "sealed" / f"{name}.js", name)
    bare = AESGCM(key).decrypt(box[:NONCE_BYTES], box[NONCE_BYTES:], name.encode())
    length = int.from_bytes(bare[:LENGTH_BYTES], "big")
    return bare[LENGTH_BYTES : LENGTH_BYTES + length], box[:NONCE_BYTES], len(bare)


def sealed_box(file: Path, name: str) -> bytes:
    """What is encrypted in a script, with its nonce before it."""
    found = re.fullmatch(rf'sealed\("{name}","([^"]*)"\);\n', file.read_text("ascii"))
    assert found is not None
    return base64.b64decode(found[1])
