"""What a built site holds, and what it must not."""

import os
import re
import shutil
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from recapgen.model.page import Page, Site, SiteKind
from recapgen.model.problem import Code, Cost
from recapgen.model.source import SourceRef
from recapgen.publish.checks import check_site
from recapgen.publish.page_styles import BELOW, fonts
from recapgen.publish.policy import hash_of
from recapgen.publish.site_builder import build_site
from recapgen.tools.html_reading import css_addresses, read_html
from recapgen.tools.template_folder import template_folder
from tests.publish.small_sites import HOSTILE, book_site, built, files_in, student_site

NOWHERE = SourceRef("")


@pytest.fixture
def film(tmp_path: Path) -> Path:
    file = tmp_path / "film.mp4"
    file.write_bytes(b"not really a film")
    return file


@pytest.mark.parametrize("name", ["plain", "with space", "100% #1", 'it\'s "Zoë"', "ёлка"])
def test_a_students_site_holds_only_our_own(tmp_path: Path, film: Path, name: str) -> None:
    made = files_in(built(student_site(film), tmp_path / name))
    assert {path for path in made if not path.startswith("assets/")} == {
        "index.html",
        "2027-04-11-bcdf.html",
        "films/a b.mp4",
        "card.webmanifest",
        "sw.js",
    }
    ours = {
        file.name
        for folder, kind in (
            ("js", "js"),
            ("fonts", "txt"),
            ("offline", "png"),
        )
        for file in (template_folder() / folder).glob(f"*.{kind}")
    }
    assert {path for path in made if path.startswith("assets/")} == {
        *(
            f"assets/{name}"
            for name in (*ours, "film.js", "whole.css", *fonts(template_folder(), "en"))
        ),
    }
    text = made["index.html"].decode()
    assert "material" not in text.lower()
    assert "mkdocs" not in text.lower()
    assert 'class="md-' not in text


def test_a_card_brings_its_whole_look_along_and_the_policy_vouches_for_it(
    tmp_path: Path, film: Path
) -> None:
    site = replace(student_site(film), accent="#2f5d50")
    folder = built(site, tmp_path / "site")
    assert [sheet.name for sheet in folder.rglob("*.css")] == ["whole.css"]  # for strict hosts
    page = read_html((folder / "index.html").read_text("utf-8"))
    (style,) = page.styles
    assert page.policy is not None
    assert f"'{hash_of(style)}'" in page.policy
    assert "/*" not in style
    assert style.index("--spot: #2f5d50") > style.index(".card{")
    asked = [address for address in css_addresses(style) if address.endswith(".woff2")]
    assert len(asked) == 9
    assert {f"assets/{file.name}" for file in folder.rglob("*.woff2")} == set(asked)


def test_a_page_without_a_film_wears_nothing_of_the_player(tmp_path: Path, film: Path) -> None:
    film_page = "<main><h1>x</h1><figure data-film></figure></main>"
    for body, worn in (("<main><h1>x</h1></main>", False), (film_page, True)):
        folder = built(student_site(film, body=body), tmp_path / str(worn))
        (style,) = read_html((folder / "index.html").read_text("utf-8")).styles
        assert (".film-track" in style) is worn


@pytest.mark.parametrize("language", ["en", "es", "de", "fr", "ja", "ko"])
def test_a_page_that_links_the_rest_wears_only_its_first_sight(
    tmp_path: Path, film: Path, language: str
) -> None:
    body = f'<main><h1>x</h1><link rel="stylesheet" href="{BELOW}"><p>y</p></main>'
    site = replace(student_site(film, body=body), language=language)
    folder = built(site, tmp_path / "site")
    (style,) = read_html((folder / "index.html").read_text("utf-8")).styles
    rest = (folder / BELOW).read_text("utf-8")
    assert "/*" not in rest
    assert "@media print" in rest
    assert "@media print" not in style
    assert css_addresses(rest) == []
    foreign = [tongue for tongue in ("de", "ja", "ko") if f":lang({tongue})" in style]
    assert foreign == {"en": [], "es": ["de"], "fr": ["de"]}.get(language, [language])
    for rule in (".film-track{", ".words{", "summary{"):
        assert rule in rest
        assert rule not in style
    asked = {address for address in css_addresses(style) if address.endswith(".woff2")}
    assert {f"assets/{file.name}" for file in folder.rglob("*.woff2")} == asked
    assert any("west" in font for font in asked) is (language in ("de", "es", "fr"))


def test_a_coach_who_types_the_link_changes_nothing(tmp_path: Path, film: Path) -> None:
    typed = "&lt;link rel=&#34;stylesheet&#34; href=&#34;assets/below.css&#34;&gt; assets/below.css"
    folder = built(student_site(film, body=f"<main><h1>{typed}</h1></main>"), tmp_path / "site")
    (style,) = read_html((folder / "index.html").read_text("utf-8")).styles
    assert "@media print" in style
    assert not (folder / BELOW).exists()


def test_a_style_that_the_policy_does_not_know_is_found(tmp_path: Path, film: Path) -> None:
    folder = built(student_site(film), tmp_path / "site")
    page = folder / "index.html"
    page.write_text(page.read_text("utf-8").replace("</style>", "p{}</style>"), "utf-8")
    (problem,) = check_site(folder, SiteKind.STUDENT, None, where=NOWHERE, costs=Cost.STUDENT)
    assert problem.code is Code.PAGE_UNGUARDED
    assert problem.facts["found"] == "<style>"


@pytest.mark.parametrize("kind", [SiteKind.STUDENT, SiteKind.CASES, SiteKind.CARD])
def test_a_page_stands_its_own_checks(tmp_path: Path, film: Path, kind: SiteKind) -> None:
    site = student_site(film)
    site = Site(kind, site.name, site.language, site.pages, site.assets, site.accent)
    folder = built(site, tmp_path / "site")
    assert check_site(folder, kind, None, where=NOWHERE, costs=Cost.STUDENT) == ()
    unlisted = '<meta name="robots" content="noindex' in (folder / "index.html").read_text("utf-8")
    assert unlisted is (kind is SiteKind.STUDENT)


def test_titles_are_escaped_and_bodies_are_not(tmp_path: Path, film: Path) -> None:
    folder = built(student_site(film), tmp_path / "site")
    text = (folder / "index.html").read_text("utf-8")
    assert "<script>alert" not in text
    assert "<p>3 &lt; 4</p>" in text
    assert text.index("Content-Security-Policy") < text.index("<title>")


def test_a_script_in_a_body_is_never_trusted(tmp_path: Path, film: Path) -> None:
    planted = "<main><h1>x</h1><script>alert(1)</script></main>"
    for site in (
        student_site(film, body=planted),
        Site(SiteKind.BOOK, "b", "en", (Page("index.html", "t", planted),), ()),
    ):
        folder = built(site, tmp_path / site.kind)
        page = read_html((folder / "index.html").read_text("utf-8"))
        plain = built(
            replace(site, pages=(Page("index.html", "t", "<h1>x</h1>"),)),
            tmp_path / f"plain {site.kind}",
        )
        policy = read_html((plain / "index.html").read_text("utf-8")).policy
        assert page.policy == policy


def test_the_book_wears_the_theme_without_its_extras(tmp_path: Path) -> None:
    made = files_in(built(book_site(), tmp_path / "book"))
    extras = [path for path in made if re.search(r"\.map$|lunr|404|sitemap|palette|workers", path)]
    assert extras == []
    assert {"assets/book.css", "assets/book_search.js", "assets/book_index.js"} <= made.keys()
    assert any(re.fullmatch(r"assets/stylesheets/main\..*\.css", path) for path in made)
    assert check_site(tmp_path / "book", SiteKind.BOOK, None, where=NOWHERE, costs=Cost.RUN) == ()


def test_the_books_titles_are_escaped_everywhere(tmp_path: Path) -> None:
    made = files_in(built(book_site(), tmp_path / "book"))
    for path, content in made.items():
        if path.endswith(".html"):
            assert "<script>alert" not in content.decode(), path
            assert "&amp;lt;" not in content.decode(), path
    assert HOSTILE.split("&")[0].encode() not in b"".join(
        content for path, content in made.items() if path.endswith(".html")
    )


def test_the_books_navigation_has_a_section_for_each_student(tmp_path: Path) -> None:
    folder = built(book_site(), tmp_path / "book")
    text = " ".join(read_html((folder / "index.html").read_text("utf-8")).texts)
    for name in ("All students", "Marta", "Zoë Ängström"):
        assert name in text


def test_a_missing_template_is_an_error_not_an_empty_page(tmp_path: Path, film: Path) -> None:
    shutil.copytree(template_folder() / "css", tmp_path / "css")
    shutil.copytree(template_folder() / "fonts", tmp_path / "fonts")
    shutil.copytree(template_folder() / "js", tmp_path / "js")
    (tmp_path / "theme").mkdir()
    (tmp_path / "theme" / "main.html").write_text('<meta charset="utf-8">no body')
    (tmp_path / "into").mkdir()
    with pytest.raises(ValueError, match=r"page\.content"):
        build_site(student_site(film), tmp_path / "into", tmp_path)


BUILD = """
import sys, types
from pathlib import Path
sys.path.insert(0, sys.argv[1])
ours = sys.modules["tests"] = types.ModuleType("tests")  # a library brings a package of that name
ours.__path__ = [sys.argv[1] + "/tests"]
from tests.publish.small_sites import book_site, built, student_site
built(student_site(Path(sys.argv[2])), Path(sys.argv[3]) / "student")
built(book_site(), Path(sys.argv[3]) / "book")
"""


def test_two_builds_give_the_same_bytes(tmp_path: Path, film: Path) -> None:
    results = []
    for name, seed, zone in (("a", "1", "UTC"), ("b", "2", "Pacific/Auckland")):
        (tmp_path / name).mkdir()
        subprocess.run(
            [sys.executable, "-c", BUILD, Path(__file__).parents[2], film, tmp_path / name],
            check=True,
            env={**os.environ, "PYTHONHASHSEED": seed, "TZ": zone},
        )
        results.append(files_in(tmp_path / name))
    assert results[0] == results[1]


def test_one_build_does_not_show_in_the_next(tmp_path: Path, film: Path) -> None:
    first = files_in(built(student_site(film), tmp_path / "first"))
    built(book_site(), tmp_path / "book")
    built(student_site(film, "#000000", body="<main><h1>other</h1></main>"), tmp_path / "other")
    assert files_in(built(student_site(film), tmp_path / "again")) == first
