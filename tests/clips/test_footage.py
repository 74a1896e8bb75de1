"""Looking into clips: what is refused and why, and whose word the strike rests on."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from recapgen.clips.footage import inspect
from recapgen.model.films import ImpactFrom
from recapgen.model.lesson import ClipFile
from recapgen.model.problem import Code, Cost, Severity
from recapgen.model.source import SourceRef
from recapgen.tools.cache import Cache
from recapgen.words.catalogue import words
from recapgen.words.problems import tell

pytestmark = pytest.mark.ffmpeg

Clip = Callable[[str, float | None], ClipFile]


@pytest.mark.parametrize(
    ("name", "code"),
    [
        ("empty.mp4", Code.CLIP_EMPTY),
        ("photo.mp4", Code.CLIP_IS_PICTURE),
        ("text.mov", Code.CLIP_NOT_VIDEO),
        ("playlist.mp4", Code.CLIP_NOT_VIDEO),
        ("no_index.mp4", Code.CLIP_CUT_OFF),
        ("cut_short.mp4", Code.CLIP_CUT_OFF),
        ("sound_only.mov", Code.CLIP_SOUND_ONLY),
        ("blink.mp4", Code.CLIP_FEW_PICTURES),
        ("endless.mp4", Code.CLIP_TOO_LONG),
        ("not_there.mp4", Code.CLIP_UNREADABLE),
    ],
)
def test_a_clip_that_cannot_be_shown_costs_itself_and_says_why(
    name: str, code: Code, clip: Clip, cache: Cache
) -> None:
    refused = inspect(clip(name, None), cache)
    assert refused.value is None
    (problem,) = refused.problems
    assert problem.code is code
    assert problem.code.cost is Cost.CLIP
    assert problem.severity is Severity.ERROR
    assert problem.where == SourceRef("mia/2031-02-03/notes.md", 9, 3)
    told = tell(problem, words("en"))
    assert name in told.found
    assert told.expected
    assert told.fix


def test_a_long_recording_is_taken_where_the_notes_name_the_strike(
    clip: Clip, cache: Cache
) -> None:
    looked = inspect(clip("endless.mp4", 40.0), cache)
    assert looked.value is not None
    assert looked.value.strike.at_s == 40.0


def test_the_notes_go_before_the_sound(clip: Clip, cache: Cache) -> None:
    looked = inspect(clip("with_sound.mov", 0.25), cache)
    assert looked.value is not None
    assert looked.value.strike.at_s == 0.25
    assert looked.value.strike.found_in is ImpactFrom.NOTES


@pytest.mark.parametrize("impact_s", [-0.1, 1.3])
def test_a_strike_outside_the_clip_is_refused(impact_s: float, clip: Clip, cache: Cache) -> None:
    refused = inspect(clip("plain.mp4", impact_s), cache)
    assert refused.value is None
    assert [p.code for p in refused.problems] == [Code.CLIP_STRIKE_OUTSIDE]


@pytest.mark.parametrize(("name", "heard_s"), [("with_sound.mov", 0.7), ("late.mov", 0.35)])
def test_a_clear_strike_is_heard_on_the_clock_of_the_pictures(
    name: str, heard_s: float, clip: Clip, cache: Cache
) -> None:
    """The late clip's pictures begin 0.35 s after its sound. The sound travels 4 m."""
    looked = inspect(clip(name, None), cache)
    assert looked.value is not None
    assert looked.problems == ()
    assert looked.value.strike.found_in is ImpactFrom.SOUND
    assert looked.value.strike.at_s == pytest.approx(heard_s - 4 / 343, abs=0.002)


def test_a_guess_is_shown_and_asks_with_the_line_to_add(clip: Clip, cache: Cache) -> None:
    looked = inspect(clip("plain.mp4", None), cache)
    assert looked.value is not None
    assert looked.value.strike.found_in is ImpactFrom.GUESS
    (problem,) = looked.problems
    assert problem.severity is Severity.WARNING
    assert problem.where.line == 9
    line = f"impact: {looked.value.strike.at_s:.3f}"
    assert tell(problem, words("en")).fix.endswith(line)


@pytest.mark.parametrize(
    ("name", "written"),
    [("plain.mp4", "plain.mp4"), ("now, #2.mp4", '"now, #2.mp4"')],
)
def test_a_clip_that_the_notes_do_not_list_is_asked_for_with_a_whole_line(
    name: str, written: str, recordings: Path, clip: Clip, cache: Cache
) -> None:
    path = recordings / name
    path.write_bytes((recordings / "plain.mp4").read_bytes())
    here = SourceRef(f"mia/2031-02-03/{name}")
    unlisted = replace(clip(name, None), where=here)
    (problem,) = inspect(unlisted, cache).problems
    assert problem.code is Code.CLIP_STRIKE_GUESSED_UNLISTED
    assert problem.where.file.endswith("notes.md")
    assert problem.facts["line"].startswith(f"- {{file: {written}, impact: ")


def test_what_was_seen_once_is_remembered(
    clip: Clip, cache: Cache, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = inspect(clip("late.mov", None), cache)

    def never(*_: object) -> None:
        pytest.fail("looked again")

    for looking in ("look", "hear", "glimpse"):
        monkeypatch.setattr(f"recapgen.clips.footage.{looking}", never)
    assert inspect(clip("late.mov", None), cache) == first
