"""Offers become lines that can be pasted, with the coach's own words around them as they were."""

from pathlib import Path

import pytest

from recapgen.intake.pasting import with_fixes
from recapgen.intake.settings import read_coach
from recapgen.model.fix import (
    Change,
    Cut,
    Edit,
    Put,
    Sureness,
    Swap,
    Value,
    certain,
    mended,
    one_of,
)
from recapgen.model.problem import Code, Problem
from recapgen.model.source import SourceRef

COACH = """\
coach: Ines
# which columns
columns:
  Dist: carry   # as the device says
units: {speed: mph}

"""


def after(root: Path, text: str | None, *changes: Change) -> str | None:
    """The file after the one fix that comes of ``changes``; None where none does."""
    file = changes[0].file if isinstance(changes[0], Edit) else changes[0].where.file
    if text is not None:
        (root / file).parent.mkdir(parents=True, exist_ok=True)
        (root / file).write_text(text, "utf-8")
    offered = Problem(Code.KEY_UNKNOWN, SourceRef(file), offers=one_of([changes]))
    (problem,) = with_fixes(root, [offered])
    assert not problem.offers
    if not problem.fixes:
        return None
    (fix,) = problem.fixes
    assert fix.sureness is Sureness.ONE_OF_SEVERAL
    return mended(text or "", fix.edits)


def put(keys: str, value: Value, file: str = "coach.yml") -> Put:
    return Put(SourceRef(file), tuple(keys.split("/")), value)


@pytest.mark.parametrize(
    ("change", "line", "becomes"),
    [
        (put("columns/Side", {"is": "carry side", "plus": "left"}),
         "units: {speed: mph}", "  Side: {is: carry side, plus: left}\nunits: {speed: mph}"),
        (put("columns/Dist", {"is": "total", "unit": "m"}),
         "  Dist: carry ", "  Dist: {is: total, unit: m} "),
        (put("units/length", "yd"), "{speed: mph}", "{speed: mph, length: yd}"),
        (put("place/name", "Range: the far end"),
         "mph}\n", 'mph}\nplace:\n  name: "Range: the far end"\n'),
        (put("accuracy", {}), "mph}\n", "mph}\naccuracy: {}\n"),
        (put("columns", ("a", {"b": "c"})), "columns:\n  Dist: carry ", "columns: [a, {b: c}] "),
        (Swap(SourceRef("coach.yml", 4, 3), "Dist", "Distance: all"),
         "  Dist:", '  "Distance: all":'),
        (Swap(SourceRef("coach.yml", 5, 16), "mph", "m/s"), "speed: mph", "speed: m/s"),
        (Cut(SourceRef("coach.yml", 1, 1)), "coach: Ines\n", ""),
        (Edit("coach.yml", 2, 2, ()), "# which columns\n", ""),
    ],
)  # fmt: skip
def test_what_is_changed_and_what_stays(
    tmp_path: Path, change: Change, line: str, becomes: str
) -> None:
    assert COACH.count(line) == 1
    assert after(tmp_path, COACH, change) == COACH.replace(line, becomes)


def test_a_word_inside_a_value_and_two_changes_of_one_line(tmp_path: Path) -> None:
    text = "---\nkind: speed, gripp\nwant: 44 to 38\n---\nMore: words\n"
    kinds = Swap(SourceRef("n/notes.md", 2, 14), "gripp", "grip")
    want = Swap(SourceRef("n/notes.md", 3, 7), "44 to 38", "38 to 44 m")
    first = Swap(SourceRef("n/notes.md", 2, 7), "speed", "posture")
    made = after(tmp_path, text, kinds, want, first)
    assert made == "---\nkind: posture, grip\nwant: 38 to 44 m\n---\nMore: words\n"


@pytest.mark.parametrize(
    ("text", "made"),
    [
        ("---\nintent: Hum\n---\nWell.\n", "---\nintent: Hum\nclub: 7 iron\n---\nWell.\n"),
        ("---\n---\n", "---\nclub: 7 iron\n---\n"),
        ("Well done.\n", "---\nclub: 7 iron\n---\nWell done.\n"),
        ("", "---\nclub: 7 iron\n---\n"),
        (None, "---\nclub: 7 iron\n---\n"),
    ],
)  # fmt: skip
def test_a_key_that_is_new_in_the_notes(tmp_path: Path, text: str | None, made: str) -> None:
    (tmp_path / "n").mkdir()
    assert after(tmp_path, text, put("club", "7 iron", "n/notes.md")) == made


def test_a_missing_file_is_made_with_what_it_needs(tmp_path: Path) -> None:
    (tmp_path / "no: 7").mkdir()
    made = after(tmp_path, None, put("hand", "left", "no: 7/student.yml"))
    assert made == 'name: "no: 7"\nhand: left\n'
    made = after(tmp_path, None, put("columns/D", "carry"), put("columns/E", "total"))
    assert made == 'coach: ""\ncolumns:\n  D: carry\n  E: total\n'
    assert after(tmp_path, None, put("hand", "left", "nobody/student.yml")) is None


def test_an_item_of_a_list(tmp_path: Path) -> None:
    text = "---\nclips:\n  - a.mov\n  - {file: b.mov}\n  - file: c.mov\n    view: face on\n---\n"
    at = [SourceRef("notes.md", 3, 5), SourceRef("notes.md", 4, 5), SourceRef("notes.md", 5, 5)]
    made = after(tmp_path, text, *(Put(place, ("impact",), "1.20") for place in at))
    assert made == (
        "---\nclips:\n  - {file: a.mov, impact: 1.20}\n  - {file: b.mov, impact: 1.20}\n"
        "  - file: c.mov\n    view: face on\n    impact: 1.20\n---\n"
    )
    made = after(tmp_path, text, Cut(at[0]), Cut(at[2]))
    assert made == "---\nclips:\n  - {file: b.mov}\n---\n"


@pytest.mark.parametrize(
    "change",
    [
        Swap(SourceRef("coach.yml", 4, 3), "Distance", "Dist"),
        Swap(SourceRef("coach.yml", 40, 3), "Dist", "Distance"),
        Cut(SourceRef("coach.yml", 2, 1)),
        put("coach/name", "Ines"),
    ],
)
def test_what_fits_no_line_is_not_offered(tmp_path: Path, change: Change) -> None:
    assert after(tmp_path, COACH, change) is None


def test_lines_after_which_the_file_cannot_be_read_are_not_offered(tmp_path: Path) -> None:
    assert after(tmp_path, COACH, Edit("coach.yml", 1, 1, ("coach: a: b",))) is None


def test_a_file_that_is_called_otherwise(tmp_path: Path) -> None:
    (tmp_path / "Coach.yaml").write_text("coach: Ines", "utf-8")
    offered = Problem(Code.KEY_UNKNOWN, SourceRef(""), offers=one_of([put("language", "de")]))
    (problem,) = with_fixes(tmp_path, [offered])
    (edit,) = problem.fixes[0].edits
    assert edit == Edit("Coach.yaml", 2, 1, ("language: de",))


def asked(line: str, answers: str, *words: str) -> list[Problem]:
    """One question for each of ``words`` in the first line of student.yml."""
    places = [(word, SourceRef("student.yml", 1, line.index(word) + 1)) for word in words]
    offers = {word: one_of(Swap(at, word, each) for each in answers) for word, at in places}
    return [Problem(Code.WORD_UNKNOWN, at, offers=offers[word]) for word, at in places]


def test_two_questions_of_one_line_are_answered_in_one(tmp_path: Path) -> None:
    line = "agreed: {page: perhaps, clips: later}\n"
    (tmp_path / "student.yml").write_text(line, "utf-8")
    first, second = with_fixes(tmp_path, asked(line, "yn", "perhaps", "later"))
    made = [mended(line, fix.edits) for fix in first.fixes]
    both = [line.replace("perhaps", one).replace("later", two) for one in "yn" for two in "yn"]
    assert made == both
    assert not second.fixes


def test_too_many_answers_for_one_line_are_asked_one_after_another(tmp_path: Path) -> None:
    line = "a: {b: c9, d: e9}\n"
    (tmp_path / "student.yml").write_text(line, "utf-8")
    first, second = with_fixes(tmp_path, asked(line, "uvw", "c9", "e9"))
    assert (len(first.fixes), len(second.fixes)) == (3, 0)


@pytest.mark.parametrize("keys", [("D", "E"), ("D", "D")])
def test_two_fixes_that_each_begin_a_missing_file_are_pasted_both(
    tmp_path: Path, keys: tuple[str, str]
) -> None:
    told = with_fixes(tmp_path, [
        Problem(Code.KEY_UNKNOWN, SourceRef("x"), offers=one_of([put(f"columns/{key}", "carry")]))
        for key in keys
    ])  # fmt: skip
    edits = [edit for problem in told for edit in problem.fixes[0].edits]
    (tmp_path / "coach.yml").write_text(mended("", edits), "utf-8")
    coach, problems = read_coach(tmp_path)
    assert problems == ()
    assert coach is not None
    assert sorted(rule.heading for rule in coach.columns) == sorted(set(keys))


def test_what_is_certain_of_a_line_goes_with_its_answers_alone(tmp_path: Path) -> None:
    """Pasted after an answer, the certain line by itself would take the answer back."""
    line = "Wunsch: sideways\n"
    (tmp_path / "student.yml").write_text(line, "utf-8")
    where = SourceRef("student.yml", 1, 1)
    sure = Problem(Code.KEY_FOREIGN, where, offers=certain(Swap(where, "Wunsch", "want")))
    told, answered = with_fixes(tmp_path, [sure, *asked(line, "uv", "sideways")])
    assert not told.fixes
    assert [mended(line, fix.edits) for fix in answered.fixes] == ["want: u\n", "want: v\n"]
