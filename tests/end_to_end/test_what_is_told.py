"""Problems on a terminal: lines end between words, one cause is told once, the held back last."""

import re

import pytest

from recapgen.console import Console
from recapgen.model.problem import Code, Problem
from recapgen.model.source import SourceRef
from recapgen.words.catalogue import words

EN = words("en")
SAME = {"found": "a word that nobody knows, in a sentence which goes on for quite a while yet"}


def problems() -> list[Problem]:
    unknown = [
        Problem(Code.SHOTS_ROW_NO_SHOT, SourceRef("marta/2027-04-11/shots.csv", line, 1), SAME)
        for line in range(3, 33)
    ]
    held = Problem(Code.NOT_UTF8, SourceRef("marta/2027-04-11/notes.md", 2), {"found": "0xff"})
    return [*unknown, held]


def test_a_window_of_eighty_columns_breaks_no_word_and_repeats_no_cause(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.setenv("FORCE_COLOR", "1")
    Console(EN).problems(problems())
    told = re.sub(r"\x1b\[[\d;]*m", "", capsys.readouterr().err)
    assert told.count("[shots-row-no-shot]") == 1
    assert "also at marta/2027-04-11/shots.csv:4:1" in told
    lines = told.splitlines()
    assert max(map(len, lines)) <= 80
    assert " ".join(" ".join(lines).split()).count(SAME["found"]) == 1


def test_whose_pages_stay_is_told_in_a_line_each(capsys: pytest.CaptureFixture[str]) -> None:
    other = Problem(Code.NOT_UTF8, SourceRef("otto/student.yml", 1), {"found": "0xff"})
    Console(EN).not_published([*problems(), *problems(), other])
    marta, otto = capsys.readouterr().err.splitlines()
    assert marta.startswith("Not updated: marta, until you fix 2 things, the first at")
    assert marta.endswith(" marta/2027-04-11/notes.md:2")
    assert otto == "Not updated: otto, until you fix 1 thing, at otto/student.yml:1"


def test_what_goes_into_a_file_is_one_line_a_part(capsys: pytest.CaptureFixture[str]) -> None:
    Console(EN).problems(problems()[-1:])
    assert all(line.startswith(("marta", "    ")) for line in capsys.readouterr().err.splitlines())
