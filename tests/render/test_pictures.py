"""What is on the pictures: every shot, in its place, and labels that can be read."""

from collections.abc import Callable
from itertools import pairwise
from math import hypot

import pytest
from msgspec.structs import replace
from PIL import ImageFont

from recapgen.model.evidence import Verdict
from recapgen.model.lesson import Direction, Want
from recapgen.model.people import Hand
from recapgen.model.quantity import Quantity
from recapgen.model.shots import SortedShot
from recapgen.model.units import Units
from recapgen.render.charts.chart_parts import (
    RADIUS_PX,
    TEXT_PX,
    Anchor,
    Ink,
    Label,
    Look,
    Picture,
    text_width,
)
from recapgen.render.charts.drawing import draw
from recapgen.render.charts.progress import ProgressPoint, over_the_lessons
from recapgen.render.charts.share_bars import inside_then_and_now
from recapgen.render.charts.strip import WIDTH_PX, lessons_together, then_and_now
from recapgen.render.reader import Reader
from recapgen.words.catalogue import words
from recapgen.words.languages import LANGUAGES
from tests.end_to_end.small_lessons import ROOT
from tests.render.pictures_fixture import (
    PICTURES,
    READER,
    YARDS,
    all_pictures,
    finish_of,
    landed,
    order,
    share_of,
    strip,
    together,
)
from tests.render.recaps_fixture import (
    COACH,
    IMPERIAL,
    comparison,
    full_recap,
    path_comparison,
    sample,
    shots,
    too_early,
)


@pytest.fixture(params=sorted(PICTURES))
def picture(request: pytest.FixtureRequest) -> Picture:
    return PICTURES[request.param]()


def span(label: Label, picture: Picture) -> tuple[float, float]:
    """Where a label begins and ends, in pixels."""
    at, wide = picture.x.px(label.x), text_width(label.text)
    shift = {Anchor.LEFT: 0.0, Anchor.MIDDLE: wide / 2, Anchor.RIGHT: wide}[label.anchor]
    return at - shift, at - shift + wide


def test_every_shot_is_drawn_and_mishits_are_crossed() -> None:
    looks = [dot.look for dot in strip(path_comparison()).dots]
    assert looks.count(Look.THEN) == 10
    assert looks.count(Look.THEN_MISHIT) == 1
    assert looks.count(Look.NOW) == 12


def test_a_mishit_is_told_with_the_coachs_word_for_it() -> None:
    told = path_comparison()
    (crossed,) = [n for n, bad in zip(told.before.numbers, told.before.mishit, strict=True) if bad]
    fine = told.after.numbers[0]
    picture = then_and_now(told, READER, {}, {crossed: "thin <b>", fine: "thin"})
    assert picture is not None
    by_look = {dot.told: dot.look for dot in picture.dots}
    (mishit,) = [text for text in by_look if "thin" in text]
    assert mishit.endswith(", mishit (thin <b>)")
    assert by_look[mishit] is Look.THEN_MISHIT
    assert "mishit (thin &lt;b&gt;)" in draw(picture, "shots-tag", "A title", "A description")


@pytest.mark.parametrize("drawn", [finish_of, order])
@pytest.mark.parametrize(("tag", "ending"), [("thin", ", mishit (thin)"), (None, ", a mishit")])
def test_a_crossed_dot_tells_its_mishit_in_the_folded_charts_too(
    drawn: Callable[[tuple[SortedShot, ...]], Picture], tag: str | None, ending: str
) -> None:
    tagged = tuple(replace(s, shot=replace(s.shot, tag=tag)) for s in landed())
    for dot in drawn(tagged).dots:
        crossed = dot.look in (Look.THEN_MISHIT, Look.NOW_MISHIT)
        assert dot.told.endswith(ending) == crossed, dot
    assert any(dot.look is Look.THEN_MISHIT for dot in drawn(tagged).dots)


@pytest.mark.parametrize("language", LANGUAGES)
def test_labels_stay_on_the_picture_in_every_language(language: str) -> None:
    reader = Reader(Units(), Hand.RIGHT, words(language), COACH)
    yards = Reader(IMPERIAL, None, words(language), COACH)
    for name, picture in all_pictures(reader, yards).items():
        stay_on_it(name, picture())
    stay_on_it("together", together(reader))


def stay_on_it(name: str, picture: Picture) -> None:
    for label in picture.labels:
        low, high = span(label, picture)
        assert low >= -1, (name, label)
        assert high <= WIDTH_PX + 1, (name, label)
        assert picture.y.px(label.y) <= picture.height


def test_no_letter_of_the_pages_own_face_is_wider_than_the_room_left_for_it() -> None:
    for file in sorted((ROOT / "site_template" / "fonts").glob("figtree-*.woff2")):
        face = ImageFont.truetype(file, 100, layout_engine=ImageFont.Layout.BASIC)
        face.set_variation_by_axes([400])
        unknown = bytes(face.getmask("\ufffe"))
        for letter in (*filter(str.isalpha, map(chr, range(0x180))), *"0123456789%&@.,:;()-/−°×±÷"):
            if bytes(face.getmask(letter)) != unknown:
                drawn = face.getlength(letter) * TEXT_PX / 100
                assert drawn <= text_width(letter) + 0.1, (file.name, letter)


@pytest.mark.parametrize(
    ("text", "letters"), [("変える前、", 5), ("전후", 2), ("Ａ１", 2), ("e\u0301", 0.6)]
)
def test_letters_as_wide_as_high_get_that_room_and_marks_none(text: str, letters: float) -> None:
    assert text_width(text) == pytest.approx(letters * TEXT_PX)


def test_no_label_lies_on_a_dot_or_on_another_label(picture: Picture) -> None:
    boxes = [
        (*span(label, picture), picture.y.px(label.y) - 6, picture.y.px(label.y) + 6)
        for label in picture.labels
    ]
    for i, (left, right, top, bottom) in enumerate(boxes):
        for dot in picture.dots:
            x, y = picture.x.px(dot.x), picture.y.px(dot.y)
            clear_across = x + RADIUS_PX < left or x - RADIUS_PX > right
            clear_along = y + RADIUS_PX < top or y - RADIUS_PX > bottom
            assert clear_across or clear_along, picture.labels[i]
        for other in boxes[i + 1 :]:
            apart = other[1] < left or other[0] > right or other[3] < top or other[2] > bottom
            assert apart, picture.labels[i]


def test_no_shots_no_picture() -> None:
    told = comparison(
        Quantity.CARRY,
        Want(Direction.HIGHER),
        (sample(1, ()), sample(1, ())),
        Verdict.TOO_EARLY,
    )
    assert then_and_now(told, READER, {}) is None


def test_where_zero_is_wanted_it_is_on_the_picture_under_its_name() -> None:
    picture = PICTURES["zero"]()
    assert picture is not None
    named = next(label for label in picture.labels if label.text == "the goal")
    half = text_width(named.text) / 2
    assert abs(picture.x.px(named.x) - picture.x.px(0.0)) < half  # the edge may push it along
    assert any(stroke.x1 == stroke.x2 == 0.0 for stroke in picture.strokes)


def test_ends_of_the_axis_say_what_the_sides_mean() -> None:
    texts = [label.text for label in strip(path_comparison()).labels]
    assert texts[-2:] == ["left", "right"]
    assert "yards" in [label.text for label in strip(too_early().number.comparison, YARDS).labels]


def test_a_metre_is_as_long_along_the_line_as_across_it() -> None:
    picture = finish_of(landed())
    along = (picture.y.from_px - picture.y.to_px) / (picture.y.high - picture.y.low)
    across = (picture.x.to_px - picture.x.from_px) / (picture.x.high - picture.x.low)
    assert along == pytest.approx(across)


def test_half_of_the_balls_lie_within_their_circle() -> None:
    picture = finish_of(landed())
    x, y = picture.x, picture.y
    for ring, looks in zip(
        picture.rings, ({Look.THEN, Look.THEN_MISHIT}, {Look.NOW, Look.NOW_MISHIT}), strict=True
    ):
        balls = [dot for dot in picture.dots if dot.look in looks]
        away = [hypot(x.px(ball.x) - x.px(ring.x), y.px(ball.y) - y.px(ring.y)) for ball in balls]
        inside = sum(px <= ring.radius_px + 1e-6 for px in away)
        assert abs(inside - len(balls) / 2) <= 0.5


def test_the_lesson_in_order_draws_every_reading_once_in_its_place() -> None:
    told = shots(path_comparison())
    picture = order(told)
    assert [dot.x for dot in picture.dots] == list(range(1, len(told) + 1))
    looks = [dot.look for dot in picture.dots]
    assert (looks.count(Look.ASIDE), looks.count(Look.THEN_MISHIT)) == (7, 1)
    names = [label.text for label in picture.labels if label.anchor is Anchor.LEFT]
    assert names == ["warm-up", "before", "after"]


def test_bars_are_as_long_as_the_shots_they_count() -> None:
    bars = inside_then_and_now(share_of(path_comparison()), READER).bars
    assert [(bar.look, bar.x2) for bar in bars] == [
        (None, 1.0),
        (None, 1.0),
        (Look.NOW, pytest.approx(10 / 12)),
    ]


def test_many_lessons_keep_their_dates_apart() -> None:
    told = path_comparison()
    days = [full_recap().on.replace(day=d) for d in range(1, 25)]
    picture = over_the_lessons([ProgressPoint(on, told) for on in days], READER)
    dates = [label for label in picture.labels if label.anchor is Anchor.MIDDLE]
    years = [label for label in dates if label.text == "2027"]
    days_told = [label for label in dates if label not in years]
    assert days_told[-1].text == "24 Apr"
    assert [label.x for label in years] == [days_told[0].x]
    spans = sorted(span(label, picture) for label in days_told)
    assert all(a[1] <= b[0] for a, b in pairwise(spans))


def test_a_year_is_told_where_it_is_another_and_the_way_that_is_good_above() -> None:
    told = path_comparison()
    on = full_recap().on
    days = [on.replace(year=year, month=month) for year in (2025, 2026, 2027) for month in (4, 5)]
    picture = over_the_lessons([ProgressPoint(day, told) for day in days], READER)
    years = sorted((label.x, label.text) for label in picture.labels if label.text.isdigit())
    assert years == [(1, "2025"), (3, "2026"), (5, "2027")]  # every other date has room
    assert "goal: 2° left to 2° right" in {label.text for label in picture.labels}
    for direction, up in ((Direction.HIGHER, True), (Direction.LOWER, False)):
        way = replace(told, want=Want(direction))
        drawn = over_the_lessons([ProgressPoint(day, way) for day in days], READER)
        arrow = next(s for s in drawn.strokes if s.x1 == s.x2 and not s.dashed)
        assert (drawn.y.px(arrow.y2) < drawn.y.px(arrow.y1)) is up


def test_lessons_together_have_an_axis_on_every_screen() -> None:
    told = path_comparison()
    picture = lessons_together([(f"day {n}", told) for n in range(9)], READER)
    assert picture is not None
    zeros = sorted(label.y for label in picture.labels if label.text == "0°")
    assert len(zeros) > 2
    assert max(b - a for a, b in pairwise([0.0, *zeros])) < 664 / 390 * 288


@pytest.mark.parametrize("name", ["window", "higher", "yards", "one-sided"])
def test_a_rows_label_stands_on_its_own_middle_and_nearer_to_it_than_to_the_row_above(
    name: str,
) -> None:
    picture = PICTURES[name]()
    middles = [s for s in picture.strokes if s.width > 2]
    rows = [one for one in picture.labels if one.ink is Ink.INK]
    assert len(rows) == 2
    for label, middle in zip(rows, middles, strict=False):
        half = text_width(label.text) / 2
        nearest = min(max(picture.x.px(middle.x1), half), WIDTH_PX - half)
        assert picture.x.px(label.x) == pytest.approx(nearest)
        assert label.anchor is Anchor.MIDDLE
    above = max(dot.y for dot in picture.dots if dot.look in (Look.THEN, Look.THEN_MISHIT))
    below = [dot.y for dot in picture.dots if dot.look in (Look.NOW, Look.NOW_MISHIT)]
    if below:
        assert min(below) - rows[1].y < rows[1].y - above
