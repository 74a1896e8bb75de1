"""One page of a finished site as a single file that fetches nothing, to be sent by a messenger.

It is made from the published page, so it holds what that holds and no more. Style, fonts,
pictures and films go in as they are; what only means something beside the rest of the site
(``data-site`` in a template) and every link to it stays behind.
"""

import base64
import mimetypes
import re
from html.parser import HTMLParser
from pathlib import Path, PurePosixPath

from recapgen.publish.policy import guarded_alone
from recapgen.tools.html_reading import read_html

_TYPES = {".webp": "image/webp", ".woff2": "font/woff2", ".mp4": "video/mp4"}
_SHOWN = frozenset({"src", "poster"})
_ELSEWHERE = frozenset({"apple-touch-icon", "manifest"})
_WITHOUT_END = frozenset({"meta", "link", "img", "br", "wbr", "hr", "input", "source"})
_FONT = re.compile(r"url\(([\w-]+\.woff2)\)")
_WHOLE_ADDRESS = re.compile(r"#|[a-z][a-z0-9+.-]*:", re.IGNORECASE)


def one_page(site: Path, page: str) -> str:
    """The page at the path ``page`` of the finished ``site``, whole in itself.

    Raises OSError where a file is missing, and ValueError where something would still be fetched.
    """
    packer = _Packer(site)
    packer.feed((site / page).read_text("utf-8"))
    packer.close()
    alone = guarded_alone("".join(packer.kept))
    for pointer in read_html(alone).pointers:
        inside = pointer.address.startswith(("data:", "#"))
        if not inside and not (pointer.followed and _WHOLE_ADDRESS.match(pointer.address)):
            raise ValueError(f"{page} would still ask for {pointer.address[:80]}")
    return alone


class _Packer(HTMLParser):
    """Says again what it reads, with what lies beside the page put in and what is away left out."""

    def __init__(self, site: Path) -> None:
        super().__init__(convert_charrefs=False)
        self.kept: list[str] = []
        self._site = site
        self._leaving: list[str] = []  # the element that stays behind, and those open within it
        self._unlinked = 0
        self._scripts: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        if self._leaving or "data-site" in given:
            if tag not in _WITHOUT_END:
                self._leaving.append(tag)
            return
        if tag == "script":
            self._leaving.append(tag)
            self._scripts.append((self._site / given["src"]).read_text("utf-8"))
        elif given.get("rel") == "stylesheet":
            self.kept.append(f"<style>{self._style(given['href'])}</style>")
        elif tag == "a" and not _WHOLE_ADDRESS.match(given.get("href", "#")):
            self._unlinked += 1  # the words stay
        elif tag != "link" or given.get("rel") not in _ELSEWHERE:
            self.kept.append(self._with_what_it_shows(given))

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        del tag, attrs
        self._say(self.get_starttag_text() or "")

    def handle_endtag(self, tag: str) -> None:
        if self._leaving:
            if tag == self._leaving[-1]:
                self._leaving.pop()
            return
        if tag == "a" and self._unlinked:
            self._unlinked -= 1
            return
        if tag == "body":  # what may wait until all is read
            self.kept += [f"<script>{script}</script>\n" for script in self._scripts]
        self.kept.append(f"</{tag}>")

    def handle_data(self, data: str) -> None:
        self._say(data)

    def handle_entityref(self, name: str) -> None:
        self._say(f"&{name};")

    def handle_charref(self, name: str) -> None:
        self._say(f"&#{name};")

    def handle_decl(self, decl: str) -> None:
        self._say(f"<!{decl}>")

    def _say(self, text: str) -> None:
        if not self._leaving:
            self.kept.append(text)

    def _with_what_it_shows(self, given: dict[str, str]) -> str:
        said = self.get_starttag_text() or ""
        shown = {"href"} if given.get("rel") == "icon" else _SHOWN & given.keys()
        for name in shown:
            address = given[name]
            if not address.startswith("data:"):
                said = said.replace(f'{name}="{address}"', f'{name}="{self._inside(address)}"')
        return said

    def _style(self, path: str) -> str:
        style = (self._site / path).read_text("utf-8")
        beside = PurePosixPath(path).parent
        return _FONT.sub(lambda found: f"url({self._inside(f'{beside}/{found[1]}')})", style)

    def _inside(self, path: str) -> str:
        file = self._site / path
        kind = _TYPES.get(file.suffix) or mimetypes.guess_type(path)[0]
        return f"data:{kind};base64,{base64.b64encode(file.read_bytes()).decode()}"
