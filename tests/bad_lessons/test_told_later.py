"""Faults that only show once everybody's lessons are read: consent and cases, and their lines."""

from datetime import date
from pathlib import Path

import pytest

from recapgen.app.building import check
from recapgen.model.problem import Code
from tests.bad_lessons.test_pasted_fixes import kinds, paste

STUDENT, NOTES = "Marta/student.yml", "Marta/2027-04-11/notes.md"
OTHER = "Ann/2027-04-11/notes.md"
CASE = "---\ncase: {name: starts-right, title: The driver}\n---\nWell done.\n"
QUESTION = "Marta/2027-04-11 asked/question.md"
ASKED = "---\nanswered: 2027-04-12\n---\nWhy does it start right?\n---\nCount nine first.\n"
SOUND = {
    "coach.yml": "coach: Ines\npublished at: https://example.org/lessons\n",
    STUDENT: "name: Marta\nagreed: {page: yes, cases: yes}\n",
    NOTES: "---\nintent: Hum\n---\nWell done.\n",
    "Ann/student.yml": "name: Ann\nagreed: {page: yes, cases: yes}\n",
    OTHER: CASE,
}
PAGE_ONLY = "name: Marta\nagreed: {page: yes}\n"


@pytest.mark.parametrize(
    ("code", "changes", "lines"),
    [
        (Code.CASE_NOT_AGREED, {NOTES: CASE.replace("starts", "goes"), STUDENT: PAGE_ONLY},
         [("agreed: {page: yes, cases: yes}",), ("agreed: {page: yes, cases: words}",)]),
        (Code.CASE_NAME_TWICE, {NOTES: CASE},
         [("case: {name: starts-right-2, title: The driver}",)]),
        (Code.CASE_LINK_NEAR, {NOTES: "---\nsee also: [start-right]\n---\n"},
         [("see also: [starts-right]",)]),
        (Code.CASE_LINK_UNKNOWN, {NOTES: "---\nsee also: [whistle, starts-right]\n---\n"},
         [("see also: [starts-right]",)]),
        (Code.CASE_LINK_NOT_AGREED,
         {NOTES: "---\nsee also: [starts-right, b]\n---\n",
          "Ann/student.yml": PAGE_ONLY.replace("Marta", "Ann"),
          "Bo/student.yml": "name: Bo\nagreed: {page: yes, cases: yes}\n",
          "Bo/2027-04-11/notes.md": "---\ncase: {name: b, title: The wedge}\n---\n"},
         [("see also: [b]",)]),
        (Code.PAIN_NOT_AGREED, {QUESTION: ASKED.replace("right", "right, and my wrist hurts")},
         [("agreed: {page: yes, cases: yes, body: yes}",)]),
        (Code.QUESTION_AHEAD, {QUESTION: ASKED.replace("04-12", "04-13")},
         [("answered: 2027-04-12",)]),
        (Code.CONSENT_WITHDRAWN_LATER,
         {STUDENT: "name: Marta\nagreed: {page: yes, withdrawn: 2027-05-01}\n"},
         [("agreed: {page: yes, withdrawn: 2027-04-12}",)]),
        (Code.BORN_AGAINST_BAND,
         {STUDENT: f"{PAGE_ONLY}age band: adult\nborn: 2014\nguardian: Rosa\n"},
         [("age band: junior",)]),
        (Code.CASE_NOT_AGREED,
         {NOTES: CASE.replace("starts", "goes"),
          STUDENT: "name: Marta\nagreed:\n  - {page: yes, since: 2027-02-01}\n"
                   "  - {page: yes, cases: yes, since: 2027-01-01}\n"},
         [("  - {page: yes, since: 2027-02-01, cases: yes}",),
          ("  - {page: yes, since: 2027-02-01, cases: words}",)]),
    ],
)  # fmt: skip
def test_a_line_that_mends_it_is_offered(
    code: Code, changes: dict[str, str], lines: list[tuple[str, ...]], tmp_path: Path
) -> None:
    for file, text in (SOUND | changes).items():
        path = tmp_path / file
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    before = check(tmp_path, date(2027, 4, 12)).problems
    (problem,) = (problem for problem in before if problem.code is code)
    assert [edit.lines for fix in problem.fixes for edit in fix.edits] == lines
    paste(tmp_path, problem.fixes)
    after = kinds(check(tmp_path, date(2027, 4, 12)).problems)
    assert code.slug not in {slug for slug, _ in after}
    new = {slug for slug, _ in after - kinds(before)}
    assert new <= ({"consent-withdrawn"} if code is Code.CONSENT_WITHDRAWN_LATER else set())
