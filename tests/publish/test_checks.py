"""Planted faults are found, sound pages are left alone."""

from pathlib import Path

import pytest

from recapgen.model.page import SiteKind
from recapgen.model.problem import Code, Cost, Severity
from recapgen.model.source import SourceRef
from recapgen.publish.checks import SitePlace, check_site, vocabulary

POLICY = (
    '<meta http-equiv="Content-Security-Policy" '
    "content=\"default-src 'none'; script-src 'self'\">"
    '<meta name="referrer" content="no-referrer">'
)
SOUND = (
    f"<!doctype html><html><head>{POLICY}<link href='assets/card.css' rel='stylesheet'></head>"
    "<body>{}</body></html>"
)


def check(
    folder: Path,
    body: str,
    css: str = "",
    head: str = SOUND,
    *,
    beside: frozenset[str] = frozenset(),
    place: SitePlace | None = None,
) -> list[tuple[Code, str]]:
    (folder / "assets").mkdir()
    (folder / "assets" / "card.css").write_text(css)
    (folder / "assets" / "a b.woff2").touch()
    (folder / "more.html").write_text(SOUND.format('<p id="here">x</p>'))
    (folder / "index.html").write_text(head.format(body))
    problems = check_site(
        folder,
        SiteKind.STUDENT,
        None,
        where=SourceRef("s/student.yml"),
        costs=Cost.STUDENT,
        beside=beside,
        place=place,
    )
    assert {p.cost for p in problems} <= {Cost.STUDENT}
    return [(p.code, p.facts.get("link", p.facts.get("found", ""))) for p in problems]


@pytest.mark.parametrize(
    "body",
    [
        "<a href='more.html'>x</a>",
        "<a href='more.html#here'>x</a>",
        "<a href='./more.html?x=1#here'>x</a>",
        "<p id='ë'></p><a href='#%C3%AB'>x</a><a href='#'>x</a><a href='#top'>x</a>",
        "<a href='https://example.org' rel='noreferrer'>x</a><a href='mailto:a@example.org'>x</a>",
        "<img src='assets/a%20b.woff2' alt=''>",
        "<script src='assets/card.css' defer></script>",
        "<script type='application/json'>{}</script>",
    ],
)
def test_a_sound_page_passes(tmp_path: Path, body: str) -> None:
    assert check(tmp_path, body, "@font-face { src: url('a b.woff2') }") == []


@pytest.mark.parametrize(
    ("body", "link"),
    [
        ("<a href='gone.html'>x</a>", "gone.html"),
        ("<a href='more.html#gone'>x</a>", "more.html#gone"),
        ("<a href='#gone'>x</a>", "#gone"),
        ("<a href='/more.html'>x</a>", "/more.html"),
        ("<a href='../cases/x.html'>x</a>", "../cases/x.html"),
        ("<a href='assets/'>x</a>", "assets/"),
        ("<a href='More.html'>x</a>", "More.html"),
        ("<img srcset='gone.png 2x' src='assets/card.css' alt=''>", "gone.png"),
        ("<video poster='gone.jpg'></video>", "gone.jpg"),
        ("<a href='http://[broken'>x</a>", "http://[broken"),
    ],
)
def test_a_dead_link_is_found(tmp_path: Path, body: str, link: str) -> None:
    assert check(tmp_path, body) == [(Code.LINK_DEAD, link)]


HOME = "bcdfghjkmnpqrstvwxyz"


@pytest.mark.parametrize(
    ("below", "there"),
    [
        (f"{HOME}/more.html#here", True),
        (f"{HOME}/more.html#gone", False),
        (f"{HOME}/", True),
        (f"{HOME}/old.html", False),  # up now, and gone with this build
        ("cases/up.html", True),
        ("cases/coming.html", True),
        ("cases", True),
        ("cases/gone.html", False),
        ("cases/https://example.org/golf/cases/up.html", False),
        ("zzzzzzzzzzzzzzzzzzzz/index.html", False),
        ("prices.html", True),  # the coach's own, put there by other means
        ("", False),
    ],
)
def test_an_address_below_the_published_one_is_followed(
    tmp_path: Path, below: str, *, there: bool
) -> None:
    up = tmp_path / "site"
    for path in ("cases/index.html", "cases/up.html", f"{HOME}/old.html"):
        (up / path).parent.mkdir(parents=True, exist_ok=True)
        (up / path).touch()
    link = f"https://example.org/golf/{below}"
    new = tmp_path / "new"
    new.mkdir()
    place = SitePlace("https://Example.org/golf", HOME, up, frozenset({"cases/coming.html"}))
    found = check(new, f"<a href='{link}' rel='noreferrer'>x</a>", place=place)
    assert found == ([] if there else [(Code.LINK_DEAD, link)])


def test_what_lies_beside_may_be_linked(tmp_path: Path) -> None:
    body = "<a href='cases/index.html'>x</a>"
    assert check(tmp_path, body, beside=frozenset({"cases/index.html"})) == []


def test_a_stylesheet_may_not_miss_a_font(tmp_path: Path) -> None:
    assert check(tmp_path, "", "a { src: url(gone.woff2) }") == [(Code.LINK_DEAD, "gone.woff2")]


@pytest.mark.parametrize(
    ("body", "found"),
    [
        ("<script>alert(1)</script>", "<script>"),
        ("<script type='module'>alert(1)</script>", "<script>"),
        ("<style>a {}</style>", "<style>"),
        ("<p style='color: red'>x</p>", "style="),
        ("<p onclick='alert(1)'>x</p>", "onclick="),
        ("<svg onload='alert(1)'></svg>", "onload="),
    ],
)
def test_code_in_a_page_is_found(tmp_path: Path, body: str, found: str) -> None:
    assert check(tmp_path, body) == [(Code.PAGE_UNGUARDED, found)]


@pytest.mark.parametrize(
    "head",
    [
        SOUND.replace("http-equiv", "name"),
        SOUND.replace("default-src 'none'", "default-src *"),
        SOUND.replace("script-src 'self'", "script-src 'unsafe-inline'"),
    ],
)
def test_a_page_without_its_guard_is_found(tmp_path: Path, head: str) -> None:
    assert [code for code, _ in check(tmp_path, "", head=head)] == [Code.PAGE_UNGUARDED]


def test_weight_is_a_warning(tmp_path: Path) -> None:
    (tmp_path / "assets").mkdir()
    (tmp_path / "assets" / "card.css").touch()
    (tmp_path / "index.html").write_text(SOUND.format("x" * 1_600_000))
    (problem,) = check_site(
        tmp_path, SiteKind.STUDENT, None, where=SourceRef(""), costs=Cost.STUDENT
    )
    assert (problem.code, problem.severity) == (Code.PAGE_HEAVY, Severity.WARNING)
    assert problem.facts == {"page": "index.html", "size": "1.6"}


def test_a_heavy_film_is_told_apart_from_a_page(tmp_path: Path) -> None:
    (tmp_path / "film.mp4").write_bytes(bytes(25_000_001))
    (problem,) = check_site(
        tmp_path, SiteKind.STUDENT, None, where=SourceRef(""), costs=Cost.STUDENT
    )
    assert (problem.code, problem.severity) == (Code.FILE_HEAVY, Severity.WARNING)
    assert problem.facts == {"page": "film.mp4", "size": "25.0"}


def test_english_knows_its_own_words() -> None:
    known = vocabulary("en")
    assert {"will", "rose", "mark", "grace", "the"} <= known.ordinary
    assert {"may", "april", "monday", "sun"} <= known.calendar
    assert not {"marta", "jonas", "ines", "zoe"} & known.ordinary


def test_a_page_may_hold_words_of_its_language_and_of_english() -> None:
    both = vocabulary("de", "en")
    assert vocabulary("en").ordinary < both.ordinary
    assert vocabulary("de").calendar <= both.calendar
    assert {"mai", "januar", "may"} <= both.calendar
    assert any("Smith 2018" in sentence for sentence in both.sources)


def test_a_noun_of_a_language_that_writes_nouns_large_is_nobodys_name() -> None:
    assert {"winkel", "schlag"} <= vocabulary("de", "en").capitals
    assert not {"will", "rose", "grace", "mark"} & vocabulary("en").capitals
