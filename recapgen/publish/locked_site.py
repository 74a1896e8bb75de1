"""A finished site locked: one page that asks for the words, and everything else sealed.

The open site was checked for leaks before; what is laid here holds nothing that can be read but
our own sheet, scripts and letters, which are the same for every student of that language.
"""

import base64
import hashlib
import json
import mimetypes
from collections.abc import Iterator
from functools import partial
from pathlib import Path

from msgspec import Struct

from recapgen.locking.locks import SiteLock
from recapgen.locking.sealed_files import FOLDER, packed_text, sealed_name, sealed_script
from recapgen.model.page import TO_SAVE, Page, Site, SiteKind
from recapgen.model.public import FRONT_PAGE
from recapgen.publish.fingerprints import FINGERPRINTS, sign_site
from recapgen.publish.last_site import NewSite, inventory_of, read_last_site
from recapgen.publish.offline import MANIFEST, WORKER, keep_offline
from recapgen.publish.output import Output, open_up
from recapgen.publish.policy import guarded
from recapgen.publish.scripts import packed
from recapgen.publish.swap import put, stage
from recapgen.tools.cache import Cache, key_for
from recapgen.tools.template_folder import template_folder
from recapgen.tools.walking import files_below
from recapgen.words.catalogue import words

_OURS = "assets/"
_OF_THE_COACH = "assets/coach."
_SCRIPT = "assets/unlock.js"
_SHEET = "assets/locked.css"
_MARK = "data-lock"
_MADE_AGAIN = frozenset({MANIFEST, WORKER, FINGERPRINTS})
_TEXT = frozenset({".html", ".json", ".ics", ".csv", ".txt"})
_TYPES = {".webp": "image/webp", ".mp4": "video/mp4", ".ics": "text/calendar"}


class _Sealed(Struct, frozen=True):
    """One file of the open site as it is sealed; ``script`` is what is published of it."""

    path: str
    name: str
    packed: bool
    script: partial[bytes]

    @property
    def place(self) -> str:
        return f"{FOLDER}/{self.name}.js"


def lock_site(
    open_site: Path,
    goal: Path,
    lock: SiteLock,
    *,
    secret: bytes,
    language: str,
    output: Output,
    cache: Cache,
) -> None:
    """Put the locked form of ``open_site`` in the place of ``goal``, in one step.

    What was sealed before and is the same is taken over. Raises OSError; ``goal`` is then what it
    was.
    """
    inventory = key_for("locked inventory", goal.name)
    new = NewSite(stage(output.staging), read_last_site(goal, cache.find_text(inventory)))
    lay_locked(open_site, new, lock, language, template_folder())
    sign_site(new.folder, goal.name, secret)
    open_up(new.folder, output.umask)
    put(new.folder, goal, output.root)
    cache.keep_text(inventory, inventory_of(new, goal))


def is_locked(site: Path) -> bool:
    """Whether what lies in the folder ``site`` asks for words before it shows anything."""
    try:
        return f"<main {_MARK}" in (site / FRONT_PAGE).read_text("utf-8")
    except (OSError, UnicodeDecodeError):
        return False


def lay_locked(
    open_site: Path, new: NewSite, lock: SiteLock, language: str, template: Path
) -> None:
    """Fill the staged folder of ``new`` with the locked form of ``open_site``. Raises OSError."""
    sealed = []
    for file in sorted(files_below(open_site)):
        path = file.relative_to(open_site).as_posix()
        if path in _MADE_AGAIN:
            continue
        if path.startswith(_OURS) and not path.startswith(_OF_THE_COACH):
            content = file.read_bytes()
            new.lay(path, hashlib.sha256(content).hexdigest(), partial(bytes, content))
            continue
        sealed.append(_seal(lock.key, path, file.read_bytes()))
    told = {each.path: [each.name, _type_of(each.path), each.packed] for each in sealed}
    text = json.dumps(told, separators=(",", ":"), sort_keys=True)
    contents = _seal(lock.key, "contents.json", text.encode())
    for each in (contents, *sealed):
        new.lay(each.place, each.name, each.script)
    script = packed((template / "lock" / "unlock.js").read_text("utf-8")).encode()
    new.lay(_SCRIPT, "", partial(bytes, script))
    new.lay(_SHEET, "", (template / "lock" / "locked.css").read_bytes)
    front = _front_page(lock, contents.name, language, template, new.folder)
    new.lay(FRONT_PAGE, "", partial(bytes, front.encode()))
    nameless = Site(
        kind=SiteKind.STUDENT,
        name=words(language).say("page.offline.short-name"),
        language=language,
        pages=(Page(FRONT_PAGE, "", ""),),
        assets=(),
    )
    apart = frozenset(each.place for each in sealed if each.path.startswith(f"{TO_SAVE}/"))
    keep_offline(nameless, new.folder, template, apart=apart)


def _seal(key: bytes, path: str, content: bytes) -> _Sealed:
    text = Path(path).suffix in _TEXT
    content = packed_text(content) if text else content
    sealed = sealed_name(key, path, content)
    return _Sealed(path, sealed.name, text, partial(sealed_script, key, sealed, content))


def _type_of(path: str) -> str:
    kind = _TYPES.get(Path(path).suffix) or mimetypes.guess_type(path)[0]
    return kind or "application/octet-stream"


def _front_page(lock: SiteLock, contents: str, language: str, template: Path, built: Path) -> str:
    from jinja2 import Environment  # noqa: PLC0415  slow, and few sites are locked

    environment = Environment(autoescape=True, trim_blocks=True, lstrip_blocks=True)
    page = environment.from_string((template / "lock" / "locked.html.jinja").read_text("utf-8"))
    told = page.render(
        language=language,
        say=words(language).say,
        sheets=list(_sheets(built)),
        script=_SCRIPT,
        salt=base64.b64encode(lock.salt).decode(),
        wrapped=base64.b64encode(lock.wrapped).decode(),
        rounds=lock.rounds,
        contents=contents,
    )
    return guarded(told, SiteKind.STUDENT, opens_sealed=True)


def _sheets(built: Path) -> Iterator[str]:
    """The sheet of all pages first, then what is other here."""
    for sheet in sorted((built / _OURS).glob("card-*.css")):
        yield f"{_OURS}{sheet.name}"
    yield _SHEET
