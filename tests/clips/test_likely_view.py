"""From where a clip seems to be filmed: offered where its picture lies on another's, else not."""

from pathlib import Path

import pytest
from msgspec.structs import replace

from recapgen.clips.likely_view import likely_view
from recapgen.model.lesson import ClipFile, View
from recapgen.tools.cache import Cache
from tests.clips.test_same_view import filmed, phone, world

pytestmark = pytest.mark.ffmpeg

BEHIND = 11  # the seed of another place


@pytest.fixture
def known(tmp_path: Path, cache: Cache) -> tuple[ClipFile, ClipFile]:
    front = filmed(tmp_path, cache, "one.mp4", phone()).clip
    line = filmed(tmp_path, cache, "two.mp4", phone(), there=world(BEHIND)).clip
    return replace(front, view=View.FACE_ON), replace(line, view=View.DOWN_THE_LINE)


@pytest.mark.parametrize(
    ("seed", "view"), [(3, View.FACE_ON), (BEHIND, View.DOWN_THE_LINE), (29, None)]
)
def test_the_view_of_the_clip_that_it_looks_like(
    seed: int, view: View | None, known: tuple[ClipFile, ...], tmp_path: Path, cache: Cache
) -> None:
    moved = phone(larger=1.1, right=9, down=-6)
    asked = filmed(tmp_path, cache, "asked.mp4", moved, there=world(seed)).clip
    assert likely_view(asked, known, cache) is view


def test_where_both_views_look_like_it_nothing_is_offered(
    known: tuple[ClipFile, ...], tmp_path: Path, cache: Cache
) -> None:
    front, _ = known
    asked = filmed(tmp_path, cache, "asked.mp4", phone()).clip
    both = (front, replace(front, view=View.DOWN_THE_LINE))
    assert likely_view(asked, both, cache) is None
    assert likely_view(asked, (), cache) is None
