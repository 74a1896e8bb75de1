"""The book's index reads what a person would."""

import json

from recapgen.model.page import Page
from recapgen.publish.book_index import book_index, entries_of


def found(body: str) -> list[list[str]]:
    text = book_index(entries_of(Page("a.html", "A </script>", body, "Zoë")))
    start, end = "window.bookIndex = ", ";\n"
    assert text.startswith(start)
    assert text.endswith(end)
    read: list[list[str]] = json.loads(text.removeprefix(start).removesuffix(end))
    return read


def test_an_entry_is_what_a_person_reads() -> None:
    body = (
        "<h1>Hum &amp; hold</h1><script>var x = 1</script><svg><text>ink</text></svg>"
        "<p>6.3&deg; <b>right</b></p><style>p {}</style><textarea>Hi there</textarea>"
    )
    assert found(body) == [["a.html", "A </script>", "Zoë", "Hum & hold 6.3° right"]]


def test_a_lesson_is_found_where_it_stands() -> None:
    lesson = (
        '<section class="book-lesson" aria-labelledby="{0}"><h3 id="{0}"><time>{1}</time>'
        "<span>Hum</span></h3><p>{2}</p><details>12 m</details></section>"
    )
    body = (
        "<h1>Z</h1>"
        + lesson.format("l-1", "1 May", "word " * 9_000)
        + lesson.format("l-2", "2 May", "last")
    )
    first, second, third = found(body)
    assert (first[0], second[0], third[0]) == ("a.html", "a.html#l-1", "a.html#l-2")
    assert third == ["a.html#l-2", "A </script>, 2 May", "Zoë", "2 May Hum last"]
