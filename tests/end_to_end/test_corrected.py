"""A page that was changed after it was up says when, and so does the message that sends it."""

from collections.abc import Callable
from pathlib import Path

from tests.end_to_end.small_lessons import Ran, sites, tree

Build = Callable[..., Ran]
BRIDA = "brida-folder/2027-04-11"


def test_a_page_says_when_it_was_corrected_and_never_at_first(
    lessons: Path, build: Build, out: Path
) -> None:
    coach = lessons / "coach.yml"
    coach.write_text(f"{coach.read_text('utf-8')}published at: https://example.org/golf\n", "utf-8")
    notes = lessons / BRIDA / "notes.md"
    first = notes.read_text("utf-8")

    def says(text: str, day: str) -> tuple[bool, bool, bool]:
        """Whether Brida's page, her message and Corvin's page say when they were corrected."""
        notes.write_text(text, "utf-8")
        build("--today", day)
        pages = {name: _pages(site) for name, site in sites(out).items()}
        book = b"".join(tree(out / "coach_book").values()).decode("utf-8", "ignore")
        on = "Corrected on 3 June 2027"
        return (
            on in pages.get("Brida", ""),
            "I&#39;ve corrected" in book,
            "Corrected" in pages["Corvin"],
        )

    held = first.replace("want: 2 left to 2 right", "want: [")
    assert says(held, "2027-06-01") == (False, False, False)
    assert says(first, "2027-06-01") == (False, False, False)
    assert says(first.replace("Keep the wall", "Keep a wall"), "2027-06-01")[0] is False
    assert says(first, "2027-06-01") == (False, False, False)  # the day is not over
    assert says(f"{first}\n", "2027-06-02") == (False, False, False)  # nothing anybody reads
    (lessons / BRIDA / "private.md").write_text("Watch the elbow.\n", "utf-8")
    assert says(first.replace("intent:", "next: in 8 weeks\nintent:"), "2027-06-02")[0] is False
    changed = first.replace("Keep the wall", "Lose the wall")
    assert says(changed, "2027-06-03") == (True, True, False)
    assert says(changed, "2027-06-04") == (True, True, False)
    (lessons / "brida-folder").rename(lessons / "brida h")
    notes = lessons / "brida h/2027-04-11/notes.md"
    assert says(changed, "2027-06-05") == (True, True, False)
    assert says(first, "2027-06-05") == (False, False, False)


def _pages(site: Path) -> str:
    return "".join(page.read_text("utf-8") for page in sorted(site.glob("*.html")))
