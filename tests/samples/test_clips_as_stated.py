"""The committed clips are what the table says: codec, way up, length, sound, and the strike."""

import json
from itertools import pairwise
from pathlib import Path

import av
import numpy as np
import pytest
from av.audio.frame import AudioFrame
from av.video.frame import VideoFrame

from sample_making.film_clips import ClipPlan, film
from sample_making.make_samples import SAMPLE_LESSONS, TRUTH, clip_plans, truth_text

_PLANS = clip_plans()


def _named(plan: ClipPlan) -> str:
    return plan.file


def _pictures(file: Path) -> list[VideoFrame]:
    with av.open(str(file)) as container:
        return list(container.decode(video=0))


def _shown_seconds(frames: list[VideoFrame]) -> list[float]:
    return [frame.time for frame in frames]


def test_the_script_makes_the_committed_truth() -> None:
    assert TRUTH.read_text(encoding="utf-8") == truth_text()


def test_truth_lists_every_clip_that_lies_there() -> None:
    lying = {
        file.relative_to(SAMPLE_LESSONS).as_posix()
        for ending in ("*.mp4", "*.mov")
        for file in SAMPLE_LESSONS.rglob(ending)
    }
    assert {truth["file"] for truth in json.loads(TRUTH.read_text(encoding="utf-8"))} == lying


@pytest.mark.ffmpeg
@pytest.mark.parametrize("plan", _PLANS, ids=_named)
def test_a_clip_probes_as_stated(plan: ClipPlan) -> None:
    quirk = plan.quirk
    with av.open(str(SAMPLE_LESSONS / plan.file)) as container:
        video = container.streams.video[0]
        first = next(container.decode(video))
        size = (first.width, first.height)
        assert video.codec_context.name == ("hevc" if quirk.hevc else "h264")
        assert video.codec_context.pix_fmt == ("yuv420p10le" if quirk.ten_bit else "yuv420p")
        assert size == ((960, 540) if quirk.turned else (540, 960))
        assert abs(first.rotation) == (90 if quirk.turned else 0)
        assert bool(container.streams.audio) is not quirk.silent
        assert container.duration is not None
        assert container.duration / av.time_base == pytest.approx(plan.length_s, abs=0.06)
        for key, value in quirk.tags:
            assert container.metadata[key] == value
        assert bool(quirk.tags) is ("make" in container.metadata)


@pytest.mark.ffmpeg
@pytest.mark.parametrize("kind", ["variable frame rate", "trimmed by an edit list", "plain"])
def test_pictures_come_when_they_should(kind: str) -> None:
    plan = next(p for p in _PLANS if p.quirk.name == kind)
    shown = _shown_seconds(_pictures(SAMPLE_LESSONS / plan.file))
    gaps = [later - earlier for earlier, later in pairwise(shown)]
    assert shown[0] == pytest.approx(0.0, abs=1e-3)
    assert shown[-1] == pytest.approx(plan.length_s - 1 / plan.fps, abs=0.02)
    uneven = max(gaps) > 1.5 * min(gaps)
    assert uneven is plan.quirk.uneven


@pytest.mark.ffmpeg
@pytest.mark.parametrize("plan", [p for p in _PLANS if not p.quirk.silent], ids=_named)
def test_the_strike_is_heard_twelve_milliseconds_late(plan: ClipPlan) -> None:
    """The loudest sample lies within two milliseconds of where the sound should arrive."""
    with av.open(str(SAMPLE_LESSONS / plan.file)) as container:
        heard: list[AudioFrame] = list(container.decode(audio=0))
    samples = np.concatenate([frame.to_ndarray()[0] for frame in heard])
    first = heard[0]
    assert first.pts is not None
    assert first.time_base is not None
    loudest = int(np.argmax(np.abs(samples))) / first.sample_rate + float(
        first.pts * first.time_base
    )
    assert loudest == pytest.approx(plan.impact_s + 0.012, abs=0.003)


@pytest.mark.campaign
@pytest.mark.parametrize("plan", _PLANS, ids=_named)
def test_drawing_it_again_gives_the_same_pictures(plan: ClipPlan, tmp_path: Path) -> None:
    """Another encoder may choose other bytes; what is seen may differ only by its noise."""
    again = tmp_path / Path(plan.file).name
    film(plan, again)
    old, new = _pictures(SAMPLE_LESSONS / plan.file), _pictures(again)
    assert _shown_seconds(old) == _shown_seconds(new)
    for before, after in zip(old[::12], new[::12], strict=True):
        seen = [f.to_ndarray(format="gray").astype(np.float64) for f in (before, after)]
        assert float(np.abs(seen[0] - seen[1]).mean()) < 1.0
