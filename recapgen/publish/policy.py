"""What a finished page may load and run, said in its own head, since no host is known."""

import base64
import hashlib
import re

from recapgen.model.page import SiteKind

UNLISTED = "noindex, nofollow, noarchive"
"""What search engines are asked of pages that are meant for one reader."""
_CHARSET = '<meta charset="utf-8">'
_NOTHING_ELSE = ("base-uri 'none'", "form-action 'none'")
_INLINE = re.compile(r"<(script|style)([^>]*)>(.*?)</\1>", re.DOTALL)
_STATED = re.compile(r'(<meta http-equiv="Content-Security-Policy" content=")[^"]*(">)')
_WITHOUT_LISTING = frozenset({SiteKind.STUDENT, SiteKind.BOOK, SiteKind.RANGE, SiteKind.WORKSHEET})


def guarded(page: str, kind: SiteKind, *, opens_sealed: bool = False) -> str:
    """``page`` with its content security policy as the first thing after the character set.

    Inline scripts and styles already in ``page`` are trusted by their hash, so this must be
    done while it is still the bare skeleton, before anything a coach typed is put in. No page
    tells another site where its reader came from: the address of a student's page is a secret.
    A page that ``opens_sealed`` pictures shows them from this browser's memory.
    """
    if page.count(_CHARSET) != 1:
        raise ValueError(f"a page needs one {_CHARSET}")
    metas = [
        f'<meta http-equiv="Content-Security-Policy" content="{_policy(page, opens_sealed)}">',
        '<meta name="referrer" content="no-referrer">',
    ]
    if kind in _WITHOUT_LISTING:
        metas.append(f'<meta name="robots" content="{UNLISTED}">')
    return page.replace(_CHARSET, "\n".join([_CHARSET, *metas]))


def guarded_alone(page: str) -> str:
    """A guarded page that became a single file: it may show and run what stands in it, no more.

    Its inline scripts and styles are our own; a coach's words are escaped in it.
    """
    trusted = _trusted(page)
    policy = "; ".join(
        (
            "default-src 'none'",
            " ".join(("script-src", *sorted(trusted["script"]))),
            " ".join(("style-src", *sorted(trusted["style"]))),
            "img-src data:",
            "media-src data:",
            "font-src data:",
            *_NOTHING_ELSE,
        )
    )
    return _STATED.sub(lambda said: f"{said[1]}{policy}{said[2]}", page, count=1)


def hash_of(content: str) -> str:
    """What a policy calls an inline script or style with exactly this ``content``."""
    return f"sha256-{base64.b64encode(hashlib.sha256(content.encode()).digest()).decode()}"


def _trusted(page: str) -> dict[str, set[str]]:
    """The hashes of what stands in ``page`` itself, by tag."""
    trusted: dict[str, set[str]] = {"script": set(), "style": set()}
    for tag, attributes, content in _INLINE.findall(page):
        if "src=" not in attributes and "application/json" not in attributes:
            trusted[tag].add(f"'{hash_of(content)}'")
    return trusted


def _policy(page: str, opens_sealed: bool) -> str:
    trusted = _trusted(page)
    return _stated(
        " ".join(("'self'", *sorted(trusted["script"]))),
        " ".join(("'self'", *sorted(trusted["style"]))),
        "'self' data: blob:" if opens_sealed else "'self' data:",
    )


def _stated(scripts: str, styles: str, pictures: str) -> str:
    return "; ".join(
        (
            "default-src 'none'",
            f"script-src {scripts}",
            f"style-src {styles}",
            f"img-src {pictures}",
            "media-src 'self' blob:",
            "font-src 'self'",
            "connect-src 'self'",
            "manifest-src 'self'",
            *_NOTHING_ELSE,
        )
    )


POLICY_OF_ALL = _stated("'self'", "'self'", "'self' data: blob:")
"""What every page of a site keeps to, as far as it can be said without the page."""
