"""A sceptic works the verdict out again from the file beside the page, with nothing of ours."""

import json
from collections.abc import Callable
from itertools import product
from math import comb
from pathlib import Path
from statistics import median

import pytest

from tests.end_to_end.small_lessons import Ran, sites


def _rank(n: int, m: int, one_in: int) -> int:
    """Largest k with P(U <= k - 1) <= 1 / one_in, by counting every mixing of the two blocks."""
    counts = {(0, 0): {0: 1}}
    for i, j in product(range(n + 1), range(m + 1)):
        if (i, j) == (0, 0):
            continue
        here: dict[int, int] = {}
        for before, add in (((i - 1, j), j), ((i, j - 1), 0)):
            for u, ways in counts.get(before, {}).items():
                here[u + add] = here.get(u + add, 0) + ways
        counts[i, j] = here
    so_far, k = 0, 0
    while one_in * (so_far + counts[n, m].get(k, 0)) <= comb(n + m, n):
        so_far += counts[n, m].get(k, 0)
        k += 1
    return k


@pytest.mark.parametrize("level", [90, 80])
def test_the_range_follows_from_the_printed_shots(
    build: Callable[..., Ran], out: Path, level: int
) -> None:
    assert build().code == 0
    site = sites(out)["Brida"]
    (path,) = site.glob("2027-04-11-*.json")
    (page,) = site.glob("2027-04-11-*.html")
    told = json.loads(path.read_text("utf-8"))
    number, workings = told["number"], told["workings"]
    low, high = number["want"]["low"], number["want"]["high"]
    before, after = (
        [-abs(value - (low + high) / 2) for value in number[block]["values"]]
        for block in ("before", "after")
    )
    differences = sorted(now - then for then, now in product(before, after))
    rank = _rank(len(before), len(after), {90: 20, 80: 10}[level])
    assert (workings["pairs"], workings[f"rank{level}"]) == (len(differences), rank)
    middle = median(differences)
    ends = [
        middle + workings["widened_by"] * (end - middle)
        for end in (differences[rank - 1], differences[-rank])
    ]
    good = number["good_shift"]
    assert good["estimate"] == pytest.approx(middle, abs=1e-4)
    assert [good[f"low{level}"], good[f"high{level}"]] == pytest.approx(ends, abs=1e-4)
    assert workings["order"]["before"] == list(range(1, len(before) + 1))
    text = page.read_text("utf-8")
    assert f'href="{path.name}"' in text
    if level == 90:
        held = middle + workings["held_at"] * (differences[rank - 1] - middle)
        assert workings["held_at"] == (1.4 if min(len(before), len(after)) <= 7 else 1.3)
        assert (told["verdict"] == "changed") == (held > 0)
        assert f"make it {round(100 * (workings['held_at'] - 1))}% wider" in text
        assert f"from number {rank} in that list to number {len(differences) + 1 - rank}" in text
    assert all(
        str(shot) in text for block in ("before", "after") for shot in number[block]["shots"]
    )
