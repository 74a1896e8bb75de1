"""Only who has the address reads, only what is published, and nobody writes."""

import json
import os
import string
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from recapgen.model.news import News
from recapgen.serving.page_host import PageHost
from tests.serving.asking import ask, ask_for, shown

PAGE = "<p>Wall behind you · mur</p>"
FILM = bytes(range(256)) * 4
PRIVATE = b"PRIVATE"


@pytest.fixture(scope="module")
def out(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An output with things around and inside it that are not published."""
    out = tmp_path_factory.mktemp("host") / "less_out"
    for folder in ("site/k7", "coach_book", ".recapgen", "stills", "site/.hidden"):
        (out / folder).mkdir(parents=True)
        (out / folder / "index.html").write_text(PRIVATE.decode(), encoding="utf-8")
    (out / "secret").write_bytes(PRIVATE)
    (out.parent / "notes.md").write_bytes(PRIVATE)
    (out / "site" / ".secret").write_bytes(PRIVATE)
    (out / "site" / "k7" / "index.html").write_text(PAGE, encoding="utf-8")
    (out / "site" / "k7" / "film.mp4").write_bytes(FILM)
    (out / "site" / "k7" / "way out").symlink_to(out.parent)
    (out / "site" / "k7" / "way.html").symlink_to(out / "secret")
    (out / "site" / "k7" / "inside.html").symlink_to(out / "site" / "k7" / "index.html")
    os.mkfifo(out / "site" / "pipe.html")
    return out


@pytest.fixture(scope="module")
def host(out: Path) -> Iterator[PageHost]:
    with shown({"site": out / "site"}) as host:
        yield host


def test_a_page_is_sent_as_it_is_published(host: PageHost) -> None:
    for path in ("site/k7/index.html", "site/k7/", "site/k7/index.html?again=1"):
        answer = ask(host, path)
        assert (answer.status, answer.body) == (200, PAGE.encode())
        assert answer.headers["content-type"] == "text/html; charset=utf-8"
        assert answer.headers["cache-control"] == "no-store"
        assert answer.headers["x-content-type-options"] == "nosniff"
        assert answer.headers["referrer-policy"] == "no-referrer"
        assert answer.headers["x-frame-options"] == "SAMEORIGIN"
    head = ask(host, "site/k7/", "HEAD")
    assert (head.status, head.body) == (200, b"")
    assert head.headers["content-length"] == str(len(PAGE.encode()))


@pytest.mark.parametrize(
    "other",
    ["evil.example", "localhost", "127.0.0.1", "127.0.0.1:1", "[::1]:{port}", "evil:{port}", ""],
)
def test_another_name_for_this_computer_is_refused(host: PageHost, other: str) -> None:
    answer = ask(host, "site/k7/", Host=other.format(port=host.server_port))
    assert (answer.status, answer.body) == (421, b"421\n")


@pytest.mark.parametrize(
    "header",
    [
        {"Origin": "http://evil.example"},
        {"Origin": "null"},
        {"Sec_Fetch_Site": "cross-site"},
        {"Sec_Fetch_Site": "same-site"},  # another port of this computer
        {"Service_Worker": "script"},
    ],
)
def test_another_origin_is_refused(host: PageHost, header: dict[str, str]) -> None:
    assert ask(host, "site/k7/", **header).status == 403
    assert ask(host, "news.json", **header).status == 403


def test_our_own_pages_are_let_in(host: PageHost) -> None:
    for header in ({"Origin": host.gate.origin}, {"Sec_Fetch_Site": "same-origin"}):
        assert ask(host, "site/k7/", **header).status == 200


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "OPTIONS", "CONNECT", "PATCH", "get"])
def test_nothing_but_reading_is_done(host: PageHost, method: str) -> None:
    answer = ask(host, "site/k7/index.html", method)
    assert answer.status == 405
    assert answer.headers["allow"] == "GET, HEAD"
    assert ask(host, "site/k7/", Content_Length="4").status == 400


def test_without_the_token_there_is_nothing(host: PageHost) -> None:
    token = host.gate.token
    assert len(token) >= 22  # 128 bits
    wrong = token[:-1] + ("A" if token[-1] != "A" else "B")
    for target in (
        "/", "/site/k7/", f"/{wrong}/", f"/{wrong}/site/k7/", f"/{token}", f"/{token[:-1]}/",
        f"/x/../{token}/", f"/{token}%00/", f"/{token.swapcase()}/", "*",
        f"http://evil.example/{token}/site/k7/", "/é/",
    ):  # fmt: skip
        answer = ask_for(host, target)
        assert answer.status == 404, target
        assert answer.body == b"404\n"
        assert token not in str(answer.headers)


WAYS = [
    "site/../secret", "site/k7/../../secret", "site/%2e%2e/secret", "site/%2E%2E%2fsecret",
    "site/..%2fsecret", "site/..%5csecret", "site/..\\secret", "site/%252e%252e/secret",
    "../notes.md", "%2e%2e/notes.md", "secret", ".recapgen/index.html", "stills/index.html",
    "coach_book/index.html", "site/.secret", "site/%2esecret", "site/.hidden/index.html",
    "site/k7/way.html", "site/k7/inside.html", "site/k7/way%20out/notes.md", "site/pipe.html",
    "site/k7/index.html%00.png", "site/k7/index.html%0d%0aX:%20y", "site//k7/index.html",
    "site/./k7/index.html", "site/k7", "site/k7/index.html/", "site", "site/k7/index.html::$DATA",
    "site/C:/secret", "site/k7/%ff", "site/k7/" + "a" * 5000, "news.json/", "site/../news.json",
    "frame.css/../site/k7/", "site/k7/index.html#x", "site/k7/none.html", "frame.html",
]  # fmt: skip


@pytest.mark.parametrize("way", WAYS)
def test_no_way_leads_out_of_what_is_published(host: PageHost, way: str) -> None:
    answer = ask(host, way)
    assert answer.status == 404
    assert PRIVATE not in answer.body


PIECES = st.sampled_from(
    ["..", ".", "%2e%2e", "%2e", "%2f", "%5c", "\\", "/", "//", "%00", "k7", "site", "secret",
     "way%20out", "way.html", ".recapgen", "coach_book", "index.html", "notes.md", "%252e", "~"]
)  # fmt: skip


@given(st.lists(PIECES | st.text(string.printable.strip(), max_size=4), max_size=9))
def test_no_path_leads_out(host: PageHost, pieces: list[str]) -> None:
    """Whatever it is made of; and each is answered."""
    answer = ask(host, "site/" + "".join(pieces))
    assert answer.status in {200, 400, 404}
    assert PRIVATE not in answer.body or pieces in ([], ["index.html"])
    assert answer.body in {PAGE.encode(), PRIVATE, b"404\n", b"400\n", FILM}


@pytest.mark.parametrize(
    ("wish", "part"),
    [
        ("bytes=0-0", range(1)),
        ("bytes=100-199", range(100, 200)),
        ("bytes=1000-", range(1000, 1024)),
        ("bytes=-24", range(1000, 1024)),
        ("bytes=-9999", range(1024)),
        ("bytes=0-99999", range(1024)),
    ],
)
def test_a_film_is_sent_in_parts(host: PageHost, wish: str, part: range) -> None:
    answer = ask(host, "site/k7/film.mp4", Range=wish)
    assert answer.status == 206
    assert answer.body == FILM[part.start : part.stop]
    assert answer.headers["content-range"] == f"bytes {part[0]}-{part[-1]}/1024"
    assert answer.headers["content-type"] == "video/mp4"
    assert answer.headers["accept-ranges"] == "bytes"


@pytest.mark.parametrize("wish", ["bytes=1024-", "bytes=-0", "bytes=5000-6000"])
def test_a_part_that_is_not_there_is_said(host: PageHost, wish: str) -> None:
    answer = ask(host, "site/k7/film.mp4", Range=wish)
    assert (answer.status, answer.body) == (416, b"")
    assert answer.headers["content-range"] == "bytes */1024"


@pytest.mark.parametrize(
    "wish", ["bytes=9-3", "bytes=-", "bytes=0-1,5-6", "lines=0-1", "bytes=a-b", "bytes=²-"]
)
def test_a_wish_that_means_nothing_gets_the_whole(host: PageHost, wish: str) -> None:
    answer = ask(host, "site/k7/film.mp4", Range=wish)
    assert (answer.status, answer.body) == (200, FILM)


def test_parts_of_two_films_are_never_joined(out: Path, host: PageHost) -> None:
    tag = ask(host, "site/k7/film.mp4").headers["etag"]
    assert ask(host, "site/k7/film.mp4", Range="bytes=0-3", If_Range=tag).status == 206
    newer = out / "site" / "k7" / "newer.mp4"
    newer.write_bytes(FILM)
    newer.replace(out / "site" / "k7" / "film.mp4")
    answer = ask(host, "site/k7/film.mp4", Range="bytes=0-3", If_Range=tag)
    assert (answer.status, answer.body) == (200, FILM)


def test_the_news_and_the_frame_are_below_the_token(host: PageHost) -> None:
    host.news = News(3, "Built at 10:21", ("<b>x</b>",), ("matters: 1 deg",), "", (("Brida", "x"),))
    told = json.loads(ask(host, "news.json").body)
    assert (told["build"], told["problem"]) == (3, ["<b>x</b>"])
    frame = ask(host, "").body.decode()
    assert 'data-build="3"' in frame
    assert "<b>x</b>" not in frame
    assert "coach_book" not in frame
    assert ask(host, "frame.js").headers["content-type"] == "text/javascript; charset=utf-8"
    assert ask(host, "frame.css").headers["content-type"] == "text/css; charset=utf-8"


def test_two_runs_have_two_tokens(out: Path, host: PageHost) -> None:
    with shown({"site": out / "site"}, replace(host.news)) as other:
        assert other.gate.token != host.gate.token
        assert ask_for(other, f"/{host.gate.token}/").status == 404
