"""What a trial of ``recapgen new`` needs: a coach who answers, and one run over an inbox."""

from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path

from recapgen.desk.new_lessons import take_in
from recapgen.model.question import Question
from recapgen.model.taken_in import LeftBecause, TakenIn
from recapgen.words.catalogue import words
from recapgen.words.notes_remarks import remark
from tests.intake.test_first_notes import shots

MakeFolder = Callable[[Mapping[str, str | bytes | None]], Path]
TODAY = date(2027, 4, 18)
SHOTS = shots(8, 9)  # of that day
LESSON = "Marta/2027-04-18"


class Coach:
    """Answers the questions in order, and remembers them."""

    def __init__(self, *answers: str) -> None:
        self.answers = list(answers)
        self.asked: list[Question] = []

    def __call__(self, question: Question) -> str | None:
        self.asked.append(question)
        return self.answers.pop(0) if self.answers else None


def new(
    root: Path, coach: Coach | None = None, student: str | None = None, *, today: date = TODAY
) -> TakenIn:
    taken, problems = take_in(
        root, student, coach or Coach(), lambda said: remark(said, words("en")), today,
        rest=lambda _: None,
    )  # fmt: skip
    assert problems == ()
    assert taken is not None
    return taken


def by_player(csv: str, player: str) -> str:
    head, *rows = csv.strip().split("\n")
    return "\n".join((f"Player,{head}", *(f'"{player}",{row}' for row in rows))) + "\n"


def left(taken: TakenIn) -> dict[str, LeftBecause]:
    return {each.file: each.because for each in taken.left}
