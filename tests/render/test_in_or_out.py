"""Balls that are in or out, on the page: how many of how many, never a middle of one and nought."""

import pytest
from msgspec.structs import replace

from recapgen.model.evidence import Comparison
from recapgen.model.people import Hand
from recapgen.model.quantity import Quantity
from recapgen.model.recap import LessonEvidence, LessonNumber, Recap
from recapgen.model.shots import Block, MissedTo, Shot, ShotStatus, SortedShot
from recapgen.model.units import Units
from recapgen.render.evidence_view import evidence_view
from recapgen.render.number_view import number_view
from recapgen.render.reader import Reader
from recapgen.render.shots_view import shot_table
from recapgen.words.catalogue import words
from recapgen.words.languages import LANGUAGES
from tests.evidence.test_in_or_out import counted
from tests.render.recaps_fixture import COACH, WHERE, words_only


def reader(language: str = "en") -> Reader:
    return Reader(Units(), Hand.RIGHT, words(language), COACH)


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_page_counts(language: str) -> None:
    told: Comparison = counted((3, 10), (8, 10))
    view = number_view(told, reader(language), "shots", {})
    assert view.then is not None
    assert view.now is not None
    assert (view.then.figure, view.now.figure) == ("3", "8")
    assert "10" in view.then.rest + view.then.before
    assert view.chart is not None
    assert "3" in view.chart_sentence
    assert (view.lines, view.of_outcomes) == ((), True)
    assert "{" not in view.verdict + view.goal + view.meaning


def hand_read(*, was_counted: bool) -> Recap:
    told = counted((3, 10), (8, 10))
    missed = Shot(1, WHERE, {Quantity.HOLED: 0.0}, Block.BEFORE, missed_to=MissedTo.LEFT)
    evidence = LessonEvidence(
        shots=(SortedShot(missed, Block.BEFORE, ShotStatus.USED),), counted=was_counted
    )
    return replace(words_only(), number=LessonNumber(comparison=told), evidence=evidence)


def test_the_share_stands_with_the_number_and_not_once_more_in_the_fold() -> None:
    view = evidence_view(hand_read(was_counted=False), reader())
    assert view is not None
    assert (view.inside, view.order) == (None, None)


def test_where_a_ball_went_stands_in_the_table_of_shots() -> None:
    table = shot_table(hand_read(was_counted=False), reader())
    assert table is not None
    assert table.rows[0].cells == ("missed, left",)


def test_counts_have_no_table_since_nobody_knows_which_ball_was_which() -> None:
    assert shot_table(hand_read(was_counted=True), reader()) is None
