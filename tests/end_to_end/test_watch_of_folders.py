"""What else lands while ``recapgen watch`` runs: an inbox, a question, a lock."""

from pathlib import Path

from tests.end_to_end.test_questions import ASKED, KEY, QUESTION
from tests.end_to_end.test_watch import Seen
from tests.end_to_end.test_watch import root as root  # noqa: PLC0414  a fixture
from tests.end_to_end.test_watch import seen as seen  # noqa: PLC0414  a fixture

CSV = "Shot,Club Speed [mph]\n1,80\n"


def test_an_inbox_a_question_and_a_lock_are_watched_as_any_change(seen: Seen, root: Path) -> None:
    ((_, home),) = seen.pages()
    first = seen.news()["build"]
    (root / "inbox").mkdir()
    (root / "inbox" / "session.csv").write_text(CSV, encoding="utf-8")
    seen.until(lambda now: now.news()["build"] != first)
    assert "Brida" in seen.read(home)

    asked = root / "brida-folder" / KEY
    asked.mkdir()
    (asked / "question.md").write_text(QUESTION.replace("2027", "2026"), encoding="utf-8")
    asked.rename(asked.with_name(KEY.replace("2027", "2026")))
    seen.until(lambda now: ASKED in now.read(home))

    student = root / "brida-folder" / "student.yml"
    student.write_text(f"{student.read_text('utf-8')}lock: yes\n", encoding="utf-8")
    seen.until(lambda now: "data-lock" in now.read(home))
    page = seen.read(home)
    assert not [said for said in ("Brida", "wall", ASKED) if said in page]
    assert [list(each) for each in seen.pages()] == [["Brida", home]]
