"""Cases worked out independently of the recipe (scipy, statsmodels, by hand).

``evidence_cases.json`` is a copy of the project's reference cases; its load cases belong to
the care room and are not repeated here.
"""

import json
from datetime import date
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from msgspec.structs import replace

from recapgen.choosing.typical import typical_shot
from recapgen.evidence.drift import slope
from recapgen.evidence.retention import retained
from recapgen.evidence.share import share, share_change
from recapgen.evidence.shift import chance_of_such_a_shift
from recapgen.evidence.spread import spread_change
from recapgen.evidence.undeclared_numbers import holm
from recapgen.model.evidence import Interval
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block
from tests.evidence.made_shots import (
    HIGHER,
    LOWER,
    NUMBER,
    one_block,
    sample_of,
    then_and_now,
    window,
)

Case = dict[str, Any]
_CASES: list[Case] = json.loads(
    (Path(__file__).parent / "evidence_cases.json").read_text(encoding="utf-8")
)["cases"]


def cases(kind: str) -> list[Any]:
    return [pytest.param(c, id=c["id"]) for c in _CASES if c["kind"] == kind]


def pair(interval: Interval | None) -> list[float] | None:
    return None if interval is None else [interval.low, interval.high]


@pytest.mark.parametrize("case", cases("shift"))
def test_shift_and_verdict(case: Case) -> None:
    given, expect, within = case["input"], case["expect"], case["tolerance"]["abs"]
    want = window(*given["window"]) if given["window"] else HIGHER
    if given["goal"] == "lower":
        want = LOWER
    told = then_and_now(given["before"], given["after"], want, given["smallest_meaningful_change"])
    assert told.as_read is not None
    assert told.good is not None
    assert told.good.estimate == pytest.approx(expect["shift_good_direction"], abs=within)
    if want is HIGHER:
        for exact in ("ci90", "ci80"):
            if f"{exact}_exact" in expect:
                found = pair(getattr(told.as_read, exact))
                assert found == pytest.approx(expect[f"{exact}_exact"], abs=within)
    if "ci90_widened_1_15" in expect:
        assert pair(told.good.ci90) == pytest.approx(expect["ci90_widened_1_15"], abs=within)
    assert told.verdict.value in expect["verdict_accept"]
    assert told.verdict.value not in expect.get("verdict_must_not", [])
    if "n_before" in expect:
        assert (told.before.n, told.after.n) == (expect["n_before"], expect["n_after"])


@pytest.mark.parametrize(
    "case", [c for c in cases("shift") if "mannwhitney_exact_two_sided_p" in c.values[0]["expect"]]
)
def test_exact_chance(case: Case) -> None:
    before, after = (np.array(case["input"][side]) for side in ("before", "after"))
    if case["input"]["window"]:
        before, after = -np.abs(before), -np.abs(after)
    found = chance_of_such_a_shift(before, after)
    # the cases' own count shares a tied pair between both sides; ours counts it against
    assert found == pytest.approx(
        case["expect"]["mannwhitney_exact_two_sided_p"], rel=0.12, abs=1e-6
    )


def test_trend_of_the_before_block() -> None:
    case = next(c for c in _CASES if c["id"] == "S17_already_drifting")
    before = np.array(case["input"]["before"])
    assert slope(np.arange(10), before) == pytest.approx(case["expect"]["theil_sen_slope_before"])


@pytest.mark.parametrize("case", cases("share"))
def test_shares(case: Case) -> None:
    given, expect = case["input"], case["expect"]
    before = share(given["inside_before"], given["n_before"])
    after = share(given["inside_after"], given["n_after"])
    change = share_change(before, after)
    assert change.difference == pytest.approx(expect["difference"])
    assert pair(change.newcombe90) == pytest.approx(expect["newcombe90"], abs=1e-4)
    assert pair(before.wilson90) == pytest.approx(expect["wilson90_before"], abs=1e-4)
    assert pair(after.wilson90) == pytest.approx(expect["wilson90_after"], abs=1e-4)


@pytest.mark.parametrize("case", cases("spread"))
def test_spread(case: Case) -> None:
    expect = case["expect"]
    before, after = (np.array(case["input"][side]) for side in ("before", "after"))
    change = spread_change(before, after)
    assert change is not None
    assert change.ratio == pytest.approx(expect["mean_abs_dev_ratio"], abs=1e-5)
    assert pair(change.ci95) == pytest.approx(expect["bonett_seier95"], abs=1e-5)
    assert change.before == pytest.approx(expect["mad_before"])
    assert change.after == pytest.approx(expect["mad_after"])
    assert change.finding.value in expect["verdict_accept"]


@pytest.mark.parametrize("case", cases("retention"))
def test_retention(case: Case) -> None:
    given, expect = case["input"], case["expect"]
    first = then_and_now(
        given["before_lesson1"],
        given["after_lesson1"],
        smallest_change=given["smallest_meaningful_change"],
    )
    now = sample_of(given["warmup_baseline_lesson2"])
    kept = retained(first, now, given["day_to_day_sd"], date(2027, 4, 11), date(2027, 4, 18))
    assert kept is not None
    assert kept.gained == pytest.approx(expect["gain_units"], abs=0.005)
    assert kept.still_there == pytest.approx(expect["still_there_units"], abs=0.005)
    assert pair(kept.share80) == (
        None if expect["fieller80"] is None else pytest.approx(expect["fieller80"], abs=0.005)
    )
    assert kept.kept.value in expect["verdict_accept"]


@pytest.mark.parametrize("case", cases("clip"))
def test_typical_clip(case: Case) -> None:
    shots = tuple(
        replace(s, shot=replace(s.shot, readings={NUMBER: first, Quantity.TOTAL: second}))
        for s, (first, second) in zip(
            one_block(Block.AFTER, [0.0] * 8, first=0), case["input"]["shots"], strict=True
        )
    )
    filmed = case["input"]["clip_shot_indexes_zero_based"]
    chosen = typical_shot(shots, Block.AFTER, filmed, (NUMBER, Quantity.TOTAL))
    assert chosen is not None
    assert chosen.shot == case["expect"]["chosen"]
    assert chosen.ranking == (6, 1, 5)
    assert case["expect"]["must_not_choose"] not in chosen.ranking
    assert (chosen.position, chosen.of) == (7, 8)


@pytest.mark.parametrize("case", cases("multiplicity"))
def test_many_numbers(case: Case) -> None:
    adjusted = holm(case["input"]["p_values_exploratory"])
    assert adjusted == pytest.approx(case["expect"]["holm_adjusted"])
    assert [p <= 0.10 for p in adjusted] == case["expect"]["flag_at_0_10"]
