"""Any text in any place of the coach's files: values or problems, each at a place in its file."""

from collections.abc import Iterable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from recapgen.intake.folder import survey
from recapgen.intake.reading import StudentFolder
from recapgen.intake.settings import read_coach
from recapgen.model.people import Coach
from recapgen.model.problem import Problem
from recapgen.model.source import SourceRef
from recapgen.words.catalogue import words
from recapgen.words.problems import tell
from tests.whole_folder import folder_of

COACH = """\
coach: Ines Falk
contact: lessons@example.org
accent: "#9c4221"
units: {speed: mph, length: m, temperature: C}
place: {name: Harbour range, altitude: 90 m, emergency number: 112}
published at: https://example.org/lessons
columns:
  Ball Spd: {is: ball speed, unit: mph, plus: left}
  Notes: ignore
accuracy: {club path: 1 deg}
"""
STUDENT = """\
name: Marta
hand: left
age band: senior
first year: no
units: {speed: km/h, length: m}
clubs: {driver: 10.5 deg, 7 iron: 31 deg}
body: [lower back, left wrist]
health: [osteoporosis]
agreed:
  page: yes
  since: 2027-01-03
  until: 3 January 2028
guardian: Rosa Lind
"""
NOTES = """\
---
intent: Hum one even note
student says: "it felt lazy"
kind: [short game]
club: sand wedge
number: carry
chosen: before the after-shots
want: 38 to 44 m
matters: 2 m
must not lose: {side spread: 2 m}
shots: {before: 1-6, after: [7-10, 12]}
moved: device, ball
conditions: {surface: mat, wind: 3 m/s from 250 at 2 m, pressure: 1009 hPa station}
clips:
  - {file: a.mov, view: face on, shot: 3, impact: 1.84}
practice:
  balls: 40
  steps:
    - {do: Slowly, times: 10}
    - Half swings
case: {name: starts-right, title: The driver, story: Once.}
see also: [starts-right]
left out: {4: phone rang}
mishits: {9: thin}
---
Well done.
"""
SEAL = """\
{
  "number": "carry",
  "want": "38 to 44 m",
  "must not lose": null,
  "planned": {"before": 10, "after": 12},
  "sealed at": "2027-04-11T10:12:00+02:00"
}
"""
LOG = """\
date;balls;minutes;effort;pain;where
2027-04-01;60;45;6;no;
3 April 2027;80;;7,5;yes;"lower; back"
"""
FILES = {
    "coach.yml": COACH,
    "Marta/student.yml": STUDENT,
    "Marta/2027-04-11/notes.md": NOTES,
    "Marta/2027-04-11/seal.json": SEAL,
    "Marta/practice.csv": LOG,
}
SIGNS = st.text(
    alphabet=st.sampled_from("ab:# -\n\t\"'[]{},?&*!|>%@0123456789./éyYnN;"), max_size=25
)
ANY_TEXT = st.one_of(SIGNS, st.text(alphabet=st.characters(exclude_categories=["Cs"]), max_size=25))
WRITTEN = st.sampled_from(
    [
        *("-1", "0", "1e9", "12-3", "9-9999999", "yes", "~", "٣", "²", "½", "1,5 m", "1" * 40),
        *("left 2", "to", "2 to", "to 2", "#", "#1", "{", "[]", "{}", "{a: b}", "[a, [b]]", "'"),
        *("99/99/9999", "0000-00-00", "nan", "inf", "from at", "calm", "x" * 400, "../x.mov"),
        *("</script>", "{found}", "%s", "\u200b"),
    ]
)


@st.composite
def spoilt_folders(draw: st.DrawFn) -> dict[str, str]:
    """The sound files, with text put in place of a piece of one or two of them."""
    files = dict(FILES)
    for _ in range(draw(st.integers(1, 2))):
        name = draw(st.sampled_from(sorted(files)))
        text = files[name]
        start = draw(st.integers(0, len(text)))
        end = draw(
            st.integers(start, min(len(text), start + draw(st.sampled_from([0, 5, 30, 2000]))))
        )
        files[name] = text[:start] + draw(st.one_of(ANY_TEXT, WRITTEN)) + text[end:]
    return files


@st.composite
def spoilt_values(draw: st.DrawFn) -> dict[str, str]:
    """The sound files, with one key or value replaced whole."""
    files = dict(FILES)
    name = draw(st.sampled_from(sorted(files)))
    lines = files[name].split("\n")
    number = draw(st.integers(0, len(lines) - 1))
    key, colon, value = lines[number].partition(":")
    new = draw(st.one_of(ANY_TEXT, WRITTEN))
    lines[number] = f"{key}: {new}" if draw(st.booleans()) else f"{new}{colon}{value}"
    files[name] = "\n".join(lines)
    return files


def read_all(root: Path, files: dict[str, str]) -> tuple[StudentFolder, list[Problem]]:
    for name, text in files.items():
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(text.encode())
    surveyed, problems = survey(root)
    assert surveyed is not None
    coach, found = read_coach(root)
    folder = folder_of(root, surveyed.students[0], coach or Coach(name=""))
    return folder, [*problems, *found, *folder.problems]


def places(folder: StudentFolder) -> Iterable[SourceRef]:
    yield folder.student.where
    for entry in folder.log.entries:
        yield entry.where
    for lesson in folder.lessons:
        notes = lesson.notes
        yield notes.where
        for some in (notes.spans, notes.left_out, notes.mishits, notes.see_also, lesson.clips):
            yield from (one.where for one in some)
        yield from (clip.impact_where for clip in lesson.clips)
        for one in (notes.declaration, notes.case, lesson.seal):
            if one is not None:
                yield one.where


def assert_sound(root: Path, files: dict[str, str]) -> None:
    folder, problems = read_all(root, files)
    for problem in problems:
        told = tell(problem, words("en"))
        assert told.found
        assert told.expected
        assert told.fix
    for where in (*(p.where for p in problems), *places(folder)):
        if where.line is None:
            continue
        text = files[where.file].replace("\r\n", "\n").replace("\r", "\n")
        lines = text.removeprefix("\ufeff").split("\n")
        assert 1 <= where.line <= len(lines)
        assert 1 <= (where.column or 1) <= len(lines[where.line - 1]) + 1


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("lessons")
    (root / "Marta/2027-04-11").mkdir(parents=True)
    (root / "Marta/2027-04-11/a.mov").touch()
    return root


def test_the_sound_files_are_sound(root: Path) -> None:
    folder, problems = read_all(root, FILES)
    assert [p.code.slug for p in problems] == ["number-without-shots", "shots-without-file"]
    assert folder.student.name == "Marta"
    assert folder.lessons[0].seal is not None
    assert len(folder.log.entries) == 2


@given(files=spoilt_folders())
@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_any_text_anywhere(root: Path, files: dict[str, str]) -> None:
    assert_sound(root, files)


@given(files=spoilt_values())
@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_any_text_for_a_key_or_a_value(root: Path, files: dict[str, str]) -> None:
    assert_sound(root, files)


@pytest.mark.campaign
@given(files=st.one_of(spoilt_folders(), spoilt_values()))
@settings(max_examples=20_000, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_any_text_at_length(root: Path, files: dict[str, str]) -> None:
    assert_sound(root, files)
