"""Make the measured half of sample_lessons again: ``python -m sample_making.make_samples``.

The words are written by hand; the shots, the clips and truth.json come from here.
"""

import argparse
import json
from collections.abc import Iterator, Mapping
from concurrent.futures import ProcessPoolExecutor
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from types import MappingProxyType

from sample_making import coach_sign
from sample_making.camera import DOWN_THE_LINE, FACE_ON
from sample_making.casting import GUNNAR, JONAS, LENE, MIRA, PIA
from sample_making.draw_swing import Scene
from sample_making.film_clips import ClipPlan, Quirk, film, truth_of
from sample_making.invent_shots import invent
from sample_making.shot_exports import EXPORTS, SPLIT_AFTER
from sample_making.shot_stories import STORIES, ShotStory
from sample_making.shot_tables import table_bytes

SAMPLE_LESSONS = Path(__file__).parents[1] / "sample_lessons"
TRUTH = Path(__file__).with_name("truth.json")

_F, _D = FACE_ON, DOWN_THE_LINE

# What phones do to a film, and which clip shows it.
QUIRKS: Mapping[str, Quirk] = MappingProxyType(
    {
        "plain": Quirk("plain"),
        "turned": Quirk("lying down with a rotation flag", turned=True),
        "hevc": Quirk("HEVC", hevc=True),
        "uneven": Quirk("variable frame rate", uneven=True),
        "hlg": Quirk("ten bits, HLG", hevc=True, ten_bit=True),
        "silent": Quirk("no sound", silent=True),
        "tagged": Quirk(
            "a place and a device in the metadata",
            tags=(
                ("location", "+00.0000-030.0000/"),
                ("make", "Invented Instruments"),
                ("model", "Pocket camera that never was"),
                ("comment", "Mira, first tee"),
            ),
        ),
        "trimmed": Quirk("trimmed by an edit list", hidden_s=0.5),
        "turned hevc": Quirk("HEVC with a rotation flag", hevc=True, turned=True),
    }
)


@dataclass(frozen=True, slots=True)
class Take:
    """One clip of a lesson: what is seen, how the phone kept it, when the ball is struck.

    Most are struck on a picture, as a coach would trim them; one or two between pictures.
    """

    file: str
    style: str
    view: str
    block: str
    shot: int | None
    quirk: str
    seed: int
    impact_s: float
    length_s: float = 2.4
    fps: int = 60


@dataclass(frozen=True, slots=True)
class Filming:
    folder: str
    scene: Scene
    takes: tuple[Take, ...]


FILMINGS: tuple[Filming, ...] = (
    Filming(
        "mira/2027-01-23 driver",
        MIRA,
        (
            Take("MOV_0009.mov", "stands up", _F, "before", 9, "hevc", 1, 97 / 60),
            Take("MOV_0034.mov", "stays down", _F, "after", 34, "turned hevc", 2, 1.50),
            Take("MOV_0010.mp4", "stands up", _D, "before", 10, "tagged", 3, 1.557),
            Take("MOV_0015.mp4", "stands up", _D, "before", 15, "turned", 4, 1.70, 2.5),
            Take("MOV_0032.mp4", "stays down", _D, "after", 32, "trimmed", 5, 1.45),
        ),
    ),
    Filming(
        "mira/2027-02-20",
        MIRA,
        (Take("dtl_after_20.mp4", "stays down", _D, "after", 20, "plain", 6, 100 / 60),),
    ),
    Filming(
        "jonas/2027-01-30",
        JONAS,
        (
            Take("lefty 6 front.mp4", "sways", _F, "before", 6, "plain", 11, 95 / 60),
            Take("lefty 22 front.mp4", "centred", _F, "after", 22, "uneven", 12, 103 / 60, 2.6),
            Take("lefty 8 line.mp4", "sways", _D, "before", 8, "plain", 13, 1.60, fps=30),
            Take("lefty 25 line.mp4", "centred", _D, "after", 25, "silent", 14, 1.65),
        ),
    ),
    Filming(
        "pia/2027-02-06 pitching",
        PIA,
        (
            Take("hum 9.mov", "gives up", _F, "before", 9, "hevc", 21, 1.70),
            Take("hum 28.mov", "even pitch", _F, "after", 28, "hevc", 22, 1.75),
            Take("hum 11 behind.mp4", "gives up", _D, "before", 11, "plain", 23, 1.5, 2.2, 120),
            Take("hum 30 behind.mp4", "even pitch", _D, "after", 30, "turned", 24, 1.60),
        ),
    ),
    Filming(
        "pia/2027-05-15 pitching again",
        PIA,
        (
            Take("hedge 8.mp4", "gives up", _F, "before", 8, "plain", 25, 1.50, 2.2),
            Take("hedge 21.mp4", "even pitch", _F, "after", 21, "plain", 26, 1.55, 2.2),
        ),
    ),
    Filming(
        "gunnar/2027-02-13",
        GUNNAR,
        (
            Take(
                "face on before shot 12.mp4", "arms only", _F, "before", 12, "plain", 31, 101 / 60
            ),
            Take(
                "face on after shot 30.mp4",
                "turns far",
                _F,
                "after",
                30,
                "uneven",
                32,
                104 / 60,
                2.6,
            ),
            Take(
                "down the line before shot 14.mov",
                "arms only",
                _D,
                "before",
                14,
                "trimmed",
                33,
                1.6,
            ),
            Take(
                "down the line after shot 33.mp4", "turns far", _D, "after", 33, "plain", 34, 1.60
            ),
        ),
    ),
    Filming(
        "lene/2027-02-27",
        LENE,
        (
            Take("face_on_before_8.mov", "chops", _F, "before", 8, "hlg", 41, 1.60),
            Take("face_on_after_26.mov", "sweeps up", _F, "after", 26, "hlg", 42, 1.55),
            Take("dtl_before_10.mp4", "chops", _D, "before", 10, "plain", 43, 1.80, 2.8, 30),
            Take("down-the-line now.mp4", "sweeps up", _D, "after", None, "plain", 44, 1.60),
        ),
    ),
)


def clip_plans() -> tuple[ClipPlan, ...]:
    return tuple(
        ClipPlan(
            file=f"{filming.folder}/{take.file}",
            scene=replace(filming.scene, style=take.style, view=take.view),
            block=take.block,
            shot=take.shot,
            quirk=QUIRKS[take.quirk],
            seed=take.seed,
            fps=take.fps,
            length_s=take.length_s,
            impact_s=take.impact_s,
            indoors=filming.scene.screen_m is not None,
        )
        for filming in FILMINGS
        for take in filming.takes
    )


def shot_files(story: ShotStory) -> Iterator[tuple[str, bytes]]:
    """The lesson's tables as (path below sample_lessons, content)."""
    shots = invent(story.stretches, story.seed)
    tables = EXPORTS[story.folder]
    split = SPLIT_AFTER.get(story.folder, len(shots))
    for table, part in zip(tables, (shots[:split], shots[split:]), strict=False):
        yield f"{story.folder}/{table.name}", table_bytes(table, part)


def write_shots(lessons: Path) -> None:
    for story in STORIES:
        for path, content in shot_files(story):
            file = lessons / path
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_bytes(content)


def truth_text() -> str:
    truths = [asdict(truth_of(plan)) for plan in clip_plans()]
    return json.dumps(truths, indent=2) + "\n"


def write_clips(lessons: Path, named: str, jobs: int) -> None:
    """All clips whose path holds ``named``; each is drawn and encoded on its own."""
    plans = [plan for plan in clip_plans() if named in plan.file]
    with ProcessPoolExecutor(jobs) as pool:
        list(pool.map(film, plans, [lessons / plan.file for plan in plans]))


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--into", type=Path, default=SAMPLE_LESSONS, help="the lessons folder")
    parser.add_argument("--no-clips", action="store_true", help="shots and truth only")
    parser.add_argument("--clips-named", default="", help="only clips with this in their path")
    parser.add_argument("--jobs", type=int, default=2)
    chosen = parser.parse_args()
    write_shots(chosen.into)
    (chosen.into / coach_sign.NAME).write_bytes(coach_sign.sign_png())
    TRUTH.write_text(truth_text(), encoding="utf-8")
    if not chosen.no_clips:
        write_clips(chosen.into, chosen.clips_named, chosen.jobs)


if __name__ == "__main__":
    main()
