"""``forget``: all that is kept of one student is found, erased at once, and never made again.

The student's mark is written first and the receipt last. Between them every step may be done
again, so a run that was stopped is finished by the next one.
"""

import os
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date
from difflib import get_close_matches
from pathlib import Path
from time import time

from msgspec import Struct
from msgspec.structs import replace

from recapgen.app.building import Options, build, output_of
from recapgen.app.consent_first import address_in, is_student, key_of, part_of, people_in
from recapgen.app.gone_folders import kept_of
from recapgen.console import Console
from recapgen.intake.folder import Survey, survey
from recapgen.intake.kept_readings import KeptReadings
from recapgen.intake.settings import read_coach
from recapgen.locking.locks import lock_file
from recapgen.model.book import question_path, record_path
from recapgen.model.naming import folded
from recapgen.model.people import Coach, Student
from recapgen.model.problem import Checked, Code, Problem
from recapgen.model.public import CASES, FRONT_PAGE
from recapgen.model.receipt import Forgotten, Receipt, StudentTrace, TraceKind
from recapgen.model.source import SourceRef
from recapgen.privacy.addresses import read_secret
from recapgen.privacy.forgotten import begin, finish, is_forgotten, new_number, under_way
from recapgen.privacy.lasting_links import (
    Memory,
    StudentLink,
    all_addresses,
    keep_memory,
    read_memory,
)
from recapgen.privacy.lasting_links import forget as forget_links
from recapgen.publish.build_state import WHOLE, PartState, program, read_states, write_states
from recapgen.publish.emptying import empty_out, is_emptying
from recapgen.publish.gone import read_gone, write_gone
from recapgen.publish.output import Output, OutputPlaces, claim
from recapgen.publish.swap import take_down
from recapgen.tools.atomic import write_text
from recapgen.tools.cache import Cache
from recapgen.tools.clock import today
from recapgen.tools.leftovers import temporary_folder
from recapgen.tools.walking import sizes_below
from recapgen.words.catalogue import words
from recapgen.words.forget_sentences import receipt_text

RECEIPTS = ".recapgen/receipts"
_COACH_ALONE = 0o600
_SETTINGS = frozenset({"coach.yml", "coach.yaml"})


class Whom(Struct, frozen=True):
    """Whose traces are erased: the ``key`` of the folder in ``root``, which may be gone.

    ``names`` are all that the student is called, ``language`` that of the pages, ``addresses``
    every one that the site ever had. ``marked`` says that nothing is made of the folder already,
    ``stopped`` is the receipt of a run that did not come to its end.
    """

    root: Path
    key: str
    names: tuple[str, ...]
    language: str
    places: OutputPlaces
    secret: bytes | None
    addresses: tuple[str, ...]
    marked: bool
    stopped: Receipt | None

    @property
    def is_forgotten(self) -> bool:
        """Whether a run came to its end."""
        return self.marked and self.stopped is None

    @property
    def folder(self) -> Path:
        return self.root / self.key


def whom(student: Path, out: Path | None, day: date | None) -> Checked[Whom]:
    """The student of a folder, by its name or by the shown one; nobody is guessed.

    Known is who has a folder, a place in the build state, or anything that is kept.
    """
    asked = Path(os.path.abspath(student))  # noqa: PTH100  a link is not followed
    root = asked.parent.resolve()
    if not _holds_lessons(root) or _holds_lessons(asked):
        return Checked(None, (_nobody(student, ()),))
    places = OutputPlaces(output_of(root, out))
    found = survey(root).value or Survey(root, ())
    states, secret = read_states(places.state_file), read_secret(root).value
    kept = read_memory(root, places.links)
    if kept.problems:
        return Checked(None, kept.problems)
    memory = kept.value or Memory({})
    coach = read_coach(root).value or Coach("")
    shown = _shown_names(found, coach, today(day), places)
    known = {*shown, *memory.students, *_kept_keys(root, places, states)}
    keys = _called(asked.name, known, shown)
    if not keys and secret is not None and is_forgotten(root, secret, asked.name):
        keys = [asked.name]
    if len(keys) != 1:
        near = get_close_matches(asked.name, sorted({*known, *_names(shown)}), n=3, cutoff=0.5)
        return Checked(None, (_nobody(student, near or sorted(known)[:3]),))
    (key,) = keys
    name, language = shown.get(key, (key, None))
    told = Whom(
        root=root,
        key=key,
        names=tuple(dict.fromkeys((name, key))),
        language=language or coach.language,
        places=places,
        secret=secret,
        addresses=_addresses(key, memory, states, secret),
        marked=secret is not None and is_forgotten(root, secret, key),
        stopped=None if secret is None else under_way(root, secret, key),
    )
    return Checked(told, ())


def traces_in_output(of: Whom) -> tuple[StudentTrace, ...]:
    """What there is of the student in the output, and the lock."""
    places, key = of.places, of.key
    found = []
    sites = [places.site / at for at in of.addresses]
    found.append(_below(TraceKind.SITE, *(site for site in sites if not is_emptying(site))))
    found.append(_below(TraceKind.UNSEALED, *(places.unsealed / at for at in of.addresses)))
    found.append(_below(TraceKind.LOCK, *(lock_file(of.root, at) for at in of.addresses)))
    states = read_states(places.state_file)
    own = states.get(part_of(key))
    if own is not None and {"cases", "case_clips"} & {*own.granted}:
        cases = [page for page in (places.site / CASES).glob("*.html") if page.name != FRONT_PAGE]
        found.append(StudentTrace(TraceKind.CASES, len(cases), str(places.site / CASES)))
    found.append(_below(TraceKind.ONE_PAGES, places.one_pages))
    bundles = (places.bundles / f"{at}.zip" for at in of.addresses)
    found.append(_below(TraceKind.COPIES, places.copies / f"{key}.zip", *bundles))
    data = [places.book / Path(path(key, "x")).parent for path in (record_path, question_path)]
    records = sum(len(list(folder.glob("*.json"))) for folder in data)
    found.append(StudentTrace(TraceKind.BOOK, records, str(places.book)))
    lines = (own is not None) + sum(at.partition("/")[0] == key for at in read_gone(places.gone))
    found.append(StudentTrace(TraceKind.STATE, lines, str(places.own)))
    found.append(_below(TraceKind.STILLS, places.stills / key))
    return tuple(trace for trace in found if trace.count)


def forget(
    of: Whom,
    traces: Sequence[StudentTrace],
    *,
    beside: Callable[[], None],
    day: date | None,
    console: Console,
) -> Checked[Forgotten]:
    """Erase all ``traces``; ``beside`` erases those among the lessons.

    Then everybody else is built anew, and whatever of the cache that build did not use goes, too:
    anybody may be named in it. Raises OSError; the next run then goes on.
    """
    on, built = today(day), of.places.own.is_dir()
    receipt = _joined(of.stopped, Receipt(new_number(), on, {t.kind: t.count for t in traces}))
    claimed = claim(of.places.root, of.root) if built else Checked[Output](None, ())
    if claimed.problems:
        return Checked(None, claimed.problems)
    if of.secret is not None:
        begin(of.root, of.secret, of.key, receipt)
    if claimed.value is not None:
        try:
            _erase_in_output(of, claimed.value, on)
        finally:
            claimed.value.release()
    beside()
    if built:
        swept = _build_and_sweep(of, day, console)
        if swept.value is None:
            return Checked(None, swept.problems)
        erased = {
            **receipt.erased,
            TraceKind.CACHE: receipt.erased.get(TraceKind.CACHE, 0) + swept.value,
        }
        receipt = replace(receipt, erased=erased)
    left = of.folder if os.path.lexists(of.folder) else None
    file = of.root / RECEIPTS / f"{receipt.on.isoformat()}-{receipt.number}.txt"
    file.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    write_text(file, receipt_text(receipt, words("en"), left=left is not None), _COACH_ALONE)
    if of.secret is not None:
        finish(of.root, of.secret, of.key)
    return Checked(Forgotten(receipt, file, left), ())


def _erase_in_output(of: Whom, output: Output, on: date) -> None:
    """What is public first; then what is made of everybody, which is made anew without them."""
    for at in of.addresses:
        empty_out(output, at, of.language, on)
        take_down(output.unsealed / at, output.staging)
        lock_file(of.root, at).unlink(missing_ok=True)
    theirs = (output.stills / of.key, output.copies / f"{of.key}.zip")
    of_everybody = (output.site / CASES, output.one_pages, output.bundles, output.book)
    for place in (*of_everybody, *theirs):
        take_down(place, output.staging)
    for file in (output.inventory, output.last_run):
        file.unlink(missing_ok=True)
    states = read_states(output.state_file)
    write_states(output.state_file, _without(of, states))
    memory = read_memory(of.root, output.links).value
    if memory is not None and of.secret is not None:
        keep_memory(of.root, output.links, forget_links(memory, (of.key,), of.secret))
    gone = read_gone(output.gone)
    write_gone(output.gone, {at: s for at, s in gone.items() if at.partition("/")[0] != of.key})


def _without(of: Whom, states: Mapping[str, PartState]) -> dict[str, PartState]:
    """The states of all others, as they would be had the student never been there."""
    others = {key_of(part) for part in states if is_student(part)} - {of.key}
    told = {
        part: replace(state, knew=tuple(name for name in state.knew if name in others))
        for part, state in states.items()
        if part not in (part_of(of.key), CASES)
    }
    whole = told.get(WHOLE)
    if whole is not None:
        start = f"{of.key}/"
        inputs = {path: seen for path, seen in whole.inputs.items() if not path.startswith(start)}
        told[WHOLE] = replace(whole, inputs=inputs, problems=())
    return told


def _build_and_sweep(of: Whom, day: date | None, console: Console) -> Checked[int]:
    """How many entries of the cache went with those that nobody else uses."""
    began = time()
    outcome = build(of.root, Options(out=of.places.root, today=day), console)
    console.built(outcome)
    claimed = claim(of.places.root, of.root)
    if claimed.value is None:
        return Checked(None, claimed.problems)
    try:
        before = sum(1 for _ in claimed.value.cache.iterdir())
        Cache(claimed.value.cache).clear_unused(began)
        return Checked(before - sum(1 for _ in claimed.value.cache.iterdir()), ())
    finally:
        claimed.value.release()


def _joined(stopped: Receipt | None, now: Receipt) -> Receipt:
    """One receipt for both halves: what was counted first was erased in part, or still is."""
    if stopped is None:
        return now
    kinds = {*stopped.erased, *now.erased}
    most = {kind: max(stopped.erased.get(kind, 0), now.erased.get(kind, 0)) for kind in kinds}
    return replace(stopped, erased=most)


def _addresses(
    key: str, memory: Memory, states: Mapping[str, PartState], secret: bytes | None
) -> tuple[str, ...]:
    """Every address of the student that is known of."""
    up = address_in(states, key)
    link = memory.students.get(key, StudentLink(key))
    made = () if secret is None else all_addresses(secret, link)
    return tuple(dict.fromkeys((*((up,) if up is not None else ()), *made)))


def _shown_names(
    found: Survey, coach: Coach, day: date, places: OutputPlaces
) -> dict[str, tuple[str, str | None]]:
    """Folder -> the student's shown name, and the language of the pages where it is stated."""
    with temporary_folder() as kept:
        reader = KeptReadings(Cache(kept, behind=places.cache), program())
        people = people_in(found, coach, day, reader)
    read = {key: each.who.value or Student(key, key) for key, each in people.items()}
    return {key: (student.name, student.language) for key, student in read.items()}


def _kept_keys(root: Path, places: OutputPlaces, states: Mapping[str, PartState]) -> Iterator[str]:
    yield from (key_of(part) for part in states if is_student(part))
    yield from (at.partition("/")[0] for at in (*read_gone(places.gone), *kept_of(root, places)))


def _called(name: str, known: set[str], shown: Mapping[str, tuple[str, str | None]]) -> list[str]:
    """The folder of that very name; else those of that name on any computer, or so shown."""
    if name in known:
        return [name]
    wanted = folded(name)
    own = [key for key in known if folded(key) == wanted]
    return own or [key for key, (said, _) in shown.items() if folded(said) == wanted]


def _names(shown: Mapping[str, tuple[str, str | None]]) -> Iterator[str]:
    return (name for name, _ in shown.values())


def _holds_lessons(folder: Path) -> bool:
    """Whether it is a folder of all lessons, so that no student's folder is taken for one."""
    try:
        names = {each.name.casefold() for each in folder.iterdir()}
    except OSError:
        return False
    return bool(names & {".recapgen", *_SETTINGS})


def _below(kind: TraceKind, *places: Path) -> StudentTrace:
    there = [place for place in places if place.exists()]
    count = sum(sum(1 for _ in sizes_below(each)) if each.is_dir() else 1 for each in there)
    return StudentTrace(kind, count, ", ".join(map(str, there)))


def _nobody(student: Path, near: Sequence[str]) -> Problem:
    facts = {"path": str(student), "near": ", ".join(near) or "my_lessons/marta"}
    return Problem(Code.FORGET_NOBODY, SourceRef(""), facts)
