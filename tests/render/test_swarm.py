"""Dots step aside so that every shot can be seen."""

from hypothesis import given
from hypothesis import strategies as st

from recapgen.render.charts.swarm import step_aside
from recapgen.render.charts.ticks import round_ticks, tick_places

REACH = 12.0


@given(st.lists(st.one_of(st.floats(0, 288), st.integers(40, 60).map(float)), max_size=10))
def test_no_two_dots_touch(places: list[float]) -> None:
    aside = step_aside(places, REACH)
    dots = list(zip(places, aside, strict=True))
    for i, (x, y) in enumerate(dots):
        for other_x, other_y in dots[i + 1 :]:
            assert (x - other_x) ** 2 + (y - other_y) ** 2 >= REACH**2 - 0.01


def test_a_dot_alone_stays_on_the_line() -> None:
    assert step_aside([10.0, 60.0, 200.0], REACH) == (0.0, 0.0, 0.0)


def test_equal_places_stack_evenly_about_the_line() -> None:
    assert sorted(step_aside([50.0] * 5, REACH)) == [-24.0, -12.0, 0.0, 12.0, 24.0]


def test_a_tower_of_dots_is_kept_within_the_picture() -> None:
    aside = step_aside([50.0] * 60, REACH)
    assert max(aside) - min(aside) <= 150.0
    assert len(set(aside)) == 60


def test_the_order_of_the_shots_is_kept() -> None:
    there = step_aside([1.0, 100.0, 2.0], REACH)
    assert there[1] == 0.0
    assert there[0] == 0.0
    assert there[2] != 0.0


@given(st.floats(-1000, 1000), st.floats(0.01, 5000), st.integers(2, 7))
def test_ticks_are_few_round_and_inside(low: float, wide: float, most: int) -> None:
    ticks = round_ticks(low, low + wide, most)
    assert len(ticks) <= most
    assert all(low - wide * 1e-6 <= tick <= low + wide * (1 + 1e-6) for tick in ticks)
    assert all(f"{tick:.{tick_places(ticks)}f}" for tick in ticks)


def test_ticks_of_a_usual_range() -> None:
    assert round_ticks(-2.3, 9.9, 6) == (-2.0, 0.0, 2.0, 4.0, 6.0, 8.0)
    assert round_ticks(1.38, 1.41, 6) == (1.38, 1.39, 1.4, 1.41)
    assert tick_places((1.38, 1.4)) == 2
