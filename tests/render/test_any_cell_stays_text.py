"""Whatever stands in the cells of a file of shots: on the page it is text, never markup."""

from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from recapgen.evidence.sorting import sort_shots
from recapgen.intake.table.all_files import read_shots
from recapgen.intake.table.section_columns import Setting
from recapgen.model.lesson import Notes
from recapgen.model.people import Coach
from recapgen.model.recap import LessonEvidence
from recapgen.model.source import SourceRef
from recapgen.render.lesson_page import lesson_page
from recapgen.render.reader import reader_of
from recapgen.words.catalogue import words
from tests.many import MANY
from tests.render.recaps_fixture import bare_recap, student
from tests.render.test_pages import Reader, read
from tests.table.test_any_cell import CELL, HEADINGS, in_csv, write

COACH = Coach("Ines Falk")
NOTES = Notes(SourceRef("marta/2027-04-23/notes.md", 1, 1), "", intent="Hum one even note")
PLAIN = [["1", "7i", "before", "10:21", "88", "2.1", "130", "thin"],
         ["2", "7i", "after", "10:22", "89", "2.3", "131", ""]]  # fmt: skip
MARKUP = st.sampled_from(
    [
        "<script>alert(1)</script>",
        "<img src=x onerror=alert(1)>",
        '"><svg onload=alert(1)>',
        "</td></tr></table></main>",
        "<!-- ",
        "]]>",
        "{{ 7 * 7 }}{% raw %}",
        "&lt;b&gt;&#x3c;i>",
        "javascript:alert(1)",
        "' autofocus onfocus=alert(1) x='",
        "\u202e<b>",
    ]
)
SPOILT = st.one_of(CELL, MARKUP, st.tuples(CELL, MARKUP).map("".join))
ROW = st.tuples(
    st.one_of(st.integers(1, 99).map(str), SPOILT),
    SPOILT,
    st.one_of(st.sampled_from(["before", "after", "drill"]), SPOILT),
    SPOILT,
    st.one_of(st.sampled_from(["88", "91.5", "300"]), SPOILT),
    SPOILT,
    SPOILT,
    SPOILT,
)


def page_of(root: Path, headings: list[str], rows: list[list[str]]) -> Reader | None:
    text = in_csv([headings, *rows], ",", "\n", all_quoted=True)
    table, _ = read_shots(root, (write(root, text.encode()),), Setting(COACH))
    if table is None:
        return None
    recap = replace(
        bare_recap(date(2027, 4, 23), NOTES),
        evidence=LessonEvidence(
            shots=sort_shots(NOTES, table, None, None),
            decided=table.decided,
            unknown_columns=table.unknown,
        ),
    )
    return read(lesson_page(recap, reader_of(student(recap), COACH, words("en")), ()).body)


@pytest.fixture(scope="module")
def plain(tmp_path_factory: pytest.TempPathFactory) -> Reader:
    """The page of a table that nobody has spoilt."""
    root = tmp_path_factory.mktemp("plain")
    page = page_of(root, [*HEADINGS, "Remark"], [[*row, ""] for row in PLAIN])
    assert page is not None
    return page


@MANY
@given(rows=st.lists(ROW.map(list), min_size=1, max_size=6), heading=SPOILT)
def test_a_cell_never_becomes_markup(
    plain: Reader, tmp_path_factory: pytest.TempPathFactory, rows: list[list[str]], heading: str
) -> None:
    root = tmp_path_factory.getbasetemp()
    spoilt = page_of(root, [*HEADINGS, heading], [[*row, heading] for row in rows])
    if spoilt is not None:
        assert set(spoilt.tags) <= set(plain.tags) | {"ul", "li", "details", "summary", "p", "h3"}
        assert spoilt.attributes <= plain.attributes
