import pytest

from recapgen.intake.clip_names import NamedClip, read_clip_name
from recapgen.model.lesson import View
from recapgen.model.shots import Block

FACE_ON, LINE = View.FACE_ON, View.DOWN_THE_LINE


@pytest.mark.parametrize(
    ("stem", "view", "block", "shot"),
    [
        ("face on before shot 12", FACE_ON, Block.BEFORE, 12),
        ("dtl_after_31", LINE, Block.AFTER, 31),
        ("down-the-line now", LINE, Block.AFTER, None),
        ("FaceOn_Then_Shot7", FACE_ON, Block.BEFORE, 7),
        ("DTL after #9", LINE, Block.AFTER, 9),
        ("face-on (after) 2027-04-11 shot 4", FACE_ON, Block.AFTER, 4),
        ("shot 12", None, None, 12),
        ("fo 8", FACE_ON, None, 8),
        ("warm-up dtl", LINE, Block.WARM_UP, None),
        ("before", None, Block.BEFORE, None),
        ("vorher von hinten Schlag 3", LINE, Block.BEFORE, 3),
        ("nachher_frontal_12", FACE_ON, Block.AFTER, 12),
        ("avant de face 4", FACE_ON, Block.BEFORE, 4),
        ("de derrière après", LINE, Block.AFTER, None),
        ("antes 7", None, Block.BEFORE, 7),
        ("después desde atrás", LINE, Block.AFTER, None),
        ("正面_前12", FACE_ON, Block.BEFORE, 12),
        ("後方 後 3", LINE, Block.AFTER, 3),
        ("후방_바꾸기 전_5", LINE, Block.BEFORE, 5),
        ("정면 후", FACE_ON, Block.AFTER, None),
        ("new driver face on", FACE_ON, None, None),
        ("practice swing dtl", LINE, None, None),
        ("before and after", None, None, None),
        ("前から", None, None, None),
    ],
)
def test_natural_names(stem: str, view: View | None, block: Block | None, shot: int | None) -> None:
    assert read_clip_name(stem) == NamedClip(view, block, shot)


@pytest.mark.parametrize("stem", ["IMG_0412", "VID_20270411_101500", "swing_12", "12", "clip", ""])
def test_a_phone_s_own_names_say_nothing(stem: str) -> None:
    assert read_clip_name(stem).says_nothing


@pytest.mark.parametrize("stem", ["face on 20270411_101500", "dtl IMG_0412", "face on 3 of 7"])
def test_a_number_that_may_be_something_else_is_no_shot(stem: str) -> None:
    named = read_clip_name(stem)
    assert named.view is not None
    assert named.shot is None


def test_words_inside_words_do_not_count() -> None:
    assert read_clip_name("nowhere beforehand forefront").says_nothing
