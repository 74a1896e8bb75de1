"""A coach's folders, moved about between builds, and the links that are up afterwards."""

from datetime import date
from pathlib import Path

from recapgen.app.building import Options, build
from recapgen.console import Console, Outcome
from recapgen.model.problem import Code
from recapgen.words.catalogue import words
from tests.end_to_end.small_lessons import sites

DAY = date(2027, 6, 1)


class Desk:
    """A coach's folder, built once, and what is up afterwards."""

    def __init__(self, folder: Path) -> None:
        self.lessons, self.out = folder / "lessons", folder / "out"

    def build(self, day: date = DAY) -> Outcome:
        outcome = build(self.lessons, Options(out=self.out, today=day), Console(words("en")))
        assert outcome.fault_report is None, outcome.fault_report.read_text("utf-8")
        return outcome

    def links(self) -> dict[str, str]:
        """Each student's folder in site/, by the shown name."""
        return {name: folder.name for name, folder in sites(self.out).items()}

    def pages(self, name: str) -> set[str]:
        folder = self.out / "site" / self.links()[name]
        return {page.name for page in folder.glob("2027-*.html")}

    def edit(self, file: str, old: str, new: str) -> None:
        text = (self.lessons / file).read_text("utf-8")
        assert old in text
        (self.lessons / file).write_text(text.replace(old, new, 1), "utf-8")


def codes(outcome: Outcome) -> list[Code]:
    return [problem.code for problem in outcome.problems]


def swap(one: Path, other: Path) -> None:
    beside = one.with_name("_beside")
    one.rename(beside)
    other.rename(one)
    beside.rename(other)
