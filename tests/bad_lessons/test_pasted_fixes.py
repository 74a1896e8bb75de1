"""Every line that is offered, pasted literally, mends its problem and spoils nothing."""

import shutil
from collections import Counter
from collections.abc import Iterable
from pathlib import Path

import pytest
import yaml

from recapgen.intake.pasting import with_fixes
from recapgen.model.fix import Edit, Fix, Sureness, mended
from recapgen.model.problem import Code, Problem
from tests.bad_lessons.test_bad_lessons import CASES, HERE, problems_in
from tests.bad_lessons.what_is_read import Truth, contradicted

PASTED = yaml.safe_load((HERE / "pasted.yml").read_text("utf-8"))
UNCOVERS: dict[str, list[str]] = PASTED["uncovers"]
TRUTH: dict[str, Truth] = PASTED["truth"]
FILMED = yaml.safe_load((HERE / "filmed.yml").read_text("utf-8"))


def told_in(lessons: Path) -> tuple[Problem, ...]:
    return with_fixes(lessons, problems_in(lessons))


def paste(lessons: Path, fixes: Iterable[Fix]) -> None:
    """The lines into the files, as a coach with an editor would."""
    edits: dict[str, list[Edit]] = {}
    for fix in fixes:
        for edit in fix.edits:
            edits.setdefault(edit.file, []).append(edit)
    for file, here in edits.items():
        path = lessons / file
        text = path.read_text("utf-8-sig") if path.is_file() else ""
        path.write_text(mended(text, here), "utf-8", newline="")


def test_every_truth_is_of_a_case() -> None:
    assert set(TRUTH) <= set(CASES)
    assert set(UNCOVERS) <= {*CASES, *FILMED}


def test_every_code_offers_lines_or_says_why_it_has_none() -> None:
    met = {
        (problem.code.slug, bool(problem.fixes))
        for case in CASES
        for problem in told_in(HERE / "cases" / case)
    }
    offered = {slug for slug, with_lines in met if with_lines}
    without = [slug for slugs in PASTED["without_lines"].values() for slug in slugs]
    assert len(without) == len(set(without))
    assert not offered & set(without)
    told = {*offered, *without, *PASTED["tried_elsewhere"]}
    unsettled = {code.slug for code in Code} ^ told
    assert not unsettled, ", ".join(sorted(unsettled))


def kinds(problems: Iterable[Problem]) -> Counter[tuple[str, str]]:
    return Counter((problem.code.slug, problem.where.file) for problem in problems)


@pytest.mark.parametrize("case", CASES)
def test_each_fix_mends_its_problem(case: str, tmp_path: Path) -> None:
    before = told_in(HERE / "cases" / case)
    for n, problem in enumerate(before):
        untrue: list[list[str]] = []
        for m, fix in enumerate(problem.fixes):
            copy = tmp_path / f"{n}-{m}"
            shutil.copytree(HERE / "cases" / case, copy)
            paste(copy, [fix])
            after = told_in(copy)
            gone = kinds(before) - kinds(after)
            assert gone[problem.code.slug, problem.where.file] >= 1, fix
            new = {slug for slug, _ in kinds(after) - kinds(before)}
            assert new <= set(UNCOVERS.get(case, ())), fix
            untrue.append(contradicted(copy, TRUTH.get(case, {})))
            assert fix.sureness is Sureness.ONE_OF_SEVERAL or not untrue[-1], fix
        assert not untrue or [] in untrue, problem.fixes


def test_the_first_answers_of_all_problems_at_once(tmp_path: Path) -> None:
    """As a coach pastes them who does not build in between."""
    tried = 0
    for case in CASES:
        before = told_in(HERE / "cases" / case)
        firsts = [problem.fixes[0] for problem in before if problem.fixes]
        copy = tmp_path / case
        if len(firsts) < 2 or _overlap(firsts):
            continue
        tried += 1
        shutil.copytree(HERE / "cases" / case, copy)
        paste(copy, firsts)
        after = kinds(told_in(copy))
        new = {slug for slug, _ in after - kinds(before)}
        assert new <= set(UNCOVERS.get(case, ())), case
        assert not any(after[problem.code.slug, problem.where.file] for problem in before
                       if problem.fixes), case  # fmt: skip
    assert tried >= 5


def _overlap(fixes: Iterable[Fix]) -> bool:
    """Whether two replace the same line, so that nobody could paste both."""
    lines = Counter(
        (edit.file, line)
        for fix in fixes
        for edit in fix.edits
        for line in range(edit.first_line, edit.last_line + 1)
    )
    return any(times > 1 for times in lines.values())


@pytest.mark.parametrize("case", CASES)
def test_all_that_is_certain_at_once(case: str, tmp_path: Path) -> None:
    before = told_in(HERE / "cases" / case)
    sure = [p for p in before if any(f.sureness is Sureness.CERTAIN for f in p.fixes)]
    if not sure:
        return
    copy = tmp_path / "copy"
    shutil.copytree(HERE / "cases" / case, copy)
    paste(copy, [f for p in sure for f in p.fixes if f.sureness is Sureness.CERTAIN])
    assert not contradicted(copy, TRUTH.get(case, {}))
    left = kinds(told_in(copy))
    assert not left - (kinds(before) - kinds(sure))
