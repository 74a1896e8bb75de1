"""A folder built again and again into one output, held against builds that keep nothing."""

import re
import shutil
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import zip_longest
from pathlib import Path

from tests.edits.edited_book import Book
from tests.end_to_end.small_lessons import tree
from tests.kills.killed_runs import Blow, Ended, Runs

# What was called otherwise, or is still up though its lesson is gone, only a build knows that
# finds something up.
_OF_WHAT_WAS_UP = frozenset({"student-renamed", "lesson-renamed", "deleted-lesson-up"})
# What is other in public since the last build is told here, and in what the book's search finds.
_OF_ONE_BUILD = frozenset({"problems.html", "index.html", "assets/book_index.js"})
# All that an output may know from before: whose links these are, what was agreed to and is up,
# what is gone and since when. Anything else that is kept is there to save work.
_RECORDS = frozenset({"output.json", "ledger.json", "gone.json", "emptied.json", "links.json"})
_CODE = re.compile(r" \[([a-z0-9-]+)\]$", re.MULTILINE)
_WORK_DONE = re.compile(r" \(\d+ written, \d+ unchanged\)|, \d+\.\d s$", re.MULTILINE)
_TOTALS = re.compile(r"^\d+ student(?:'s site|s' sites),", re.MULTILINE)
ALL_WELL, HELD_BACK, COULD_NOT_RUN, KILLED = 0, 1, 2, -9


@dataclass(frozen=True, slots=True)
class Told:
    """What a build left to be read, and what it said."""

    code: int
    said: str
    site: Mapping[str, bytes]
    book: Mapping[str, bytes]


@dataclass(slots=True)
class Comparing:
    """``folder`` has the lessons, their output, and what both are compared with."""

    folder: Path
    runs: Runs
    book: Book
    first: Path  # what the folder gives before any edit
    was_like: tuple[object, ...] = ()
    certain: bool = True  # whether the last build ended, so that all it left is known
    salted: dict[Path, Path] = field(default_factory=dict)

    def __post_init__(self) -> None:
        shutil.copytree(self.first, self.out)
        links = Path(".recapgen", "links.json")  # whose link is whose lies with the lessons
        shutil.copy2(self.out / links, self.book.root / links)

    @property
    def out(self) -> Path:
        return self.folder / "lessons_out"

    def strike(self, blow: Blow) -> Ended:
        """A build that does not come to its end."""
        self.certain, self.was_like = False, ()
        return self._build(self.book.root, self.book.template, blow)

    def compare(self, *, thoroughly: bool) -> str:
        """One build, held against one from nothing; ``thoroughly`` against one in doubt, too.

        Gives what was compared. Raises AssertionError with what differs.
        """
        now = self.book.looks()
        if now == self.was_like:
            return "nothing new"
        anew, doubted = self._copy("anew"), self._doubted()
        ended = self._build(self.book.root, self.book.template)
        assert ended.code in {ALL_WELL, HELD_BACK, COULD_NOT_RUN}, ended.err
        told = self._told(ended, self.out)
        compared = []
        if ended.code == ALL_WELL:
            fresh, cache = anew.with_name("lessons_out"), Path(".recapgen", "cache")
            shutil.copytree(self.first / cache, fresh / cache)  # pictures of before any edit
            clean = self._build(anew, self.book.template)
            as_from_nothing(told, self._told(clean, fresh))
            compared.append("from nothing")
        if self.certain and (thoroughly or ended.code != ALL_WELL):
            lessons, out = doubted
            again = self._build(lessons, self._salted())
            as_if_in_doubt(told, self._told(again, out))
            compared.append("in doubt")
        if thoroughly:
            here, there = self._check(self.book.root), self._check(self._copy("to check"))
            assert here.code == there.code
            _said_the_same([here.err], [there.err])
        for beside in ("anew", "doubted", "to check"):
            shutil.rmtree(self.folder / beside, ignore_errors=True)
        self.was_like, self.certain = now, True
        return " and ".join(compared) or "nothing after a kill"

    def _copy(self, name: str) -> Path:
        """The lessons in a folder of their own, with nothing beside them."""
        copy = self.folder / name / "lessons"
        shutil.copytree(self.book.root, copy, symlinks=True)
        return copy

    def _doubted(self) -> tuple[Path, Path]:
        """The same with an output in which nothing is kept but what is up and the records."""
        lessons = self._copy("doubted")
        out = lessons.with_name("lessons_out")
        if self.out.exists():
            shutil.copytree(self.out, out)
            for kept in (out / ".recapgen").iterdir():
                if kept.name not in _RECORDS:
                    shutil.rmtree(kept) if kept.is_dir() else kept.unlink()
        return lessons, out

    def _salted(self) -> Path:
        """The templates of now with a file that no page needs: another recipe, the same pages."""
        template = self.book.template
        if template not in self.salted:
            salted = self.folder / f"salted {len(self.salted)}" / "site_template"
            shutil.copytree(template, salted)
            (salted / "for nobody.txt").touch()
            self.salted[template] = salted
        return self.salted[template]

    def _build(self, lessons: Path, template: Path, blow: Blow | None = None) -> Ended:
        day = self.book.day.isoformat()
        return self.runs.run(blow, "build", lessons, "--today", day, template=template)

    def _check(self, lessons: Path) -> Ended:
        day = self.book.day.isoformat()
        return self.runs.run(None, "check", lessons, "--today", day, template=self.book.template)

    def _told(self, ended: Ended, out: Path) -> Told:
        said = ended.err.replace(str(out.parent), "").replace(str(self.folder), "")
        return Told(
            ended.code, _WORK_DONE.sub("", said), tree(out / "site"), tree(out / "coach_book")
        )


def as_if_in_doubt(told: Told, again: Told) -> None:
    """Not a byte may differ, and not a word."""
    _the_same(told.site, again.site)
    _the_same(told.book, again.book)
    _said_the_same(told.said.splitlines(), again.said.splitlines())
    assert told.code == again.code


def as_from_nothing(told: Told, clean: Told) -> None:
    """The same but for what is told of one build, and what empties phones."""
    up = {path: held for path, held in told.site.items() if not _empties(path, told.site)}
    _the_same(up, clean.site)
    _the_same(_of_every_build(told.book), _of_every_build(clean.book))
    _said_the_same(list(_problems(told.said)), list(_problems(clean.said)))
    assert told.code == clean.code


def _said_the_same(here: list[str], there: list[str]) -> None:
    for one, other in zip_longest(here, there, fillvalue="nothing"):
        assert one == other, f"said {one!r}, not {other!r}"


def _empties(path: str, site: Mapping[str, bytes]) -> bool:
    folder = path.partition("/")[0]
    return set(_below(folder, site)) == {f"{folder}/index.html", f"{folder}/sw.js"}


def _below(folder: str, site: Mapping[str, bytes]) -> Iterator[str]:
    return (path for path in site if path.startswith(f"{folder}/"))


def _of_every_build(book: Mapping[str, bytes]) -> dict[str, bytes]:
    return {path: held for path, held in book.items() if path not in _OF_ONE_BUILD}


def _problems(said: str) -> Iterator[str]:
    """Each problem as it is printed; what is told after the totals is of one build."""
    before = _TOTALS.split(said)[0]
    for told in re.split(r"\n(?=\S)", before):
        code = _CODE.search(told)
        if code is not None and code[1] not in _OF_WHAT_WAS_UP:
            yield told.rstrip()


def _the_same(here: Mapping[str, bytes], there: Mapping[str, bytes]) -> None:
    only = sorted(here.keys() ^ there.keys())
    assert not only, f"only in one of them: {only}"
    for path, held in here.items():
        assert held == there[path], f"{path} differs: {_where(held, there[path])}"


def _where(here: bytes, there: bytes) -> str:
    at = next(
        (n for n, (a, b) in enumerate(zip(here, there, strict=False)) if a != b),
        min(len(here), len(there)),
    )
    return f"{here[max(0, at - 80) : at + 120]!r} is not {there[max(0, at - 80) : at + 120]!r}"
