from datetime import date
from pathlib import Path

import pytest

from recapgen.intake.folder import survey
from recapgen.intake.log_file import read_log
from recapgen.model.fix import Swap
from recapgen.model.practice_log import LogEntry, PracticeLog
from recapgen.model.problem import Checked, Code, Cost
from recapgen.model.source import SourceRef


def read(root: Path, text: str | None) -> Checked[PracticeLog]:
    (root / "Marta").mkdir()
    if text is not None:
        (root / "Marta/practice.csv").write_text(text)
    found, _ = survey(root)
    assert found is not None
    return read_log(root, found.students[0])


@pytest.mark.parametrize("mark", [",", ";", "\t"])
def test_every_column_in_any_order(tmp_path: Path, mark: str) -> None:
    rows = [
        ["Balls", "Date", "minutes", "effort", "rounds", "pain", "where", "score", "miss"],
        ["80", "3 April 2027", "50 min", "7.5/10", "", "yes", "lower back", "12", "3"],
        ["", "2027-04-01", "-", "", "1", "no", "", "", ""],
    ]
    log, problems = read(tmp_path, "\n".join(mark.join(row) for row in rows))
    assert problems == ()
    assert log == PracticeLog(
        (
            LogEntry(date(2027, 4, 1), SourceRef("Marta/practice.csv", 3, 1), rounds=1, pain=False),
            LogEntry(
                date(2027, 4, 3),
                SourceRef("Marta/practice.csv", 2, 1),
                balls=80,
                minutes=50,
                effort=7.5,
                pain=True,
                pain_place="lower back",
                score=12,
                miss_count=3,
            ),
        ),
        kept=True,
    )


def test_no_log_is_no_fault(tmp_path: Path) -> None:
    assert read(tmp_path, None) == (PracticeLog(kept=False), ())


def test_an_empty_log_was_kept(tmp_path: Path) -> None:
    assert read(tmp_path, "\n\n") == (PracticeLog(kept=True), ())


def test_a_bad_row_costs_that_row(tmp_path: Path) -> None:
    log, problems = read(
        tmp_path,
        "date,balls,effort\n2027-04-01,sixty,11\n03/04/2027,10,5\n2027-04-03,80,\n2027-04-04,1,2,3\n",
    )
    assert log is not None
    assert [entry.on.day for entry in log.entries] == [3]
    assert [(p.code, p.where.line, p.where.column) for p in problems] == [
        (Code.LOG_CELL_UNREADABLE, 2, 12),
        (Code.LOG_CELL_UNREADABLE, 2, 18),
        (Code.DATE_AMBIGUOUS, 3, 1),
        (Code.LOG_ROW_UNEVEN, 5, 16),
    ]
    assert {p.cost for p in problems} == {Cost.ROW}


def test_lines_stay_true_after_a_quoted_cell_of_two_lines(tmp_path: Path) -> None:
    log, problems = read(tmp_path, 'date,where,pain\n2027-04-01,"lower\nback",yes\nsoon,,\n')
    assert [(p.code, p.where.line) for p in problems] == [(Code.DATE_UNREADABLE, 4)]
    assert log is not None
    assert log.entries[0].pain is True


@pytest.mark.parametrize(
    ("heading", "code"),
    [
        ("balls,minutes", Code.LOG_WITHOUT_DATES),
        ("date,balls,balls hit", Code.LOG_COLUMN_TWICE),
        ("date,mood", Code.LOG_COLUMN_UNKNOWN),
        ("date,bals", Code.LOG_COLUMN_MISSPELT),
    ],
)
def test_headings(tmp_path: Path, heading: str, code: Code) -> None:
    assert [p.code for p in read(tmp_path, f"{heading}\n").problems] == [code]


def test_words_about_where_it_hurt_mean_that_it_hurt(tmp_path: Path) -> None:
    log, problems = read(tmp_path, "date,where\n2027-04-01,elbow\n2027-04-02,\n")
    assert problems == ()
    assert log is not None
    assert [entry.pain for entry in log.entries] == [True, None]


@pytest.mark.parametrize(
    ("cell", "pain", "place"),
    [
        ("yes", True, None),
        ("Yes - back", True, "back"),
        ("yes (lower back)", True, "lower back"),
        ("yes: left hip", True, "left hip"),
        ("yes my wrist", True, "my wrist"),
        ("ja", True, None),
        ("Ja; Rücken", True, "Rücken"),
        ("sí", True, None),
        ("oui - coude", True, "coude"),
        ("はい", True, None),
        ("あり（腰）", True, "腰"),
        ("네", True, None),
        ("x", True, None),
        ("a bit", True, None),
        ("a bit - elbow", True, "elbow"),
        ("etwas", True, None),
        ("un peu", True, None),
        ("少し", True, None),
        ("조금", True, None),
        ("lower back", True, "lower back"),
        ("手首", True, "手首"),
        ("3/10", True, None),
        ("3 / 10", True, None),
        ("0.5", True, None),
        ("2", True, None),
        ("0", False, None),
        ("0/10", False, None),
        ("none", False, None),
        ("No.", False, None),
        ("nein", False, None),
        ("keine", False, None),
        ("nada", False, None),
        ("aucune", False, None),
        ("なし", False, None),
        ("없음", False, None),
        ("-", None, None),
        ("", None, None),
        ("n/a", None, None),
    ],
)
def test_pain_as_students_write_it(
    tmp_path: Path, cell: str, pain: bool | None, place: str | None
) -> None:
    log, problems = read(tmp_path, f'date,balls,pain\n2027-04-01,40,"{cell}"\n')
    assert problems == ()
    assert log is not None
    assert [(e.balls, e.pain, e.pain_place) for e in log.entries] == [(40, pain, place)]


@pytest.mark.parametrize(
    "cells",
    [
        "no - but stiff,",
        "not really,",
        "no back pain but a stiff neck,",
        "maybe,",
        "?,",
        "fine,",
        "hardly,",
        "same as last week,",
        "no,lower back",
        "0,elbow",
        "none,hip",
    ],
)
def test_what_may_be_a_yes_is_asked_and_the_line_still_counts(tmp_path: Path, cells: str) -> None:
    log, problems = read(tmp_path, f"date,balls,pain,where\n2027-04-01,40,{cells}\n")
    assert [(p.code, p.cost, p.where.line, p.where.column) for p in problems] == [
        (Code.LOG_PAIN_OPEN, Cost.NOTHING, 2, 15)
    ]
    assert log is not None
    assert [(e.balls, e.pain) for e in log.entries] == [(40, None)]


@pytest.mark.parametrize(
    "heading",
    ["Datum;Bälle;Schmerzen;Wo", "fecha;bolas;dolor;dónde", "date;balles;douleur;où",
     "日付;球数;痛み;場所", "날짜;공;통증;부위", "date;balls;any pain;where"],
)  # fmt: skip
def test_headings_in_the_tongues_of_the_pages(tmp_path: Path, heading: str) -> None:
    log, problems = read(tmp_path, f"{heading}\n2027-04-01;40;yes;hip\n")
    assert problems == ()
    assert log is not None
    assert [(e.balls, e.pain, e.pain_place) for e in log.entries] == [(40, True, "hip")]


@pytest.mark.parametrize("where", ["-", "none", "no", "nirgends", "nothing", "なし"])
def test_a_no_under_where_is_no_place(tmp_path: Path, where: str) -> None:
    log, problems = read(tmp_path, f"date,pain,where\n2027-04-01,no,{where}\n")
    assert problems == ()
    assert log is not None
    assert [(e.pain, e.pain_place) for e in log.entries] == [(False, None)]


def test_a_quote_that_is_never_closed_swallows_nothing(tmp_path: Path) -> None:
    rows = "".join(f"2027-04-{day:02},60,\n" for day in range(2, 12))
    log, problems = read(tmp_path, f'date,balls,where\n2027-04-01,60,"lower back\n{rows}')
    assert log is not None
    assert [entry.on.day for entry in log.entries] == list(range(2, 12))
    assert [(p.code, p.where.line, p.where.column, p.cost) for p in problems] == [
        (Code.QUOTE_NOT_CLOSED, 2, 15, Cost.ROW)
    ]


def test_a_cell_as_long_as_a_book_costs_its_line(tmp_path: Path) -> None:
    log, problems = read(tmp_path, f"date,where\n2027-04-01,{'x' * 200_000}\n2027-04-02,\n")
    assert log is not None
    assert [entry.on.day for entry in log.entries] == [2]
    assert [p.cost for p in problems] == [Cost.ROW]


def test_a_text_from_the_students_page_may_be_pasted_below(tmp_path: Path) -> None:
    text = (
        "date;balls;pain\n3 Apr 2027;40;no\n" + 'date,balls,where,pain\n2027-04-05,30,"a, b",yes\n'
    )
    log, problems = read(tmp_path, text)
    assert problems == ()
    assert log is not None
    assert [(e.on.day, e.balls, e.pain_place) for e in log.entries] == [
        (3, 40, None),
        (5, 30, "a, b"),
    ]


def pains(log: PracticeLog | None) -> list[tuple[int, bool | None, str | None, int | None]]:
    assert log is not None
    return [(e.on.day, e.pain, e.pain_place, e.balls) for e in log.entries]


@pytest.mark.parametrize(
    ("line", "kept"),
    [
        ("2027-04-03,viele,ja,Rücken", [(3, True, "Rücken", None)]),
        ("2027-04-03,40,yes,chest,left side", [(3, True, "chest", None)]),
        ("2027-04-03,40,yes," + "x" * 200, [(3, True, None, None)]),
        ("2027-04-03,viele,nein,", []),
    ],
)
def test_pain_of_a_line_with_another_fault_is_not_left_out_with_it(
    tmp_path: Path, line: str, kept: list[tuple[int, bool, str | None, None]]
) -> None:
    log, problems = read(tmp_path, f"date,balls,pain,where\n{line}\n")
    assert pains(log) == kept
    assert {p.cost for p in problems} == {Cost.ROW}


@pytest.mark.parametrize("day", ["03/04/2027", "last Tuesday", "2027-02-30"])
def test_pain_of_a_line_without_a_day_is_asked_about(tmp_path: Path, day: str) -> None:
    log, problems = read(tmp_path, f"date,balls,pain\n{day},40,yes\n")
    assert pains(log) == []
    assert Code.LOG_PAIN_OPEN in {p.code for p in problems}


COUNTED = "date,balls,pain\n46480,30,no\n46481.5,40,yes\n"


def test_days_that_a_spreadsheet_counts_are_read_where_the_lessons_tell_from_when(
    tmp_path: Path,
) -> None:
    (tmp_path / "Marta" / "2027-04-11").mkdir(parents=True)
    (tmp_path / "Marta" / "2027-04-11" / "notes.md").write_text("Well done.\n")
    (tmp_path / "Marta/practice.csv").write_text(COUNTED)
    found, _ = survey(tmp_path)
    assert found is not None
    log, problems = read_log(tmp_path, found.students[0])
    assert pains(log) == [(3, False, None, 30), (4, True, None, 40)]
    (told,) = problems
    assert (told.code, told.cost) == (Code.LOG_DAYS_COUNTED, Cost.NOTHING)
    (sure,) = told.offers
    assert [change.new for change in sure.changes if isinstance(change, Swap)] == [
        "2027-04-03", "2027-04-04",
    ]  # fmt: skip


def test_days_counted_from_an_unknown_day_are_asked_about_once(tmp_path: Path) -> None:
    log, problems = read(tmp_path, COUNTED)
    assert pains(log) == []
    asked, pain = problems
    assert (asked.code, pain.code) == (Code.LOG_DAYS_OPEN, Code.LOG_PAIN_OPEN)
    assert [[c.new for c in way.changes if isinstance(c, Swap)] for way in asked.offers] == [
        ["2027-04-03", "2027-04-04"], ["2031-04-04", "2031-04-05"],
    ]  # fmt: skip


@pytest.mark.parametrize("cell", ["1234", "123456", "12345", "4648O", "99999"])
def test_other_numbers_are_no_days(tmp_path: Path, cell: str) -> None:
    _, problems = read(tmp_path, f"date,balls\n{cell},30\n")
    assert [p.code for p in problems] == [Code.DATE_UNREADABLE]


WEEK = "date,balls,minutes\n2027-04-01,12,30\n2027-04-03,24,40\n"


def balls(log: PracticeLog | None) -> list[int | None]:
    assert log is not None
    return [entry.balls for entry in log.entries]


@pytest.mark.parametrize(
    "later",
    [
        WEEK,  # the whole copy again
        WEEK.replace("2027-04-01,12,30\n", ""),  # part of it
        "balls;date;minutes\n24;3 April 2027;40 min\n",  # the same, otherwise written
    ],
)
def test_a_copy_of_what_is_there_adds_nothing(tmp_path: Path, later: str) -> None:
    log, problems = read(tmp_path, WEEK + later)
    assert problems == ()
    assert balls(log) == [12, 24]


def test_a_later_copy_adds_what_is_new_also_on_a_day_it_has_in_full(tmp_path: Path) -> None:
    log, problems = read(tmp_path, f"{WEEK}{WEEK}2027-04-03,50,60\n2027-04-09,36,45\n")
    assert problems == ()
    assert balls(log) == [12, 24, 50, 36]


def test_two_sessions_of_a_day_in_one_copy_are_two(tmp_path: Path) -> None:
    log, problems = read(tmp_path, f"{WEEK}2027-04-03,50,60\n")
    assert problems == ()
    assert balls(log) == [12, 24, 50]


def test_the_same_line_twice_in_one_copy_counts_once_and_is_told(tmp_path: Path) -> None:
    log, problems = read(tmp_path, WEEK + "2027-04-01,12,30\n2027-04-03,24,40\n")
    assert balls(log) == [12, 24]
    assert [(p.code, p.where.line, p.facts) for p in problems] == [
        (Code.LOG_LINES_TWICE, 4, {"lines": "2"})
    ]


def test_a_day_that_a_later_copy_tells_otherwise_is_asked_and_its_pain_stays(
    tmp_path: Path,
) -> None:
    text = (
        "date,balls,pain,where\n2027-04-03,24,no,\ndate,balls,pain,where\n2027-04-03,60,yes,elbow\n"
    )
    log, problems = read(tmp_path, text)
    assert balls(log) == [24, None]
    assert log is not None
    assert (log.entries[1].pain, log.entries[1].pain_place) == (True, "elbow")
    (problem,) = problems
    assert (problem.code, problem.code.cost, problem.where.line) == (
        Code.LOG_DAY_DIFFERS,
        Cost.ROW,
        4,
    )
    assert len(problem.offers) == 3
