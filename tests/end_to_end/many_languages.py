"""One rich student of the samples, told in every language."""

import re
import shutil
from pathlib import Path

from recapgen.words.languages import LANGUAGES
from tests.end_to_end.small_lessons import SAMPLES

COACH_LANGUAGE = "fr"
OWN_WORDS = (
    "Leave your pocket prints on the wall behind you until the ball has gone",
    "sitting on a bar stool that turns with you",
    "as if I had all the time in the world",
    "Ten turns on the wall before you leave the house",
    "Grip and aim were good from the first ball. Leave them alone.",
)
STUDENT = """name: {name}
hand: right
age band: senior
first year: yes
language: {language}
units: {{speed: m/s, length: m}}
clubs: {{driver: 10.5 deg, 7 iron: 32 deg}}
body: [lower back, left wrist]
health: [heart]
agreed: {{page: yes, clips: yes, body: yes, cases: {cases}, case clips: no, since: 2026-10-03}}
"""


def lessons_in_every_language(root: Path) -> None:
    """A folder of the same lessons for a student of each language; French is the coach's own."""
    root.mkdir()
    shutil.copytree(SAMPLES / "drills", root / "drills")
    coach = (SAMPLES / "coach.yml").read_text(encoding="utf-8")
    (root / "coach.yml").write_text(
        coach.replace("language: en", f"language: {COACH_LANGUAGE}"), encoding="utf-8"
    )
    for language in LANGUAGES:
        shutil.copytree(SAMPLES / "mira", root / f"guest {language}")
        (root / f"guest {language}" / "student.yml").write_text(
            STUDENT.format(
                name=f"Mira {language}",
                language=language,
                cases="yes" if language == COACH_LANGUAGE else "no",
            ),
            encoding="utf-8",
        )
        if language != COACH_LANGUAGE:
            _tell_no_case(root / f"guest {language}")


def _tell_no_case(student: Path) -> None:
    for notes in student.glob("*/notes.md"):
        told = notes.read_text(encoding="utf-8")
        notes.write_text(
            re.sub(r"^case:\n( .*\n)+", "", told, flags=re.MULTILINE), encoding="utf-8"
        )


def site_of(built: Path, language: str) -> Path:
    """The folder of that language's student, below ``built``."""
    homes = [
        home
        for home in (built / "site").glob("*/index.html")
        if f'<b dir="auto">Mira {language}</b>' in home.read_text(encoding="utf-8")
    ]
    (home,) = homes
    return home.parent
