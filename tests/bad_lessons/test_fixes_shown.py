"""The lines to paste, as the coach meets them: unbroken in a terminal, in the book, as data."""

import json
import re
from html import unescape
from pathlib import Path

import pytest
from click.testing import CliRunner

from recapgen.book.binding import bind_book
from recapgen.cli import cli
from recapgen.console import Console
from recapgen.model.fix import Edit, Fix, Sureness
from recapgen.model.people import Coach
from recapgen.model.problem import Code, Problem
from recapgen.model.source import SourceRef
from recapgen.render.book_pages.site import book_site
from recapgen.words.catalogue import words
from tests.bad_lessons.test_bad_lessons import HERE
from tests.book.told import SECOND

EN = words("en")
LONG = '  "Carry <b>& "" [yd], ' + "as the device tells it " * 12 + '": {is: carry, unit: yd}'
NARROW = "\u202f[9]\t"
WAYS = (
    Fix((Edit("coach.yml", 4, 3, ("columns:", LONG)),), Sureness.ONE_OF_SEVERAL),
    Fix(
        (
            Edit("Marta/notes.md", 2, 3, (f"  file: a{NARROW}b.mov", "", "x: \x1b[2J")),
            Edit("Marta/notes.md", 9, 9, ()),
            Edit("Marta/student.yml", 1, 0, ("name: Marta",)),
        ),
        Sureness.CERTAIN,
    ),
)
PROBLEM = Problem(Code.FOLDER_MISSING, SourceRef("a.md", 3), {"path": "p"}, fixes=WAYS)


def test_a_line_can_be_copied_from_a_narrow_terminal(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "40")
    Console(EN).problems([PROBLEM])
    told = capsys.readouterr().err
    _, pasted = told.split("in coach.yml, below line 3:\n")
    first, second = pasted.split("\n    or\n")
    assert first == f"      columns:\n      {LONG}"
    assert second.split("\n") == [
        "    in Marta/notes.md, lines 2 to 3 become:",
        f"        file: a{NARROW}b.mov",
        "      ",
        r"      x: \x1b[2J",
        "    in Marta/notes.md, delete line 9",
        "    at the top of Marta/student.yml:",
        "      name: Marta",
        "",
    ]


def test_the_book_shows_the_very_lines() -> None:
    book = book_site(bind_book((), (PROBLEM,), SECOND), Coach("Ines Falk"), EN)
    (body,) = (page.body for page in book.pages if page.path == "problems.html")
    shown = [unescape(pre) for pre in re.findall(r"<pre[^>]*>(.*?)</pre>", body, re.DOTALL)]
    assert shown == [f"columns:\n{LONG}", "\n".join(WAYS[1].edits[0].lines), "name: Marta"]


def test_check_gives_them_as_data(tmp_path: Path) -> None:
    case = HERE / "cases" / "shots_unit_unsaid"
    told = CliRunner().invoke(cli, ["check", str(case), "--json"])
    (asked,) = (p for p in json.loads(told.stdout) if p["code"] == "shots-unit-open")
    assert [fix["sure"] for fix in asked["fixes"]] == ["one of several"] * 3
    (edit,) = asked["fixes"][0]["edits"]
    assert edit == {
        "file": "coach.yml",
        "first_line": 2,
        "last_line": 1,
        "lines": ["columns:", "  Ball Speed: {is: ball speed, unit: mph}"],
    }
    assert not list(tmp_path.iterdir())
