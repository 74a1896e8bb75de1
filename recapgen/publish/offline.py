"""A site kept on the phone: a manifest, icons, and the worker that knows every file.

The worker lists the files with the hash of what is in them, so a changed site is a changed
worker: that is how a browser notices, and how only the changed files are fetched again.
"""

import hashlib
import json
from pathlib import Path

from recapgen.model.page import TO_SAVE, Site, SiteKind
from recapgen.words.catalogue import words

WORKER = "sw.js"
MANIFEST = "card.webmanifest"
ICONS = {"assets/icon-180.png": 180, "assets/icon-192.png": 192, "assets/icon-512.png": 512}
_PAPER = "#fffdf8"
_HASH_LETTERS = 16
KEPT = frozenset({SiteKind.STUDENT, SiteKind.RANGE})
"""What is kept on phones."""
_NEVER_ASKED_FOR = (".txt",)  # licences, there to be read where the files lie


def keep_offline(
    site: Site, built: Path, template: Path, *, apart: frozenset[str] = frozenset()
) -> None:
    """Write the manifest and the worker beside the finished pages in ``built``.

    ``apart`` are files that no phone keeps by itself.
    """
    front = site.pages[0].path
    own = "range.short-name" if site.kind is SiteKind.RANGE else "page.offline.short-name"
    manifest = {
        "name": site.name,
        "short_name": words(site.language).say(own),
        "lang": site.language,
        "start_url": front,
        "scope": "./",
        "display": "standalone",
        "background_color": _PAPER,
        "theme_color": _PAPER,
        "icons": [
            {"src": path, "sizes": f"{size}x{size}", "type": "image/png", "purpose": purpose}
            for path, size in ICONS.items()
            for purpose in ("any", "maskable")
        ],
    }
    _write(built / MANIFEST, _json(manifest))
    listed = _json({path: _known_by(built / path) for path in _files(built) if path not in apart})
    worker = (template / "offline" / WORKER).read_text(encoding="utf-8")
    _write(built / WORKER, f"const FILES = {listed};\nconst FRONT = {_json(front)};\n{worker}")


def _files(built: Path) -> list[str]:
    return sorted(
        file.relative_to(built).as_posix()
        for file in built.rglob("*")
        if file.is_file() and file.suffix not in _NEVER_ASKED_FOR and file.parent.name != TO_SAVE
    )


def _known_by(file: Path) -> tuple[str, int]:
    content = file.read_bytes()
    return hashlib.sha256(content).hexdigest()[:_HASH_LETTERS], len(content)


def _json(told: object) -> str:
    return json.dumps(told, ensure_ascii=False, separators=(",", ":"))


def _write(file: Path, text: str) -> None:
    file.write_text(text, encoding="utf-8", newline="\n")
