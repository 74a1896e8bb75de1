"""Several answers in student.yml, a birth year, and who agreed for a junior."""

from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recapgen.intake.folder import survey
from recapgen.intake.student import read_student
from recapgen.model.consent_on_file import counting
from recapgen.model.people import Agreed, Coach, GivenBy, Guardian, Student
from recapgen.model.problem import Code
from recapgen.privacy.consent import grants

ROSA = Guardian("Rosa Lind", "mother")
ANSWERS = (
    "{page: yes, clips: yes, since: 2026-03-01, sheet: 1}",
    "{page: yes, cases: words, since: 2027-03-01, guardian: Paul Lind}",
    "{page: yes, since: 2028-02-01, by: student, until: 2029-01-01}",
    "{page: yes, body: yes, since: 2027-09-01, withdrawn: 2027-10-01}",
)
HEAD = "name: Marta\nborn: 2010\nguardian: {name: Rosa Lind, relation: mother}\nagreed:\n"


def read(root: Path, text: str) -> tuple[Student, list[Code]]:
    (root / "Marta").mkdir(exist_ok=True)
    (root / "Marta" / "student.yml").write_text(text, "utf-8")
    found = survey(root).value
    assert found is not None
    student, problems = read_student(root, found.students[0], Coach("Ines"))
    assert student is not None
    return student, [problem.code for problem in problems]


def in_a_list(answers: list[str]) -> str:
    return HEAD + "".join(f"  - {answer}\n" for answer in answers)


def test_several_answers_are_kept_oldest_first(tmp_path: Path) -> None:
    student, codes = read(tmp_path, in_a_list(list(ANSWERS)))
    assert codes == []
    assert student.born == 2010
    assert [each.since for each in student.answers] == [
        date(2026, 3, 1), date(2027, 3, 1), date(2027, 9, 1), date(2028, 2, 1)
    ]  # fmt: skip
    first, second, _, last = student.answers
    assert (first.sheet, first.guardian, first.by) == ("1", ROSA, None)
    assert (second.guardian, second.cases, second.case_words) == (Guardian("Paul Lind"), True, True)
    assert (last.by, last.until) == (GivenBy.STUDENT, date(2029, 1, 1))
    assert student.agreed == last


@given(order=st.permutations(ANSWERS), day=st.dates(date(2026, 1, 1), date(2030, 1, 1)))
def test_the_order_of_the_lines_does_not_matter(
    tmp_path_factory: pytest.TempPathFactory, order: list[str], day: date
) -> None:
    root = tmp_path_factory.mktemp("order")
    one, _ = read(root, in_a_list(order))
    other, _ = read(root, in_a_list(list(ANSWERS)))
    assert grants(one, day) == grants(other, day)
    assert counting(one, day).since == counting(other, day).since


def test_one_answer_in_a_list_is_like_one_without(tmp_path: Path) -> None:
    one, codes = read(tmp_path, "name: Marta\nagreed:\n  - {page: yes, clips: yes}\n")
    assert codes == []
    assert (one.agreed.page, one.agreed.clips, one.answers) == (True, True, ())


def test_one_doubtful_answer_takes_all_of_them(tmp_path: Path) -> None:
    student, codes = read(tmp_path, in_a_list([*ANSWERS, "{page: jein, since: 2025-01-01}"]))
    assert student.agreed.unclear
    assert student.answers == ()
    assert Code.AGREEMENT_UNCLEAR in codes


def test_the_same_answer_twice_is_no_doubt(tmp_path: Path) -> None:
    student, codes = read(tmp_path, in_a_list([ANSWERS[0], ANSWERS[0]]))
    assert codes == []
    assert not student.agreed.unclear


@pytest.mark.parametrize(
    ("written", "guardian"),
    [
        ("Rosa Lind", Guardian("Rosa Lind")),
        ("{name: Rosa Lind, relation: mother}", ROSA),
        ("{name: Rosa Lind, relationship: mother}", ROSA),
        ("{name: Rosa Lind}", Guardian("Rosa Lind")),
    ],
)
def test_a_guardian_with_what_they_are_to_the_student(
    tmp_path: Path, written: str, guardian: Guardian
) -> None:
    text = f"name: Marta\nage band: junior\nguardian: {written}\nagreed: {{page: yes}}\n"
    student, codes = read(tmp_path, text)
    assert codes == []
    assert student.agreed == Agreed(page=True, guardian=guardian)
    inside = f"name: Marta\nage band: junior\nagreed: {{page: yes, guardian: {written}}}\n"
    assert read(tmp_path, inside)[0].agreed == student.agreed


@pytest.mark.parametrize("born", ["2010-05-03", "May 2010", "10", "1066", "twenty ten", "2010/11"])
def test_a_birth_year_in_doubt_agrees_to_nothing(tmp_path: Path, born: str) -> None:
    text = f"name: Marta\nborn: {born}\nguardian: Rosa Lind\nagreed: {{page: yes}}\n"
    student, codes = read(tmp_path, text)
    assert student.agreed == Agreed(guardian=Guardian("Rosa Lind"), unclear=True)
    assert codes == [Code.BORN_NOT_A_YEAR]


@pytest.mark.parametrize("key", ["born", "Born", "birth year", "year of birth"])
def test_a_birth_year_is_read(tmp_path: Path, key: str) -> None:
    student, codes = read(tmp_path, f"name: Marta\n{key}: 2010\nagreed: {{page: no}}\n")
    assert (student.born, codes) == (2010, [])
