"""The coach's day: what has to be typed for ten drops, each built without a problem.

``pytest tests/benchmarks/test_keystrokes.py -s`` prints the table.
"""

import sys
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from statistics import median

import pytest

from recapgen.app.building import Options, build, check
from recapgen.console import Console
from recapgen.desk.new_lessons import take_in
from recapgen.model.question import Question
from recapgen.words.catalogue import words
from recapgen.words.notes_remarks import remark
from tests.benchmarks.typing_at_desk import Desk
from tests.clips.phone_clips import film
from tests.desk.inbox import by_player

pytestmark = [pytest.mark.campaign, pytest.mark.ffmpeg]

MOST_SIGNS = 150
MOST_SECONDS = 120.0
DAY = date(2027, 4, 18)
LAST = "2027-04-04"
BEGAN = datetime(2027, 4, 18, 10, 0)  # noqa: DTZ001  as a device writes it
COACH = """coach: Ines Falk
units: {speed: mph, length: m, temperature: C}
usually:
  ball: range
  surface: mat
  moved: nothing
  matters: {carry: 3 m, club path: 1 deg, club speed: 1 mph, distance left: 0.5 m}
  practice: {sessions a week: 2, balls: 40}
"""
STUDENT = "name: {name}\nhand: right\nage band: adult\nfirst year: no\n"
STUDENT += "agreed: {{page: yes, clips: yes, since: 2027-01-03}}\n"
JUNIOR = STUDENT.replace("adult", "junior").replace("2027-01-03", "2027-01-03, guardian: Ina B")
BEFORE = (131, 128, 134, 129, 133, 127, 135, 130, 132, 126)
AFTER = (139, 142, 137, 141, 138, 143, 136, 140, 142, 139)
INTENT = "Let the ball hear the clubhead go by"
WORDS = "You stopped hitting at it and let it swing. Keep that one thought, and nothing else."


def table(
    blocks: Sequence[Sequence[int]] = (BEFORE, AFTER),
    clubs: Sequence[str] = ("7 iron",),
    began: datetime = BEGAN,
) -> str:
    """Shots half a minute apart, six minutes between two blocks."""
    rows, at = ["Shot,Club,Time,Carry (m),Club Speed (mph)"], began
    for n, block in enumerate(blocks):
        at += timedelta(minutes=6) if n else timedelta()
        for ball, carry in enumerate(block):
            at += timedelta(seconds=26 + ball % 3 * 5)
            told = f"{at.isoformat(' ')},{carry},{84 + carry % 3}"
            rows.append(f"{len(rows)},{clubs[n % len(clubs)]},{told}")
    return "\n".join(rows) + "\n"


def phases() -> str:
    rows = ["Phase,Carry (m)", *(f"before,{n - 40}" for n in BEFORE)]
    return "\n".join((*rows, *(f"after,{n - 40}" for n in AFTER))) + "\n"


@dataclass(frozen=True, slots=True)
class Drop:
    """What lies in the inbox, who is named to ``new``, what is answered, and what is typed.

    ``typing`` has one for each lesson that comes of it. ``before`` is a lesson of a fortnight ago,
    ``clips`` are films by the phone's time.
    """

    files: Mapping[str, str]
    typing: Mapping[str, Callable[[Desk], None]]
    given: str | None = None
    answers: tuple[str, ...] = ()
    before: str | None = None
    clips: Mapping[str, str] = field(default_factory=dict)


def common(desk: Desk) -> None:
    desk.intent(INTENT)
    desk.fill("feels like", "rocking a pram")
    desk.fill("student says", "it felt lazy")
    desk.words(WORDS)


def number(desk: Desk, name: str, want: str) -> None:
    desk.fill("number", name)
    desk.fill("want", want)
    desk.take("chosen: before the after-shots")


def full(desk: Desk) -> None:
    common(desk)
    number(desk, "carry", "138 to 144 m")
    desk.into("IMG_0410.mov", "impact: ", "0.7")
    desk.into("IMG_0410.mov", "view: ", "fo")
    desk.into("IMG_0413.mov", "impact: ", "0.7")
    desk.into("IMG_0413.mov", "view: ", "fo")
    desk.take("next: in 3 weeks")


def three_clubs(desk: Desk) -> None:
    common(desk)
    number(desk, "carry", "higher")
    desk.take("club: 7 iron")
    desk.take("shots: {warm-up: 1-4, before: 5-14, drill: 15-18, after: 19-28}")


def clips_only(desk: Desk) -> None:
    common(desk)
    for name in ("face on before.mov", "face on after.mov"):
        desk.into(name, "impact: ", "0.7")


def putting(desk: Desk) -> None:
    common(desk)
    desk.fill("number", "holed")
    desk.take("chosen: before the after-shots")
    desk.take("readings: {before: , after: }")
    desk.into("readings:", "before: ", "3 of 10")
    desk.into("readings:", "after: ", "7 of 10")
    desk.add_line("number: holed", "kind: putting")


def by_hand(desk: Desk) -> None:
    common(desk)
    desk.fill("number", "distance left")
    desk.add_line("number: distance left", "want: lower")
    desk.take("chosen: before the after-shots")
    desk.take("readings: {before: , after: }")
    desk.into("readings:", "before: ", "[2.1, 1.4, 3, 0.6, 1.9, 2.4, 1.1, 2.8]")
    desk.into("readings:", "after: ", "[0.9, 1.2, 0.4, 1, 0.7, 1.5, 0.3, 0.8]")


def on_the_course(desk: Desk) -> None:
    common(desk)
    desk.add_line("student says: it felt lazy", "usual miss: slice off the tee")


def as_last_time(desk: Desk) -> None:
    desk.fill("intent", "as last time")
    desk.fill("student says", "still there")
    desk.words(WORDS)
    desk.take("number: carry", "want: 138 to 144 m", "matters: 3 m",
              "chosen: before the after-shots")  # fmt: skip


def from_the_range(desk: Desk) -> None:
    desk.words(WORDS)


def with_number(desk: Desk) -> None:
    common(desk)
    number(desk, "carry", "higher")


RANGE_TEXT = f"""---
# 2027-04-18, NB
intent: {INTENT}
number: carry
want: higher
chosen: noted on a phone at 10:01
shots: {{before: 09:59:30-10:06:00, after: 10:11:00-10:17:30}}
---
"""
EARLIER = f"""---
intent: {INTENT}
club: 7 iron
number: carry
want: 138 to 144 m
matters: 3 m
shots: {{before: 1-10, after: 11-20}}
---
"""
WARM = BEFORE[:4]
DROPS = {
    "full": Drop({"shots.csv": table()}, {"Ada": full}, "Ada",
                 clips={"IMG_0410.mov": "10:02:00", "IMG_0413.mov": "10:14:00"}),
    "three clubs": Drop(
        {"shots.csv": table((WARM, BEFORE, WARM, AFTER), ("sand wedge", "7 iron", "5 iron",
                                                          "7 iron"))},
        {"Brida": three_clubs}, "Brida"),
    "clips only": Drop({}, {"Corvin": clips_only}, "Corvin", ("2027-04-18",),
                       clips={"face on before.mov": "10:02:00", "face on after.mov": "10:14:00"}),
    "putting": Drop({}, {"Dorn": putting}, "Dorn"),
    "two students in one drop": Drop(
        {"a.csv": by_player(table(), "Edda Blum"),
         "b.csv": by_player(table(began=BEGAN + timedelta(hours=2)), "Finn Roth")},
        {"Edda Blum": with_number, "Finn Roth": with_number}),
    "on the course": Drop({}, {"Gero": on_the_course}, "Gero"),
    "junior": Drop({"shots.csv": phases()}, {"Hanna": with_number}, "Hanna", ("2027-04-18",)),
    "as last time": Drop({"shots.csv": table()}, {"Ivo": as_last_time}, "Ivo", before=EARLIER),
    "range page": Drop({"shots.csv": table(), "notes.md": RANGE_TEXT}, {"Nele B": from_the_range},
                       answers=("", "yes")),
    "by hand": Drop({}, {"Kaya": by_hand}, "Kaya"),
}  # fmt: skip


def lay_out(root: Path) -> None:
    (root / "inbox").mkdir(parents=True)
    (root / "coach.yml").write_text(COACH, encoding="utf-8")
    for drop in DROPS.values():
        for name in drop.typing:
            told = (JUNIOR if name == "Hanna" else STUDENT).format(name=name)
            (root / name).mkdir()
            (root / name / "student.yml").write_text(told, encoding="utf-8")
            if drop.before is not None:
                (root / name / LAST).mkdir()
                (root / name / LAST / "notes.md").write_text(drop.before, encoding="utf-8")
                shots = table().replace("2027-04-18", LAST)
                (root / name / LAST / "shots.csv").write_text(shots, encoding="utf-8")


def take(root: Path, drop: Drop) -> dict[str, Desk]:
    """The drop taken in and typed into; the desk of each student."""
    for name, content in drop.files.items():
        (root / "inbox" / name).write_text(content, encoding="utf-8")
    for name, clock in drop.clips.items():
        hour, minute, second = map(int, clock.split(":"))
        made = datetime(2027, 4, 18, hour, minute, second, tzinfo=UTC)
        told = f"creation_time={made:%Y-%m-%dT%H:%M:%S}Z"
        film(root / "inbox" / name, range(40), "-metadata", told, "-vf", "scale=90:160", rate="30")
    left = list(drop.answers)
    asked: list[Question] = []

    def answer(question: Question) -> str | None:
        asked.append(question)
        return left.pop(0) if left else None

    taken, problems = take_in(
        root, drop.given, answer, lambda said: remark(said, words("en")), DAY, rest=lambda _: None
    )
    assert problems == ()
    assert taken is not None
    assert not taken.left
    desks = {}
    for name, typing in drop.typing.items():
        file = root / name / DAY.isoformat() / "notes.md"
        desk = Desk(file.read_text(encoding="utf-8"))
        for given in drop.answers[: len(asked)] if name == next(iter(drop.typing)) else ():
            desk.answer(given)
        typing(desk)
        file.write_text(desk.text, encoding="utf-8")
        desks[name] = desk
    return desks


def test_a_lesson_is_typed_in_two_minutes(tmp_path: Path) -> None:
    root = tmp_path / "lessons"
    lay_out(root)
    signs, seconds = [], []
    lines = [f"\n{'':28}{'characters':>10}{'keys':>6}{'seconds':>9}"]
    for what, drop in DROPS.items():
        for desk in take(root, drop).values():
            typed = desk.typed
            signs.append(typed.signs)
            seconds.append(typed.seconds)
            lines.append(f"{what:28}{typed.signs:10}{typed.keys:6}{typed.seconds:9.0f}")
    lines.append(f"{'median':28}{median(signs):10.0f}{'':6}{median(seconds):9.0f}")
    sys.stdout.write("\n".join((*lines, "")))
    assert check(root, DAY).problems == ()
    assert median(signs) <= MOST_SIGNS
    assert max(seconds) <= MOST_SECONDS


def test_what_was_typed_is_built(tmp_path: Path) -> None:
    root = tmp_path / "lessons"
    lay_out(root)
    for drop in DROPS.values():
        take(root, drop)
    outcome = build(root, Options(today=DAY), Console(words("en")))
    assert outcome.problems == ()
    assert outcome.written == len([name for drop in DROPS.values() for name in drop.typing])
