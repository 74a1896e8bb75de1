"""The coach's Markdown made harmless."""

from html.parser import HTMLParser

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recapgen.render.coach_words import coach_words

ALLOWED = {
    *("p", "em", "strong", "a", "ul", "ol", "li", "blockquote", "code", "pre", "br", "hr"),
    *("h3", "h4", "h5", "h6"),
}
SPICE = st.sampled_from(
    [
        *("<script>alert(1)</script>", "<img src=x onerror=alert(1)>", "![x](http://a.example/b)"),
        *("[x](javascript:alert(1))", "[x](data:text/html,hi)", "[x](//a.example)", "# "),
        *("[x](https://a.example)", "<https://a.example>", "**", "_", "`", "\n\n", "\n- ", "> "),
        *("&lt;b&gt;", '"', "'", "[r]\n\n[r]: vbscript:x", "\u202e", "😀", "W" * 5000),
    ]
)


class Tags(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.seen: list[tuple[str, dict[str, str | None]]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append((tag, dict(attrs)))


def tags(text: str) -> list[tuple[str, dict[str, str | None]]]:
    reader = Tags()
    reader.feed(coach_words(text) or "")
    reader.close()
    return reader.seen


@given(st.lists(st.one_of(SPICE, st.text(max_size=20)), max_size=12).map("".join))
def test_nothing_but_plain_writing_comes_through(text: str) -> None:
    for tag, attributes in tags(text):
        assert tag in ALLOWED
        assert set(attributes) <= {"href", "rel", "title", "start", "class"}
        if tag == "a":
            href = attributes["href"] or ""
            assert href.lower().startswith(("http://", "https://", "mailto:"))
            assert attributes["rel"] == "noreferrer noopener"


@pytest.mark.parametrize(
    "address",
    [
        "javascript:alert(1)",
        "JaVaScRiPt:x",
        "data:text/html,x",
        "//a.example",
        "page.html",
        "file:/x",
    ],
)
def test_other_addresses_stay_text(address: str) -> None:
    assert "<a" not in (coach_words(f"[look]({address})") or "")


def test_writing_is_kept() -> None:
    told = coach_words("Grip was *fine*.\n\n1. one\n2. two")
    assert told is not None
    assert "<em>fine</em>" in told
    assert "<ol>" in told


def test_headings_go_below_those_of_the_card() -> None:
    assert [tag for tag, _ in tags("# One\n\n## Two\n\n###### Six")] == ["h3", "h4", "h6"]


def test_a_picture_is_no_picture() -> None:
    assert "<img" not in (coach_words("![me](https://a.example/me.png)") or "")


def test_nothing_written_is_nothing() -> None:
    assert coach_words(" \n\n ") is None
