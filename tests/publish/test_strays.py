"""What no longer belongs comes down; what is not ours stays."""

from datetime import date, timedelta
from pathlib import Path

import pytest

from recapgen.publish.emptying import KEPT_DAYS, empty_out, is_emptying
from recapgen.publish.output import Output, claim
from recapgen.publish.strays import clear_strays

DAY = date(2027, 6, 1)
ADDRESS = "bcdfghjkmnpqrstvwxyz"


@pytest.fixture
def output(tmp_path: Path) -> Output:
    (tmp_path / "lessons").mkdir()
    claimed = claim(tmp_path / "out", tmp_path / "lessons").value
    assert claimed is not None
    (claimed.site / ADDRESS).mkdir()
    return claimed


def test_only_our_own_leftovers_come_down(output: Output) -> None:
    for name in ("index.html", "CNAME", ".DS_Store"):
        (output.site / name).touch()
    for name in (ADDRESS[::-1], "assets", "cases", "holiday"):
        (output.site / name).mkdir()
        (output.site / name / "index.html").touch()
    problems = clear_strays(output, {"index.html", "assets", ADDRESS}, "en", DAY)
    assert {path.name for path in output.site.iterdir()} == {
        *("index.html", "assets", ADDRESS, ADDRESS[::-1], "CNAME", "holiday", ".DS_Store")
    }
    assert [problem.facts["found"] for problem in problems] == ["CNAME", "holiday"]
    assert (output.site / "holiday" / "index.html").exists()
    assert is_emptying(output.site / ADDRESS[::-1])
    assert list(output.staging.iterdir()) == []


def test_where_a_site_was_something_empties_phones_for_a_year(output: Output) -> None:
    goal = output.site / ADDRESS
    (goal / "index.html").write_text("Mia, your lessons", encoding="utf-8")
    (goal / "films").mkdir()
    empty_out(output, ADDRESS, "de", DAY)
    assert {path.name for path in goal.iterdir()} == {"index.html", "sw.js"}
    page = (goal / "index.html").read_text("utf-8")
    assert "Diese Seite wurde vom Netz genommen." in page
    assert "Mia" not in page
    assert "Content-Security-Policy" in page
    for days in (1, KEPT_DAYS - 1):
        clear_strays(output, set(), "de", DAY + timedelta(days))
        assert is_emptying(goal)
    clear_strays(output, set(), "de", DAY + timedelta(KEPT_DAYS))
    assert not goal.exists()


def test_the_year_begins_anew_where_it_was_forgotten_or_the_site_came_back(output: Output) -> None:
    goal = output.site / ADDRESS
    empty_out(output, ADDRESS, "en", DAY)
    output.emptied.write_text("?", encoding="utf-8")
    clear_strays(output, set(), "en", DAY + timedelta(300))
    clear_strays(output, set(), "en", DAY + timedelta(400))
    assert is_emptying(goal)
    (goal / "sw.js").write_text("const FILES = {};", encoding="utf-8")
    empty_out(output, ADDRESS, "en", DAY + timedelta(500))
    clear_strays(output, set(), "en", DAY + timedelta(500 + KEPT_DAYS - 1))
    assert is_emptying(goal)


def test_nothing_is_left_where_nothing_was(output: Output) -> None:
    empty_out(output, ADDRESS[::-1], "en", DAY)
    assert not (output.site / ADDRESS[::-1]).exists()
