"""How well the strike and the positions of a swing are found, in tables.

Run ``python tests/benchmarks/strike_accuracy.py`` from the checkout, with the number of invented
scenes a row if other than 200; seeds are fixed. The ranges are synthetic and the pictures are
the drawn swings of the sample lessons: what is feasible, not what every range gives.
"""

import sys
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np

if __name__ == "__main__":  # started as a script: the checkout is two folders up
    sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from recapgen.clips.ball_departure import ball_gone
from recapgen.clips.footage import BALL_SIDE, glimpses_of
from recapgen.clips.movement import Movement, movement_in
from recapgen.clips.own_sound import FEWEST_OTHERS, is_dull, softer_than_own_db
from recapgen.clips.positions import find_positions
from recapgen.clips.strike import Hit, find_strike, hits_in, is_confident
from recapgen.model.films import ImpactFrom
from recapgen.tools.media.recording import Recording, look
from recapgen.tools.media.senses import Sound, close_up, hear
from sample_making.draw_swing import SwingArtist
from sample_making.film_clips import HEIGHT, WIDTH, ClipPlan, truth_of
from sample_making.make_samples import SAMPLE_LESSONS, clip_plans
from tests.clips.range_sounds import TRAVEL_S, Range, again_s, listen, watch

SEED = 20310203
OTHERS = 40
NEAR_S = 0.012  # less than a picture at 60 a second
RANGES = (
    Range("quiet, SNR 20 dB"),
    Range("quiet, SNR 10 dB", snr_db=10),
    Range("quiet, SNR 6 dB", snr_db=6),
    Range("quiet, SNR 3 dB", snr_db=3),
    Range("wind", wind=1),
    Range("strong wind", wind=4),
    Range("somebody speaks", speech=1),
    Range("one neighbour strikes", neighbours=1),
    Range("two neighbours strike", neighbours=2),
    Range("practice swing first", practice=True),
    Range("practice, neighbours, speech", neighbours=2, practice=True, speech=0.7),
    Range("practice, one neighbour", neighbours=1, practice=True),
    Range("practice, two neighbours", neighbours=2, practice=True),
    Range("talk, two neighbours", neighbours=2, speech=1),
    Range("ambience, two neighbours", neighbours=2, ambience=1),
    Range("music, two neighbours", neighbours=2, music=1),
    Range("loud music, one neighbour", neighbours=1, music=3, snr_db=12),
    Range("two balls struck", again=True),
    Range("two balls, two neighbours", again=True, neighbours=2),
    Range("no strike, two neighbours", neighbours=2, struck=False),
    Range("practice alone, two neighb.", neighbours=2, struck=False, practice=True),
)


@dataclass(frozen=True)
class Score:
    """Shares of all scenes; ``wrong_sure`` of those that were believed."""

    wrong: float
    sure: float
    wrong_sure: float
    median_ms: float


def scored(answers: Iterable[tuple[float | None, bool]]) -> Score:
    """From the errors in seconds (None: no answer) and whether each was believed."""
    told = list(answers)
    errors = np.array([np.inf if e is None else abs(e) for e, _ in told])
    sure = np.array([s for _, s in told])
    believed = errors[sure]
    good = errors[errors <= NEAR_S]
    return Score(
        wrong=float((errors > NEAR_S).mean()),
        sure=float(sure.mean()),
        wrong_sure=float((believed > NEAR_S).mean()) if len(believed) else 0.0,
        median_ms=1000 * float(np.median(good)) if len(good) else float("nan"),
    )


@cache
def own_sounds(snr_db: float) -> tuple[Hit, ...]:
    """The strikes of a lesson's other clips, as far as they are believed: of a calm moment."""
    calm, heard = Range("calm", snr_db=snr_db), []
    for number in range(OTHERS):
        dice = np.random.default_rng((SEED, OTHERS, number))
        struck_s = dice.uniform(1.2, 2.2)
        hits = hits_in(Sound(listen(calm, struck_s, dice).astype(np.float32), 0.0))
        heard.append(find_strike(hits, watch(calm, struck_s, 0.0, dice)).heard)
    return tuple(hit for hit in heard if hit is not None)


def by_ear(place: Range, n: int) -> tuple[Score, Score, Score, Score]:
    """The sound alone; with movement; then as the only clip of a lesson, and among others.

    Over ``n`` scenes of one range. Nothing that is believed of a scene without a strike is right.
    """
    alone, together, only, among = [], [], [], []
    own = own_sounds(place.snr_db)
    for number in range(n):
        dice = np.random.default_rng((SEED, number))
        struck_s = dice.uniform(1.2, 2.2)
        early_s = dice.uniform(-0.06, 0.03) if number % 2 else dice.uniform(0.08, 0.13)
        second_s = again_s(struck_s, dice) if place.again else None
        hits = hits_in(Sound(listen(place, struck_s, dice, second_s).astype(np.float32), 0.0))
        movement = watch(place, struck_s, early_s, dice, second_s)
        heard_s = hits[0].at_s - TRAVEL_S - struck_s if hits else None
        alone.append((heard_s, bool(hits) and is_confident(hits)))
        strike = find_strike(hits, movement)
        nothing = place.again or not place.struck  # nothing chooses between two, or there is none
        chosen = None if nothing else strike.at_s - struck_s
        sound = strike.heard
        together.append((chosen, sound is not None))
        only.append((chosen, sound is not None and not is_dull(sound)))
        among.append((chosen, sound is not None and not _is_anothers(sound, own, dice)))
    return scored(alone), scored(together), scored(only), scored(among)


def _is_anothers(sound: Hit, own: Sequence[Hit], dice: np.random.Generator) -> bool:
    """Held against as few others as are enough; as dull where not even those are believed."""
    if len(own) < FEWEST_OTHERS:
        return is_dull(sound)
    others = [own[k] for k in dice.integers(0, len(own), FEWEST_OTHERS)]
    return softer_than_own_db(sound, others) is not None


@dataclass(frozen=True)
class Watched:
    plan: ClipPlan
    recording: Recording
    movement: Movement

    @property
    def path(self) -> Path:
        return SAMPLE_LESSONS / self.plan.file


def watched() -> list[Watched]:
    """Every drawn clip of the samples, looked at once."""
    seen = []
    for plan in clip_plans():
        path = SAMPLE_LESSONS / plan.file
        recording = look(path)
        assert isinstance(recording, Recording)
        seen.append(Watched(plan, recording, movement_in(glimpses_of(path, recording))))
    return seen


def fastest_error(clip: Watched) -> float:
    return clip.movement.fastest_s - clip.plan.impact_s


def ball_error(clip: Watched) -> float | None:
    """The ball marked where it was drawn."""
    at = SwingArtist(clip.plan.scene, (WIDTH, HEIGHT)).ball_place()
    gone = ball_gone(close_up(clip.path, clip.recording, *at, BALL_SIDE))
    return None if gone is None else gone.at_s - clip.plan.impact_s


def combined_error(clip: Watched) -> float | None:
    """As a build would find it, without a word from the notes; None where it asks."""
    sound = hear(clip.path, clip.recording) if clip.recording.has_sound else None
    strike = find_strike(hits_in(sound) if sound else (), clip.movement)
    return strike.at_s - clip.plan.impact_s if strike.found_in is ImpactFrom.SOUND else None


def position_error(name: str) -> Callable[[Watched], float | None]:
    def error(clip: Watched) -> float | None:
        found = {k.value: v for k, v in find_positions(clip.movement, clip.plan.impact_s).items()}
        return found[name] - truth_of(clip.plan).positions_s[name] if name in found else None

    return error


IN_PICTURES: tuple[tuple[str, Callable[[Watched], float | None]], ...] = (
    ("strike: fastest movement", fastest_error),
    ("strike: marked ball gone", ball_error),
    ("strike: sound + movement", combined_error),
    ("start", position_error("start")),
    ("top", position_error("top")),
    ("finish", position_error("finish")),
)


def by_eye(clips: Sequence[Watched]) -> dict[tuple[str, str], list[float | None]]:
    """Errors in seconds by what was looked for and the view."""
    return {
        (name, view): [error(clip) for clip in clips if clip.plan.scene.view == view]
        for name, error in IN_PICTURES
        for view in ("face on", "down the line")
    }


def main(scenes: int) -> None:
    say = sys.stdout.write
    say(f"The strike in sound, {scenes} invented scenes a row; wrong: by more than 12 ms\n")
    parts = ("sound alone", "sound and movement", "the only clip", "two other clips")
    say(f"{'':>30}" + "".join(f"   {part:>26}" for part in parts) + "\n")
    say(f"{'':>30}" + "   wrong  sure  wrong of sure" * len(parts) + "   median\n")
    for place in RANGES:
        scores = by_ear(place, scenes)
        row = "".join(f"   {s.wrong:5.1%} {s.sure:5.0%}  {s.wrong_sure:13.1%}" for s in scores)
        say(f"{place.name:>30}{row}   {scores[1].median_ms:.1f} ms\n")
    say("\nIn pictures: the drawn swings of the samples, errors in ms\n")
    say(f"{'':>30} {'view':>14}  found   least  median    most\n")
    for (name, view), errors in by_eye(watched()).items():
        found = [1000 * e for e in errors if e is not None]
        spread = f"{min(found):7.0f} {np.median(found):7.0f} {max(found):7.0f}" if found else ""
        say(f"{name:>30} {view:>14}  {len(found):>2}/{len(errors):<2} {spread}\n")


if __name__ == "__main__":
    main(scenes=int(sys.argv[1]) if len(sys.argv) > 1 else 200)
