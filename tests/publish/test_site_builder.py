"""What a built site holds, and what it must not."""

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from msgspec.structs import replace

from recapgen.model.page import Page, Site, SiteKind
from recapgen.model.problem import Code, Cost
from recapgen.model.source import SourceRef
from recapgen.publish.checks import check_site
from recapgen.publish.page_styles import fonts, sheet, sheet_path
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
            ("tab", "svg"),
            ("fonts", "txt"),
            ("offline", "png"),
        )
        for file in (template_folder() / folder).glob(f"*.{kind}")
    }
    assert {path for path in made if path.startswith("assets/")} == {
        *(f"assets/{name}" for name in (*ours, "film.js", *fonts(template_folder(), "en"))),
        sheet_path(sheet(template_folder(), "en", "#9c4221", SiteKind.STUDENT)),
    }
    text = made["index.html"].decode()
    assert "material" not in text.lower()
    assert "mkdocs" not in text.lower()
    assert 'class="md-' not in text


@pytest.mark.parametrize("language", ["en", "es", "de", "fr", "ja", "ko"])
def test_every_page_links_the_one_sheet_and_holds_no_style_that_a_host_may_refuse(
    tmp_path: Path, film: Path, language: str
) -> None:
    site = replace(student_site(film, accent="#2f5d50"), language=language)
    folder = built(site, tmp_path / "site")
    (file,) = folder.rglob("*.css")
    for page in folder.glob("*.html"):
        read = read_html(page.read_text("utf-8"))
        assert read.styles == []
        links = [pointer.address for pointer in read.pointers if pointer.address.endswith(".css")]
        assert links == [f"assets/{file.name}"]
    worn = file.read_text("utf-8")
    assert "/*" not in worn
    assert worn.index("--spot: #2f5d50") > worn.index(".card{")
    for rule in (".film-track{", ".words{", "summary{", "@media print"):
        assert rule in worn
    asked = {address for address in css_addresses(worn) if address.endswith(".woff2")}
    assert {font.name for font in folder.rglob("*.woff2")} == asked
    assert any("west" in font for font in asked) is (language in ("de", "es", "fr"))


def test_another_look_is_another_file_so_that_no_page_meets_the_sheet_of_before(
    tmp_path: Path, film: Path
) -> None:
    names = set()
    for accent in ("#2f5d50", "#9c4221"):
        folder = built(student_site(film, accent=accent), tmp_path / accent[1:])
        (file,) = folder.rglob("*.css")
        names.add(file.name)
        assert file.relative_to(folder).as_posix() in (folder / "sw.js").read_text("utf-8")
    assert len(names) == 2


def test_a_style_that_the_policy_does_not_know_is_found(tmp_path: Path, film: Path) -> None:
    folder = built(student_site(film), tmp_path / "site")
    page = folder / "index.html"
    styled = page.read_text("utf-8").replace("</head>", "<style>p{}</style></head>")
    page.write_text(styled, "utf-8")
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
