"""Lines that clear a body or wave pain away are told from those that speak of the swing."""

from collections.abc import Mapping
from pathlib import Path

import pytest
import yaml

from recapgen.intake.clearing_lines import clearings
from recapgen.intake.settings import read_coach
from recapgen.model.problem import Code, Cost

LINES: Mapping[str, Mapping[str, list[str]]] = yaml.safe_load(
    Path(__file__).with_name("clearing_lines.yml").read_text("utf-8")
)


@pytest.mark.parametrize("language", LINES)
def test_a_line_that_clears_is_found(language: str) -> None:
    lines = LINES[language]["guilty"]
    assert [line for line in lines if not list(clearings(line))] == []


@pytest.mark.parametrize("language", LINES)
def test_an_innocent_line_passes(language: str) -> None:
    lines = LINES[language]["innocent"]
    assert {line: found for line in lines if (found := list(clearings(line)))} == {}


def test_the_place_is_that_of_the_phrase_in_the_text_as_it_was_typed() -> None:
    text = "Well done.\n\nNow *push\n  through*   the  PAIN, please."
    (found,) = clearings(text)
    assert found.phrase == "push through* the PAIN"
    assert text[found.at :].startswith("push\n")


def test_a_greeting_that_clears_everybody_stops_the_run(tmp_path: Path) -> None:
    """It would stand on every page."""
    (tmp_path / "coach.yml").write_text("coach: Ines\ngreeting: No pain, no gain!\n")
    problems = read_coach(tmp_path).problems
    assert [(p.code, p.cost, p.where.line, p.where.column) for p in problems] == [
        (Code.LINE_CLEARS_A_BODY, Cost.RUN, 2, 11)
    ]
