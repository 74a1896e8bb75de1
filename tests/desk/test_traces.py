"""What of a student lies among others' files is told before anything is erased."""

from recapgen.desk.traces import look_among_lessons
from recapgen.model.receipt import ForgetStudent
from recapgen.words.catalogue import words
from recapgen.words.forget_sentences import what_goes
from tests.desk.inbox import SHOTS, TODAY, MakeFolder, by_player, new
from tests.desk.test_new_lessons import JONAS


def test_rows_in_another_students_lesson_are_told_and_left(lessons: MakeFolder) -> None:
    rows = by_player(SHOTS, "Jonas Berg").splitlines()
    rows[1:9] = by_player(SHOTS, "Marta").splitlines()[1:9]
    root = lessons({**JONAS, "inbox/bay.csv": "\n".join(rows) + "\n"})
    new(root)
    hers = root / "Marta/2027-04-18/bay.csv"
    among = look_among_lessons(
        root, "Jonas", ("Jonas Berg",), TODAY, with_originals=True, rest=lambda _: None
    )
    assert among.elsewhere == ("Marta/2027-04-18/bay.csv",)
    question = ForgetStudent("Jonas", among.traces(), elsewhere=among.elsewhere)
    assert any("Marta/2027-04-18/bay.csv" in line for line in what_goes(question, words("en")))
    among.erase()
    assert hers.is_file()
    again = look_among_lessons(
        root, "Jonas", ("Jonas Berg",), TODAY, with_originals=True, rest=lambda _: None
    )
    assert again.elsewhere == among.elsewhere  # though the folder is gone
