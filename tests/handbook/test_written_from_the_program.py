"""The chapters on problems and numbers come from the program; ``--golden-update`` writes them."""

import re
from functools import cache
from pathlib import Path

import pytest

from recapgen import handbook
from recapgen.golf.quantity_facts import FACTS
from recapgen.intake.pasting import with_fixes
from recapgen.model.problem import Code, Cost, Problem
from recapgen.model.quantity import Dimension, Quantity
from recapgen.words.catalogue import words
from recapgen.words.problems import ProblemText, tell
from tests.bad_lessons.test_bad_lessons import CASES, HERE, problems_in

FOLDER = Path(handbook.__file__).parent
EN = words("en")
CHAPTERS = {
    "shots": "Problems: shots files",
    "clips": "Problems: clips, drills and pictures",
    "words": "Problems: coach.yml, student.yml, notes and logs",
    "publishing": "Problems: folders, the secret and what is published",
}
OF_CLIPS = ("clip-", "case-face", "drill-", "mark-", "number-not-followed", "followed-")
OF_PUBLISHING = (
    "address-", "output-", "secret-", "lessons-", "seal", "folder-", "other-student", "private-",
    "outside-", "page-", "film-of", "link-dead", "file-heavy", "strange-", "hidden-as",
    "deleted-", "fault-of", "student-named", "student-renamed", "lesson-renamed",
    "student-folder", "lesson-folder", "lesson-not-here", "one-page", "student-twice",
    "student-copied", "links-", "link-unsure", "lesson-link", "bundle-", "copy-",
    "guardian-named", "slip-", "detail-",
)  # fmt: skip
COSTS = {
    Cost.NOTHING: "Nothing is held back, but it's worth a look.",
    Cost.ROW: "We leave that row out, and show it with the reason.",
    Cost.CLIP: "We don't show that clip.",
    Cost.CASE: "We don't show that case.",
    Cost.STUDENT: "This student's pages stay as they were until you fix it.",
    Cost.RUN: "Nothing is built until you fix it.",
}
COME_DOWN = "This student's page comes down until it's settled: a doubtful yes counts as no."
DOUBT_A_YES = (
    Code.WITHDRAWAL_ELSEWHERE, Code.AGREEMENT_UNCLEAR, Code.AGE_UNCLEAR, Code.STUDENT_TWICE,
    Code.JUNIOR_WITHOUT_GUARDIAN, Code.BORN_AGAINST_BAND, Code.BORN_NOT_A_YEAR,
    Code.ANSWER_WITHOUT_DAY, Code.ANSWERS_OF_ONE_DAY, Code.CASE_WORDS_AND_CLIPS,
)  # fmt: skip
NOT_PUBLISHED = "Nothing of this folder is published until it's settled."
NOT_KNOWN_WHOSE = (Code.LINK_UNSURE, Code.STUDENT_COPIED)
UNITS = {
    Dimension.SPEED: "mph, km/h or m/s",
    Dimension.LENGTH: "yd, m or ft",
    Dimension.ANGLE: "degrees",
    Dimension.SPIN: "rpm",
    Dimension.RATIO: "no unit",
    Dimension.WIDTHS: "widths of the patch you frame",
    Dimension.OUTCOME: "in or out",
}
SIDES = {
    Quantity.CLUB_PATH: "plus is to the right",
    Quantity.FACE_ANGLE: "plus points to the right",
    Quantity.ATTACK_ANGLE: "plus is upwards, minus is downwards",
    Quantity.TRAVEL_ACROSS: "plus is to the right in the picture",
    Quantity.TRAVEL_UP: "plus is upwards in the picture",
    Quantity.PACE: "plus is past the hole, minus is short of it",
}


def chapter_of(code: Code) -> str:
    if code.slug.startswith(OF_CLIPS):
        return "clips"
    if code.slug.startswith("shots-"):
        return "shots"
    return "publishing" if code.slug.startswith(OF_PUBLISHING) else "words"


@cache
def examples() -> dict[Code, Problem]:
    """For each code the first problem that the made-up folders bring, with its lines to paste."""
    found: dict[Code, Problem] = {}
    for case in CASES:
        lessons = HERE / "cases" / case
        for problem in with_fixes(lessons, problems_in(lessons)):
            found.setdefault(problem.code, problem)
    return found


def section(code: Code) -> str:
    example = examples().get(code)
    told = tell(example, EN) if example is not None else in_general(code)
    costs = COME_DOWN if code in DOUBT_A_YES else COSTS[code.cost]
    parts = [f"## {code.slug}", NOT_PUBLISHED if code in NOT_KNOWN_WHOSE else costs]
    if example is not None:
        parts.append(f"For example, at `{example.where}`:")
    parts.append(f"**Found:** {plain(told.found)}")
    parts.append(f"**Expected:** {plain(told.expected)}")
    parts.append(f"**Fix:** {plain(told.fix)}")
    for at, paste in enumerate(told.pastes):
        lines = [line for part in paste for line in (part.place, *(f"  {x}" for x in part.lines))]
        parts.append("Or:" if at else "Lines to paste:")
        parts.append("\n".join(f"    {line}" for line in lines))
    return "\n\n".join(parts)


def in_general(code: Code) -> ProblemText:
    found, expected, fix = (
        re.sub(r"\{[^}]*\}", "…", EN.forms(f"problem.{code.slug}.{part}")[0])
        for part in ("found", "expected", "fix")
    )
    return ProblemText(found, expected, fix)


def plain(text: str) -> str:
    """A sentence as markdown shows it: signs with a meaning there stand for themselves."""
    return re.sub(r"([\\`*_\[\]<>])", r"\\\1", text).replace("\n", " ")


@pytest.mark.parametrize("chapter", CHAPTERS)
def test_every_problem_is_explained_as_the_program_tells_it(
    chapter: str, request: pytest.FixtureRequest
) -> None:
    here = sorted((c for c in Code if chapter_of(c) == chapter), key=lambda c: c.slug)
    text = "\n\n".join((f"# {CHAPTERS[chapter]}", INTRO, *map(section, here))) + "\n"
    _held(f"problems_{chapter}.md", text, request)


def test_nearly_every_problem_has_a_true_example() -> None:
    assert len(examples()) >= 150


def test_every_number_stands_in_its_table(request: pytest.FixtureRequest) -> None:
    rows = [f"| `{q}` | {UNITS[q.dimension]} | {sides(q)} | {also(q)} |" for q in Quantity]
    table = "\n".join(("| number | unit | sides | also read as |", "|---|---|---|---|", *rows))
    _held("numbers.md", f"{NUMBERS}\n\n{table}\n", request)


def sides(quantity: Quantity) -> str:
    if quantity in SIDES:
        return SIDES[quantity]
    if quantity.mirrored:
        return "plus is to the right of the target, for either hand"
    return ""


def also(quantity: Quantity) -> str:
    return ", ".join(FACTS[quantity].synonyms[:5]) if quantity in FACTS else "read from clips only"


def _held(name: str, text: str, request: pytest.FixtureRequest) -> None:
    kept = FOLDER / name
    if request.config.getoption("--golden-update"):
        kept.write_text(text, encoding="utf-8")
    assert kept.read_text(encoding="utf-8") == text


INTRO = """\
Every problem says where it is (file:line:column), what we found, what we expected and how to fix
it. If there are lines below it, paste them as they are. If there's more than one answer, only you
know which is true. `recapgen explain CODE` shows the same in a terminal."""

NUMBERS = """\
# Every number you can choose

Write one of these as `number:` in notes.md, and say where you want it to go:

```yaml
number: carry
want: 128 to 136 m
matters: 2 m
```

`matters` is the smallest change worth having. The number needs a column in the shots file, or two
columns to work it out from (face angle minus club path, ball speed over club speed).
`travel across` and `travel up` come from your clips. Those below them you count or pace off
yourself, see [Without a device](notes.html)."""
