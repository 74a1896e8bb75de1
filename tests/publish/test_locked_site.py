"""What is laid of a locked site: nothing of the open one but our own sheet, scripts and letters."""

import os
import re
from pathlib import Path

import pytest

from recapgen.locking.locks import SiteLock, lock_of
from recapgen.publish.last_site import NewSite, inventory_of, read_last_site
from recapgen.publish.locked_site import is_locked, lay_locked
from recapgen.tools.html_reading import read_html
from recapgen.tools.template_folder import template_folder
from recapgen.words.languages import LANGUAGES
from tests.locking.opening import open_site

WORDS = "acorn-beach-cedar-dozen-easy"
FILM, SHORTER = os.urandom(70_000), os.urandom(69_700)
PAGE = '<!doctype html><meta charset="utf-8"><title>Brida</title><video src="films/a.mp4"></video>'
FILES = {
    "index.html": PAGE.encode(),
    "2027-04-11-k3f9.html": PAGE.encode() * 9,
    "practice.ics": b"BEGIN:VCALENDAR Brida",
    "2027-04-11-k3f9.json": b'{"Brida": 6.3}',
    "films/a.mp4": FILM,
    "films/b.mp4": SHORTER,
    "films/a.webp": os.urandom(900),
    "saved/a.mp4": os.urandom(5000),
    "assets/coach.webp": os.urandom(700),
    "assets/card-0123abcd.css": b"p{color:red}",
    "assets/mark.svg": b"<svg/>",
    "card.webmanifest": b'{"name": "Brida"}',
    "sw.js": b"const FILES = {'2027-04-11-k3f9.html': 1};",
}
OURS = {"assets/card-0123abcd.css", "assets/mark.svg"}


@pytest.fixture
def lock() -> SiteLock:
    return lock_of(bytes(32), "", own=WORDS)


@pytest.fixture
def plain(tmp_path: Path) -> Path:
    for path, content in FILES.items():
        file = tmp_path / "plain" / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(content)
    return tmp_path / "plain"


def laid(plain: Path, into: Path, lock: SiteLock, inventory: str | None = None) -> NewSite:
    into.mkdir()
    last = into.with_name("last")
    new = NewSite(into, read_last_site(last, inventory))
    lay_locked(plain, new, lock, "en", template_folder())
    return new


def test_every_file_is_in_it_and_none_to_be_seen(
    plain: Path, lock: SiteLock, tmp_path: Path
) -> None:
    laid(plain, tmp_path / "locked", lock)
    site = tmp_path / "locked"
    assert is_locked(site)
    assert not is_locked(plain)
    opened = open_site(site, WORDS)
    made_again = {"card.webmanifest", "sw.js"}
    assert opened.files == {p: c for p, c in FILES.items() if p not in OURS | made_again}
    whole = b"".join(file.read_bytes() for file in sorted(site.rglob("*")) if file.is_file())
    for secret in (
        b"Brida",
        b"2027-04-11",
        b"mp4,",
        FILM[1000:1016],
        FILES["films/a.webp"][:16],
    ):
        assert secret not in whole, secret
    assert opened.padded["films/a.mp4"] == opened.padded["films/b.mp4"]
    assert str(len(FILM)).encode() not in whole
    names = {file.relative_to(site).as_posix() for file in site.rglob("*") if file.is_file()}
    assert names >= OURS
    told = (site / "sw.js").read_text("utf-8")
    apart = f"sealed/{opened.names['saved/a.mp4']}.js"
    assert apart in names
    assert apart not in told  # a clip to save is kept by no phone
    assert f"sealed/{opened.names['films/a.mp4']}.js" in told


def test_what_is_the_same_is_taken_over(plain: Path, lock: SiteLock, tmp_path: Path) -> None:
    first = laid(plain, tmp_path / "last", lock)
    kept = inventory_of(first, tmp_path / "last")
    (plain / "index.html").write_bytes(PAGE.replace("Brida", "Brida L.").encode())
    laid(plain, tmp_path / "new", lock, kept)
    film = f"sealed/{open_site(tmp_path / 'new', WORDS).names['films/a.mp4']}.js"
    assert (tmp_path / "new" / film).stat().st_nlink == 2
    assert open_site(tmp_path / "new", WORDS).files["index.html"] != FILES["index.html"]


def test_a_changed_sealed_file_is_made_again(plain: Path, lock: SiteLock, tmp_path: Path) -> None:
    first = laid(plain, tmp_path / "last", lock)
    kept = inventory_of(first, tmp_path / "last")
    film = f"sealed/{open_site(tmp_path / 'last', WORDS).names['films/a.mp4']}.js"
    (tmp_path / "last" / film).write_text("sealed(1);\n")
    laid(plain, tmp_path / "new", lock, kept)
    assert open_site(tmp_path / "new", WORDS).files["films/a.mp4"] == FILM


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_page_that_asks_is_guarded_and_in_the_students_language(
    language: str, plain: Path, lock: SiteLock, tmp_path: Path
) -> None:
    into = tmp_path / "locked"
    into.mkdir()
    new = NewSite(into, read_last_site(into, None))
    lay_locked(plain, new, lock, language, template_folder())
    text = (into / "index.html").read_text("utf-8")
    page = read_html(text)
    assert f'<html lang="{language}">' in text
    assert page.policy is not None
    assert page.policy.startswith("default-src 'none'; script-src 'self'; style-src 'self';")
    assert "unsafe" not in page.policy
    assert page.referrer == "no-referrer"
    assert not page.code
    assert 'name="robots" content="noindex' in text
    assert not re.search(r"og:|description|<style|\son\w+=", text)
