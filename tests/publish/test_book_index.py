"""The book's index reads what a person would."""

import json

from recapgen.model.page import Page
from recapgen.publish.book_index import book_index, entry_of


def test_an_entry_is_what_a_person_reads() -> None:
    body = (
        "<h1>Hum &amp; hold</h1><script>var x = 1</script><svg><text>ink</text></svg>"
        "<p>6.3&deg; <b>right</b></p><style>p {}</style>"
    )
    text = book_index([entry_of(Page("a.html", "A </script>", body, "Zoë"))])
    start, end = "window.bookIndex = ", ";\n"
    assert text.startswith(start)
    assert text.endswith(end)
    assert json.loads(text.removeprefix(start).removesuffix(end)) == [
        ["a.html", "A </script>", "Zoë", "Hum & hold 6.3° right"]
    ]
