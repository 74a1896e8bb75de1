"""The sample lessons read without a problem and show what they are there to show."""

import io
import math
import re
from collections.abc import Mapping
from pathlib import Path

import pytest
from PIL import Image, ImageChops

from recapgen.intake.folder import survey
from recapgen.intake.settings import read_coach
from recapgen.model.evidence import Declared, GuardFinding, Kept, Verdict
from recapgen.model.recap import Recap
from recapgen.recap.lesson_recaps import PreparedLesson, recap_lessons
from sample_making import coach_sign
from sample_making.ball_flight import Launch, fly
from sample_making.invent_shots import invent
from sample_making.make_samples import SAMPLE_LESSONS, shot_files
from sample_making.shot_stories import STORIES, ShotStory
from tests.whole_folder import folder_of

_VERDICTS = {
    "mira/2027-01-23 driver": (Verdict.CHANGED, Declared.SEALED),
    "mira/2027-02-20": (Verdict.TOO_EARLY, Declared.STATED),
    "jonas/2027-01-30": (Verdict.PROBABLY, Declared.AFTERWARDS),
    "jonas/2027-03-06": (Verdict.CHANGED, Declared.STATED),
    "jonas/2027-05-08": (Verdict.PROBABLY, Declared.STATED),
    "jonas/2027-06-12": (Verdict.CHANGED, Declared.STATED),
    "pia/2027-02-06 pitching": (Verdict.CHANGED, Declared.SEALED),
    "pia/2027-03-20": (Verdict.TOO_EARLY, Declared.STATED),
    "pia/2027-05-15 pitching again": (Verdict.CHANGED, Declared.STATED),
    "gunnar/2027-02-13": (Verdict.NO_CHANGE, Declared.STATED),
    "gunnar/2027-03-27": (Verdict.OTHER_WAY, Declared.SEALED),
    "gunnar/2027-05-01": (Verdict.PROBABLY, Declared.STATED),
    "lene/2027-02-27": (Verdict.PROBABLY, Declared.STATED),
    "lene/2027-05-22": (Verdict.CHANGED, Declared.SEALED),
    "otto/2027-03-13": (Verdict.TOO_EARLY, Declared.AFTERWARDS),
}
_WITHOUT_NUMBER = {"mira/2027-04-17 nine holes", "lene/2027-04-10 wedges"}
_KEPT = {
    "mira/2027-02-20": Kept.MOSTLY,
    "jonas/2027-03-06": Kept.FADED,
    "pia/2027-05-15 pitching again": Kept.SOME,
    "gunnar/2027-05-01": Kept.NO_GAIN,
}


@pytest.fixture(scope="module")
def told() -> Mapping[str, Recap]:
    """Every sample lesson by its folder, read and compared; no clip is opened."""
    coach = read_coach(SAMPLE_LESSONS).value
    found, _ = survey(SAMPLE_LESSONS)
    assert coach is not None
    assert found is not None
    recaps: dict[str, Recap] = {}
    for paths in found.students:
        folder = folder_of(SAMPLE_LESSONS, paths, coach)
        assert folder.problems == ()
        prepared = [
            PreparedLesson(lesson, (), f"{lesson.key}.html", None) for lesson in folder.lessons
        ]
        accuracy, altitude_m = dict(coach.accuracy), coach.altitude_m
        for recap in recap_lessons(folder.student, prepared, folder.log, accuracy, altitude_m):
            recaps[f"{paths.key}/{recap.key}"] = recap
    return recaps


def test_every_lesson_has_the_verdict_it_was_invented_for(told: Mapping[str, Recap]) -> None:
    compared = {
        key: (recap.number.comparison.verdict, recap.number.comparison.declared)
        for key, recap in told.items()
        if recap.number.comparison is not None
    }
    assert compared == _VERDICTS
    assert set(told) - set(compared) == _WITHOUT_NUMBER


def test_one_lesson_stuck_and_one_faded(told: Mapping[str, Recap]) -> None:
    kept = {
        key: r.number.retention.kept for key, r in told.items() if r.number.retention is not None
    }
    assert kept == _KEPT


def test_guards_hold_or_say_that_they_cannot_tell(told: Mapping[str, Recap]) -> None:
    guards = {
        key: recap.number.comparison.guards[0].finding
        for key, recap in told.items()
        if recap.number.comparison is not None and recap.number.comparison.guards
    }
    assert guards == {
        "mira/2027-01-23 driver": GuardFinding.HELD,
        "pia/2027-02-06 pitching": GuardFinding.HELD,
        "pia/2027-05-15 pitching again": GuardFinding.HELD,
        "lene/2027-05-22": GuardFinding.CANNOT_TELL,
    }


def test_every_row_written_is_a_row_read(told: Mapping[str, Recap]) -> None:
    written = {story.folder: sum(s.balls for s in story.stretches) for story in STORIES}
    read = {
        key: recap.evidence.tally.read
        for key, recap in told.items()
        if recap.evidence.tally is not None
    }
    assert read == written


def test_the_whole_set_is_small() -> None:
    files = [file for file in SAMPLE_LESSONS.rglob("*") if file.is_file()]
    assert sum(file.stat().st_size for file in files) < 12_000_000


@pytest.mark.parametrize("story", STORIES, ids=lambda story: story.folder)
def test_the_script_makes_the_committed_tables(story: ShotStory) -> None:
    made = dict(shot_files(story))
    lying = {
        f"{story.folder}/{file.name}": file.read_bytes()
        for file in (SAMPLE_LESSONS / story.folder).glob("*.csv")
    }
    assert made == lying


def test_the_script_draws_the_committed_mark() -> None:
    kept = Image.open(SAMPLE_LESSONS / coach_sign.NAME)
    drawn = Image.open(io.BytesIO(coach_sign.sign_png()))
    assert ImageChops.difference(kept, drawn).getbbox(alpha_only=False) is None


@pytest.mark.parametrize("story", STORIES, ids=lambda story: story.folder)
def test_invented_balls_obey_their_impact(story: ShotStory) -> None:
    for shot in invent(story.stretches, story.seed):
        club, ball, landing = shot.delivery, shot.launch, shot.landing
        low, high = sorted((club.path_deg, club.face_deg))
        assert low <= ball.direction_deg <= high
        assert club.attack_deg < ball.angle_deg < club.loft_deg
        assert 0.65 < ball.ball_speed_mps / club.speed_mps < 1.5
        straight = landing.carry_m * math.tan(math.radians(ball.direction_deg))
        bends_right = club.face_deg > club.path_deg
        assert (landing.side_m > straight) is bends_right


def test_flight_agrees_with_a_published_launch() -> None:
    """A robot's 168.4 mph at 8 degrees and 3500 rpm carries about 273 yards (249.7 m)."""
    landing = fly(Launch(168.4 * 0.44704, 8.0, 0.0, 3500.0, 0.0))
    assert landing.carry_m == pytest.approx(249.7, rel=0.03)
    assert landing.side_m == pytest.approx(0.0, abs=1e-9)


def test_nobody_is_named_in_anybody_elses_words() -> None:
    names = {file.parent.name for file in SAMPLE_LESSONS.glob("*/student.yml")}
    for notes in SAMPLE_LESSONS.rglob("notes.md"):
        owner = notes.relative_to(SAMPLE_LESSONS).parts[0]
        words = set(re.findall(r"\w+", notes.read_text(encoding="utf-8").lower()))
        assert words.isdisjoint(names - {owner}), notes


def test_all_say_that_they_are_invented() -> None:
    for name in ("coach.yml", "ABOUT.md"):
        assert "nvented" in Path(SAMPLE_LESSONS / name).read_text(encoding="utf-8")
