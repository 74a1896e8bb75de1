"""Make the measured half of sample_lessons again: ``python -m tests.samples.make_samples``."""

import argparse
from collections.abc import Iterator
from pathlib import Path

from tests.samples.invent_shots import invent
from tests.samples.shot_exports import EXPORTS, SPLIT_AFTER
from tests.samples.shot_stories import STORIES, ShotStory
from tests.samples.shot_tables import table_bytes

SAMPLE_LESSONS = Path(__file__).parents[2] / "sample_lessons"


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


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--into", type=Path, default=SAMPLE_LESSONS, help="the lessons folder")
    write_shots(parser.parse_args().into)


if __name__ == "__main__":
    main()
