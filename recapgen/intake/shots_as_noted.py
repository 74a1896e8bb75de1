"""Every shot of a lesson in time order, with what its notes and its file say of it."""

from recapgen.intake.shot_spans import block_of
from recapgen.model.lesson import Lesson
from recapgen.model.worksheet import SheetShot


def shots_as_noted(lesson: Lesson) -> tuple[SheetShot, ...]:
    """None of them where the balls were only counted: then none has a place of its own."""
    if lesson.shots is None or lesson.shots.counted:
        return ()
    notes = lesson.notes
    mishits = {each.shot: each.tag for each in notes.mishits}
    left_out = {each.shot: each.reason for each in notes.left_out}
    return tuple(
        SheetShot(
            shot=shot,
            block=block_of(notes.spans, shot.number) or shot.block,
            mishit=mishits.get(shot.number, ""),
            filed=shot.tag or "",
            left_out=left_out.get(shot.number, ""),
            tool=shot.impossible is not None,
        )
        for shot in lesson.shots.shots
    )
