"""Doubt about what was agreed counts as no, wherever and however it is written."""

from datetime import date
from pathlib import Path

import pytest

from recapgen.intake.folder import survey
from recapgen.intake.student import read_student
from recapgen.model.people import Agreed, Coach
from recapgen.model.problem import Code
from recapgen.privacy.consent import Grants, grants
from tests.whole_folder import folder_of

DAY = date(2027, 5, 2)
CLUBS = ("driver", "3 wood", "4 hybrid", "7 iron", "pitching wedge", "sand wedge", "putter", "56")
YES = "agreed:\n  page: yes\n  cases: yes\n"


def read(
    tmp_path: Path, text: str, notes: str = "---\nintent: Hum\n---\n"
) -> tuple[Agreed, set[Code]]:
    lesson = tmp_path / "Marta" / "2027-04-11"
    lesson.mkdir(parents=True, exist_ok=True)
    (tmp_path / "coach.yml").write_text("coach: Ines\n", "utf-8")
    (tmp_path / "Marta" / "student.yml").write_text(text, "utf-8")
    (lesson / "notes.md").write_text(notes, "utf-8")
    surveyed = survey(tmp_path).value
    assert surveyed is not None
    student, problems = read_student(surveyed.root, surveyed.students[0], Coach("Ines"))
    assert student is not None
    if grants(student, DAY) != Grants(page=True, cases=True, case_shots=True):
        assert grants(student, DAY) == Grants()
    return student.agreed, {problem.code for problem in problems}


@pytest.mark.parametrize(
    "key",
    [
        "withdrawn", "Withdrawn", "withdrew", "withdrwan", "WITHDRAWAL", "revoked", "taken back",
        "no longer agrees", "until", "expires", "opted out", "widerrufen", "révoqué", "retirado",
        "撤回", "철회", "bis", "hasta",
    ],
)  # fmt: skip
def test_a_withdrawal_outside_agreed_takes_everything_back(tmp_path: Path, key: str) -> None:
    agreed, codes = read(tmp_path, f"name: Marta\n{key}: 2027-05-01\n{YES}")
    assert agreed.unclear
    assert Code.WITHDRAWAL_ELSEWHERE in codes


@pytest.mark.parametrize(
    "text",
    [
        f"name: Marta\nbody:\n  - {{withdrawn: 2027-05-01}}\n{YES}",
        f"name: Marta\nclubs: {{driver: 10 deg, withdrawn: 2027-05-01}}\n{YES}",
        f"name: Marta\nremarks:\n  consent: {{revoked: yes}}\n{YES}",
    ],
)
def test_a_withdrawal_is_found_however_deep_it_stands(tmp_path: Path, text: str) -> None:
    agreed, codes = read(tmp_path, text)
    assert agreed.unclear
    assert Code.WITHDRAWAL_ELSEWHERE in codes


@pytest.mark.parametrize("key", ["withdrawn", "until"])
def test_an_end_without_a_day_is_an_end(tmp_path: Path, key: str) -> None:
    agreed, codes = read(tmp_path, f"name: Marta\n{YES}  {key}:\n")
    assert agreed.unclear
    assert {Code.DAY_MISSING, Code.AGREEMENT_UNCLEAR} <= codes


@pytest.mark.parametrize(
    "notes",
    [
        "---\nintent: Hum\nwithdrawn: yes\n---\n", "withdrew: 2027-04-12\n",
        "---\nWithdrawal: now\n",
        "\n---\nintent: Hum\nwithdrawn: yes\n---\n", "---\n{intent: Hum, withdrawn: yes}\n---\n",
        "---\nintent: Hum\n  - withdrawn: yes\n---\n",
        "---\nagreed: {page: no}\n---\n", "---\nagreed:\n  page: no\n---\n",
        "---\npage: no\n---\n", "---\nconsent: no\n---\n", "---\npermission: not yet\n---\n",
        "---\nautorisation: non\n---\n",
        "---\n---\nwithdrawn: yes\n---\n", "---\n\n---\nintent: Hum\nwithdrawn: yes\n---\n",
    ],
)  # fmt: skip
def test_a_withdrawal_in_a_lesson_s_notes_counts(tmp_path: Path, notes: str) -> None:
    agreed, codes = read(tmp_path, f"name: Marta\n{YES}", notes)
    assert agreed.unclear
    assert Code.WITHDRAWAL_ELSEWHERE in codes


@pytest.mark.parametrize(
    "notes",
    ['---\nintent: Hum\n"withdrawn" : yes\n---\n', "---\n{intent: Hum, page: no}\n---\n",
     "---\nintent: Hum\nconsent: no\n---\n"],
)  # fmt: skip
def test_nobody_is_told_to_take_out_or_rename_what_may_be_a_no(tmp_path: Path, notes: str) -> None:
    read(tmp_path, f"name: Marta\n{YES}", notes)
    surveyed = survey(tmp_path).value
    assert surveyed is not None
    folder = folder_of(surveyed.root, surveyed.students[0], Coach("Ines"))
    found = {problem.code for problem in folder.problems}
    assert not any(problem.offers for problem in folder.problems)
    assert Code.WITHDRAWAL_ELSEWHERE in found
    assert not found & {Code.KEY_UNKNOWN, Code.KEY_MISSPELT}


@pytest.mark.parametrize("line", ["permission: no", "agreement: none", "not allowed: page"])
def test_a_no_beside_agreed_is_a_no(tmp_path: Path, line: str) -> None:
    agreed, codes = read(tmp_path, f"name: Marta\n{line}\n{YES}")
    assert agreed.unclear
    assert Code.WITHDRAWAL_ELSEWHERE in codes


def test_agreed_in_another_language_is_told_as_that_alone(tmp_path: Path) -> None:
    _, codes = read(tmp_path, "name: Marta\naccord: {page: oui, cases: oui}\n")
    assert Code.WITHDRAWAL_ELSEWHERE not in codes


def test_a_plain_yes_beside_agreed_is_no_withdrawal(tmp_path: Path) -> None:
    agreed, codes = read(
        tmp_path, f"name: Marta\npermission: yes\n{YES}", "---\nconsent: yes\n---\n"
    )
    assert not agreed.unclear
    assert Code.WITHDRAWAL_ELSEWHERE not in codes


def test_the_coach_s_words_below_the_keys_take_nothing_back(tmp_path: Path) -> None:
    agreed, codes = read(tmp_path, f"name: Marta\n{YES}", "---\nintent: Hum\n---\nstop: here\n")
    assert not agreed.unclear
    assert codes == set()


@pytest.mark.parametrize(
    "age",
    [
        "age band: junoir",
        "age band: 15",
        "age: 9",
        "agebnad: junior",
        "birthday: 2012",
        "minor: yes",
    ],
)  # fmt: skip
def test_an_age_nobody_can_tell_counts_as_a_child_s(tmp_path: Path, age: str) -> None:
    agreed, codes = read(tmp_path, f"name: Marta\n{age}\n{YES}")
    assert agreed.unclear
    assert Code.AGE_UNCLEAR in codes
    agreed, codes = read(tmp_path, f"name: Marta\nguardian: Ada\n{age}\n{YES}")
    assert not agreed.unclear
    assert Code.AGE_UNCLEAR not in codes


@pytest.mark.parametrize("age", ["", "age band:\n", "age band: adult\n", "age band: senior\n"])
def test_a_known_or_unspoken_age_is_no_doubt(tmp_path: Path, age: str) -> None:
    agreed, _ = read(tmp_path, f"name: Marta\n{age}{YES}")
    assert agreed == Agreed(page=True, cases=True)


def test_no_club_and_no_key_of_ours_reads_as_a_withdrawal(tmp_path: Path) -> None:
    clubs = "".join(f"  {club}: 20 deg\n" for club in CLUBS)
    known = "hand: right\nage band: adult\nfirst year: no\nlanguage: de\nasked: 2027-01-01\n"
    agreed, codes = read(tmp_path, f"name: Marta\n{known}clubs:\n{clubs}{YES}")
    assert not agreed.unclear
    assert Code.WITHDRAWAL_ELSEWHERE not in codes


@pytest.mark.parametrize(
    ("one", "other"),
    [("José", "Jose\u0301"), ("Marta", "marta"), ("Åsa", "A\u030asa"), ("Straße", "STRASSE")],
)
def test_names_that_are_one_on_some_computer_hold_both_back(
    tmp_path: Path, one: str, other: str
) -> None:
    for name in (one, other):
        (tmp_path / name / "2027-04-11").mkdir(parents=True)
        (tmp_path / name / "2027-04-11" / "notes.md").write_text("", "utf-8")
    surveyed = survey(tmp_path).value
    assert surveyed is not None
    assert [[problem.code for problem in student.problems] for student in surveyed.students] == [
        [Code.STUDENT_TWICE]
    ] * 2


@pytest.mark.parametrize(
    ("yes", "no"),
    [
        ("yes", "no"), ("Ja", "Nein"), ("oui", "non"), ("sí", "no"), ("si\u0301", "NO"),
        ("はい", "いいえ"), ("예", "아니요"), ("네", "아니오"),
    ],
)  # fmt: skip
def test_yes_and_no_in_the_languages_of_the_pages(tmp_path: Path, yes: str, no: str) -> None:
    text = f"name: Marta\nagreed: {{page: {yes}, cases: {yes}, clips: {no}, body: {no}}}\n"
    agreed, codes = read(tmp_path, text)
    assert codes == set()
    assert agreed == Agreed(page=True, cases=True)


@pytest.mark.parametrize(
    "word", ["jein", "ja nein", "pas encore", "たぶん", "ne", "j", "noch nicht"]
)
def test_any_other_word_agrees_to_nothing(tmp_path: Path, word: str) -> None:
    agreed, codes = read(tmp_path, f"name: Marta\nagreed: {{page: yes, cases: {word}}}\n")
    assert agreed.unclear
    assert {Code.NOT_YES_NO, Code.AGREEMENT_UNCLEAR} <= codes
