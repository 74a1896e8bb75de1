"""What films cost: over the bare encoder, for a pair, to look into, on two cores, from the cache.

Each figure is a ratio of two works done in turn on the same clip, the least of several rounds.
Processor time counts where the machine is shared; both times are printed.
"""

import os
import resource
import shutil
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest
from msgspec.structs import replace

from recapgen.clips.film import make_film
from recapgen.clips.footage import Footage, inspect
from recapgen.model.films import Film, ImpactFrom, Strike
from recapgen.model.lesson import ClipFile
from recapgen.model.source import SourceRef
from recapgen.tools.cache import Cache
from recapgen.tools.media.converter import program

pytestmark = [pytest.mark.campaign, pytest.mark.ffmpeg]

ROUNDS = 3
CORES = 2
SEASON = 8
LENGTH_S = 3
SAME_SETTINGS = (
    *("-c:v", "libx264", "-preset", "veryfast", "-profile:v", "high", "-crf", "23", "-g", "12"),
    *("-x264-params", "no-deblock=1"),
    *("-bf", "0", "-sc_threshold", "0", "-pix_fmt", "yuv420p", "-threads", "2"),
)
HERE = SourceRef("notes.md", 1, 1)


def ffmpeg(*arguments: str) -> None:
    subprocess.run([program(), "-v", "error", "-nostdin", "-y", *arguments], check=True)


def phone_clip(path: Path, size: str, rate: int, rate_of_bits: str) -> Path:
    """A moving picture with a sensor's noise, at a phone's own rate of bits, and its sound."""
    ffmpeg(
        *("-f", "lavfi", "-i", f"testsrc2=s={size}:r={rate}:d={LENGTH_S}"),
        *("-f", "lavfi", "-i", f"anoisesrc=a=0.01:d={LENGTH_S}:r=48000"),
        *("-vf", "noise=alls=5:allf=t", "-c:v", "libx264", "-preset", "veryfast"),
        *("-b:v", rate_of_bits, "-pix_fmt", "yuv420p", "-c:a", "aac", str(path)),
    )
    return path


@dataclass(frozen=True)
class Took:
    wall_s: float
    cpu_s: float


def took(work: Callable[[], object]) -> Took:
    wall, cpu = time.perf_counter(), processor_s()
    work()
    return Took(time.perf_counter() - wall, processor_s() - cpu)


def processor_s() -> float:
    """Of this process and of the encoders that it has waited for."""
    whose = (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)
    return sum(sum(resource.getrusage(who)[:2]) for who in whose)


def least(rounds: list[Took]) -> Took:
    return Took(min(r.wall_s for r in rounds), min(r.cpu_s for r in rounds))


def in_turn(*works: Callable[[], object]) -> list[Took]:
    """The least that each took, the rounds interleaved."""
    rounds = [[took(work) for work in works] for _ in range(ROUNDS)]
    return [least(list(one)) for one in zip(*rounds, strict=True)]


def say(line: str) -> None:
    print(line)  # noqa: T201 - the figures are the result


@pytest.fixture(scope="module")
def hd(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """3 s of 1080p60 at 16 Mbit/s."""
    return phone_clip(tmp_path_factory.mktemp("phone") / "hd.mp4", "1080x1920", 60, "16M")


def looked_into(path: Path, cache: Cache) -> Footage:
    found = inspect(ClipFile(path, HERE, None, None, None, None, HERE), cache).value
    assert found is not None
    return replace(found, strike=Strike(1.8, ImpactFrom.NOTES))


def made_anew(sides: tuple[Footage, ...], folder: Path) -> Film:
    shutil.rmtree(folder, ignore_errors=True)
    made = make_film(None, sides, Cache(folder))
    assert made.value is not None
    return made.value


def rerun(path: Path, folder: Path) -> None:
    """All that is done for a clip whose film is there already."""
    side = looked_into(path, Cache(folder / "looked"))
    assert make_film(None, (side,), Cache(folder / "one")).value is not None


def test_a_film_costs_little_more_than_the_bare_encoder(hd: Path, tmp_path: Path) -> None:
    """The same clip, size and settings; ours also makes the stills, checks, lists and flushes."""
    side = looked_into(hd, Cache(tmp_path / "looked"))
    film = made_anew((side,), tmp_path / "once")
    scale = ("-vf", f"scale={film.width}:{film.height}:flags=bicubic+accurate_rnd+bitexact")
    out = tmp_path / "bare.mp4"
    bare, single, pair, looking = in_turn(
        lambda: ffmpeg("-i", str(hd), "-an", *scale, *SAME_SETTINGS, str(out)),
        lambda: made_anew((side,), tmp_path / "one"),
        lambda: made_anew((side, side), tmp_path / "two"),
        lambda: looked_into(hd, Cache(tmp_path / str(time.monotonic_ns()))),
    )
    again = least([took(lambda: rerun(hd, tmp_path)) for _ in range(10)])
    say(f"\n1080p60, {LENGTH_S} s, 16 Mbit/s   wall   processor")
    for name, one in (
        ("bare encoder", bare), ("single film", single), ("pair", pair), ("looking into", looking),
    ):  # fmt: skip
        say(f"{name:>24} {one.wall_s:6.2f} s {one.cpu_s:6.2f} s")
    for name, one, other in (
        ("film over bare", single, bare), ("pair over two films", pair, single),
        ("looking into over bare", looking, bare),
    ):  # fmt: skip
        n = 2 if one is pair else 1
        wall, cpu = one.wall_s / other.wall_s / n, one.cpu_s / other.cpu_s / n
        say(f"{name:>24} {wall:6.2f}   {cpu:6.2f}")
    say(f"{'from the cache':>24} {1000 * again.wall_s:6.1f} ms a clip")
    assert single.cpu_s <= 1.15 * bare.cpu_s
    assert pair.cpu_s <= 1.25 * 2 * single.cpu_s
    assert looking.cpu_s <= 0.5 * single.cpu_s
    assert again.cpu_s <= 0.02 * single.cpu_s


SEASON_SCRIPT = """
import sys, time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from tests.benchmarks.test_encode_speed import looked_into, made_anew
from recapgen.tools.cache import Cache
clips, into = sorted(Path(sys.argv[1]).glob("*.mp4")), Path(sys.argv[2])
def one(clip):
    side = looked_into(clip, Cache(into / "looked"))
    made_anew((side,), into / clip.stem)
began = time.perf_counter()
with ThreadPoolExecutor(2) as pool:
    list(pool.map(one, clips))
print(time.perf_counter() - began)
"""


@pytest.mark.skipif((os.cpu_count() or 1) < CORES, reason="one core only")
def test_two_cores_are_put_to_use(tmp_path: Path) -> None:
    """A season of clips through the whole of looking and making, pinned to one core and to two."""
    clips = tmp_path / "clips"
    clips.mkdir()
    first = phone_clip(clips / "0.mp4", "720x1280", 60, "8M")
    for n in range(1, SEASON):
        (clips / f"{n}.mp4").write_bytes(first.read_bytes() + bytes([0, 0, 0, 8, *b"free"]) * n)
    available = sorted(os.sched_getaffinity(0))
    walls: dict[int, float] = {}
    for cores in (available[:1], available[:CORES]) * 2:
        into = tmp_path / str(time.monotonic_ns())
        wall_s = season(clips, into, set(cores))
        walls[len(cores)] = min(wall_s, walls.get(len(cores), wall_s))
    gain = walls[1] / walls[CORES]
    say(f"\n{SEASON} clips: {walls[1]:.1f} s on one core, {walls[CORES]:.1f} s on two: {gain:.2f}x")
    assert gain >= 1.6


def season(clips: Path, into: Path, cores: set[int]) -> float:
    done = subprocess.run(
        [sys.executable, "-c", SEASON_SCRIPT, str(clips), str(into)],
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        check=True,
        preexec_fn=lambda: os.sched_setaffinity(0, cores),
    )
    return float(done.stdout)
