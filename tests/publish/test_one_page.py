"""A page of a finished site as a single file: whole in itself, and no way to anything else."""

import base64
import re
from pathlib import Path

import pytest

from recapgen.model.page import Asset, Page, Site, SiteKind
from recapgen.publish.one_page import one_page
from recapgen.publish.policy import hash_of
from recapgen.publish.site_builder import build_site
from recapgen.tools.html_reading import read_html
from recapgen.tools.template_folder import template_folder

FILM = b"a film"
BODY = (
    '<main id="top"><h1>Hum one note &amp; 3 &lt; 4</h1><a data-site href="index.html">all</a>'
    '<nav data-site><ul><li><a href="log.html">Your log</a><br></li></ul></nav>'
    '<p>See <a href="log.html">the log</a>, <a href="#top">above</a> and '
    '<a href="https://example.org/x.html" rel="noreferrer">a case</a>.</p>'
    '<figure data-film><video src="films/a.mp4" poster="films/a.webp" controls></video></figure>'
    '<svg viewBox="0 0 9 9"><path d="M0 0"/></svg></main>'
)


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("one_page")
    (root / "film").write_bytes(FILM)
    built = root / "site"
    built.mkdir()
    pages = (Page("index.html", "All", "<p>all</p>"), Page("lesson.html", "A lesson", BODY))
    assets = (Asset("films/a.mp4", root / "film"), Asset("films/a.webp", root / "film"))
    build_site(Site(SiteKind.STUDENT, "Card", "en", pages, assets), built, template_folder())
    return built


def test_everything_shown_is_inside_and_nothing_is_fetched(site: Path) -> None:
    packed = one_page(site, "lesson.html")
    inside = base64.b64encode(FILM).decode()
    assert f'<video src="data:video/mp4;base64,{inside}"' in packed
    assert f'poster="data:image/webp;base64,{inside}"' in packed
    assert "url(data:font/woff2;base64," in packed
    followed = [p.address for p in read_html(packed).pointers if p.followed]
    assert followed == ["#top", "https://example.org/x.html"]
    fetched = [p.address for p in read_html(packed).pointers if not p.followed]
    assert all(address.startswith("data:") for address in fetched)
    assert "assets/" not in re.sub(r"<script>.*?</script>", "", packed, flags=re.DOTALL)


def test_it_says_what_the_page_says_and_leaves_the_way_to_others_out(site: Path) -> None:
    packed = one_page(site, "lesson.html")
    assert "<h1>Hum one note &amp; 3 &lt; 4</h1>" in packed
    assert "<p>See the log, " in packed
    assert "Your log" not in packed
    assert '<path d="M0 0"/>' in packed


def test_its_policy_trusts_its_own_style_and_scripts_and_no_host(site: Path) -> None:
    packed = one_page(site, "lesson.html")
    policy = read_html(packed).policy or ""
    inline = re.findall(r"<(?:script|style)>(.*?)</(?:script|style)>", packed, re.DOTALL)
    assert len(inline) == 3  # the style, the card's script and the film's
    assert all(hash_of(each) in policy for each in inline)
    assert "'self'" not in policy
    assert "unsafe" not in policy


def test_what_would_still_be_fetched_stops_it(tmp_path: Path) -> None:
    (tmp_path / "x.html").write_text('<link rel="preload" href="there.js">', encoding="utf-8")
    with pytest.raises(ValueError, match=r"there\.js"):
        one_page(tmp_path, "x.html")
