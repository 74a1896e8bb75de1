"""The sample lessons, from the folder to everything that comes out."""

import json
import shutil
from collections import Counter
from importlib.resources import files
from pathlib import Path

import jsonschema
import pytest

from tests.end_to_end.small_lessons import TODAY, recapgen, tree

pytestmark = pytest.mark.ffmpeg

VERDICTS = {
    "changed",
    "probably changed",
    "too early to tell",
    "no change",
    "went the other way",
}


def _records(out: Path) -> dict[str, dict[str, object]]:
    data = out / "coach_book" / "data"
    return {
        path.relative_to(data).as_posix(): json.loads(path.read_text(encoding="utf-8"))
        for path in sorted(data.rglob("*.json"))
    }


def test_the_set_shows_every_verdict(sample_out: Path) -> None:
    verdicts = {record["verdict"] for record in _records(sample_out).values()}
    assert verdicts >= VERDICTS


def test_the_data_follows_its_schema(sample_out: Path) -> None:
    schema = json.loads(files("recapgen.book").joinpath("recap.schema.json").read_text("utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    records = _records(sample_out)
    assert len(records) >= 12
    for record in records.values():
        jsonschema.validate(record, schema, cls=jsonschema.Draft202012Validator)


def test_every_row_is_accounted_for(sample_out: Path) -> None:
    for path, record in _records(sample_out).items():
        shots = record["shots"]
        if not isinstance(shots, dict) or shots.get("read") is None:
            continue
        left_out = shots["left_out"]
        assert isinstance(left_out, list), path
        counted = shots["used"] + shots["set_aside"] + shots["not_read"] + len(left_out)
        assert counted == shots["read"], path


def test_films_are_made_for_at_least_four_lessons(sample_out: Path) -> None:
    filmed = [r["clips"] for r in _records(sample_out).values() if r["clips"]]
    assert len(filmed) >= 4
    views = Counter(clip["view"] for clips in filmed for clip in clips)  # type: ignore[attr-defined]
    assert views["face on"] >= 4
    assert views["down the line"] >= 4


def test_no_film_of_a_student_is_shown_in_a_case(sample_out: Path) -> None:
    """A case has its own, with faces hidden."""
    site = sample_out / "site"
    for_strangers = {film.name for film in site.glob("cases/films/*.mp4")}
    their_own = {film.name for film in site.glob("*/films/*.mp4") if film.parts[-3] != "cases"}
    assert len(for_strangers) == 2
    assert len(their_own) > 8
    assert not for_strangers & their_own


def _builds_the_same_elsewhere(samples: Path, sample_out: Path, other: Path) -> None:
    env = {"PYTHONHASHSEED": "4711", "TZ": "Pacific/Auckland"}
    ran = recapgen("build", samples, "--out", other, "--today", TODAY, "--jobs", "1", env=env)
    assert ran.code == 0, ran.err
    for part in ("site", "coach_book"):
        assert tree(other / part) == tree(sample_out / part)


def test_two_builds_give_the_same_bytes(samples: Path, sample_out: Path, tmp_path: Path) -> None:
    """The second makes a third of what the clips need anew; the campaign makes all of it."""
    kept = tmp_path / "elsewhere" / ".recapgen" / "cache"
    shutil.copytree(sample_out / ".recapgen" / "cache", kept)
    for entry in sorted(kept.iterdir())[::3]:
        if entry.is_dir():
            shutil.rmtree(entry)
        else:  # a finished drawing is one file
            entry.unlink()
    _builds_the_same_elsewhere(samples, sample_out, tmp_path / "elsewhere")


@pytest.mark.campaign
def test_two_builds_from_nothing_give_the_same_bytes(
    samples: Path, sample_out: Path, tmp_path: Path
) -> None:
    _builds_the_same_elsewhere(samples, sample_out, tmp_path / "elsewhere")


def test_the_published_site_names_no_student_at_its_front(sample_out: Path) -> None:
    front = (sample_out / "site" / "index.html").read_text(encoding="utf-8")
    names = {str(record["student"]) for record in _records(sample_out).values()}
    assert len(names) >= 5
    assert not [name for name in names if name in front]


def test_no_folder_name_of_the_coachs_is_published(sample_out: Path) -> None:
    keys = {path.split("/")[0] for path in _records(sample_out)}
    published = " ".join(p.as_posix() for p in (sample_out / "site").rglob("*"))
    site = published.replace(str(sample_out), "")
    assert not [key for key in keys if key in site]
