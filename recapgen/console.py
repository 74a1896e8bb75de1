"""The only printing: progress while it works, problems, and one line of totals.

Talk goes to standard error, the paths to open to standard output. Progress shows only on a
terminal; NO_COLOR is honoured (by rich).
"""

import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from textwrap import wrap

from msgspec import Struct
from rich.console import Console as Terminal
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn
from rich.text import Text

from recapgen.model.lesson import Seal
from recapgen.model.problem import Code, Cost, Problem, Severity
from recapgen.model.public import Bundle, FolderGone, PublicChange
from recapgen.model.question import Question
from recapgen.model.receipt import Forgotten
from recapgen.model.recovery import Recovered, RecoverySlip
from recapgen.model.taken_in import TakenIn
from recapgen.model.units import Units
from recapgen.model.verified import SiteVerified
from recapgen.words.bundle_sentences import bundle_line
from recapgen.words.catalogue import Words
from recapgen.words.change_sentences import told_whose
from recapgen.words.forget_sentences import left_to_do, receipt_lines
from recapgen.words.new_sentences import (
    answer_wanted,
    left_line,
    lesson_lines,
    question_lines,
)
from recapgen.words.problems import Paste, ProblemText, tell
from recapgen.words.seal_sentences import tell_seal, tell_time
from recapgen.words.slip_sentences import about_slip, recovered_line, slip_lines
from recapgen.words.verify_sentences import key_in_groups, verified_lines

_NARROWEST = 40  # below this a window is no place to read in


class Outcome(Struct, frozen=True):
    """What a run came to. ``pages`` are the students' front pages, with shown names."""

    ran: bool
    problems: tuple[Problem, ...]
    lessons: int = 0
    written: int = 0
    kept: int = 0
    site: Path | None = None
    book: Path | None = None
    pages: tuple[tuple[str, Path], ...] = ()
    seconds: float = 0.0
    public: tuple[PublicChange, ...] = ()
    gone: tuple[FolderGone, ...] = ()
    passed_over: tuple[str, ...] = ()  # folders of students who were forgotten
    fault_report: Path | None = None  # what to send of our own faults that held a student back

    def held_back(self, *, strict: bool) -> bool:
        """Whether something was held back; with ``strict`` any warning counts too."""
        return any(strict or p.severity is Severity.ERROR for p in self.problems)


def _plain(text: str) -> str:
    """``text`` with control characters made visible: a file name may not steer the terminal."""
    text = text.replace("\u202f", " ")  # the narrow space of amounts and times
    return "".join(c if c.isprintable() or c == " " else f"\\x{ord(c):02x}" for c in text)


def _shown(line: str) -> str:
    """A line to copy: tabs and narrow spaces stay, since the file needs them."""
    return "".join(c if c.isprintable() or c in "\t\xa0\u202f" else _plain(c) for c in line)


def _lines(text: str) -> str:
    """``text`` as lines to copy, set in below the one they belong to, so that none poses as new."""
    return "\n    ".join(_plain(line) for line in text.split("\n"))


class Console:
    """Standard error for talk, standard output for results."""

    def __init__(self, say: Words) -> None:
        self._say = say
        self._talk = Terminal(stderr=True, highlight=False, soft_wrap=True)
        self._progress: Progress | None = None

    @contextmanager
    def working(self) -> Iterator[None]:
        """A progress bar for as long as the work lasts, on a terminal only."""
        if not self._talk.is_terminal:
            yield
            return
        columns = (
            TextColumn("{task.description}"),
            BarColumn(bar_width=24),
            MofNCompleteColumn(),
            TimeRemainingColumn(),
        )
        with Progress(*columns, console=self._talk, transient=True) as self._progress:
            self._progress.add_task("", total=None)
            yield
        self._progress = None

    def step(self, key: str, name: str, done: int, total: int) -> None:
        """Say what is being done, as step ``done`` of ``total``."""
        if self._progress is not None:
            self._progress.update(
                self._progress.task_ids[0],
                description=self._say.say(f"console.{key}", name=_plain(name)),
                completed=done,
                total=total,
            )

    def problems(self, problems: Sequence[Problem]) -> None:
        """Every problem: where, what was found, what was expected, how to fix it.

        A fault that is the same at several places is printed once, with all of them.
        """
        alike: dict[tuple[Code, ProblemText], list[Problem]] = {}
        for problem in problems:
            alike.setdefault((problem.code, tell(problem, self._say)), []).append(problem)
        for (code, told), (first, *others) in alike.items():
            loud = first.severity is Severity.ERROR
            line = Text()
            line.append(f"{_plain(str(first.where))}: ", style="bold")
            line.append(
                self._say.say("console.error" if loud else "console.warning"),
                style="bold red" if loud else "bold",
            )
            line.append(f" [{code.slug}]\n")
            if others:
                places = ", ".join(_plain(str(other.where)) for other in others)
                line.append(self._part("also", places))
            line.append(self._part("found", _plain(told.found)))
            line.append(self._part("expected", _plain(told.expected)))
            line.append(self._part("fix", _lines(told.fix)).rstrip("\n"))
            self._talk.print(line)
            self._to_paste(told.pastes)

    def _part(self, key: str, text: str) -> str:
        """A part of a problem, set in; on a terminal its lines end between words."""
        told = f"    {self._say.say(f'console.{key}', text=text)}"
        if not self._talk.is_terminal:
            return f"{told}\n"
        wide, set_in = max(self._talk.width, _NARROWEST), " " * 6
        lines = (
            line
            for each in told.split("\n")
            for line in wrap(
                each, wide, subsequent_indent=set_in,
                break_long_words=False, break_on_hyphens=False, drop_whitespace=True,
            )
        )  # fmt: skip
        return "".join(f"{line}\n" for line in lines)

    def built(self, outcome: Outcome) -> None:
        """All there is to say of a build."""
        self.problems(outcome.problems)
        self.totals(outcome)
        self.gone(outcome.gone)
        self.passed_over(outcome.passed_over)
        self.not_published(outcome.problems)
        self.changed_in_public(outcome.public)

    def watching(self, lessons: Path) -> None:
        """What is watched from now on, and how that ends."""
        self._talk.print(Text(_plain(self._say.say("watch.begins", folder=lessons))))

    def on_this_computer(self, address: str) -> None:
        """Where the pages are shown."""
        self._result(self._say.say("watch.open", address=address))

    def on_phones(self, address: str, code: str) -> None:
        """The address for the local network, as text and as dark and light blocks."""
        self._result(self._say.say("watch.phone.open", address=address))
        self._talk.print(Text(code, style="bright_white on black"))
        self._talk.print(Text(self._say.say("watch.phone.who")))

    def no_network(self) -> None:
        self._talk.print(Text(self._say.say("watch.phone.none")))

    def failed(self, said: str) -> None:
        """Why a build of those that are watched came to nothing, in one line."""
        self._talk.print(Text(_plain(said), style="bold"))

    def not_published(self, problems: Sequence[Problem]) -> None:
        """Whose pages stay as they were, a line each, with where to begin."""
        held: dict[str, list[Problem]] = {}
        for problem in problems:
            folder, below, _ = problem.where.file.partition("/")
            if problem.cost is Cost.STUDENT and below:
                held.setdefault(folder, []).append(problem)
        for folder, theirs in held.items():
            said = self._say.count(
                "console.not-published", len(theirs), who=folder, place=theirs[0].where
            )
            self._talk.print(Text(_plain(said), style="bold"))

    def _to_paste(self, pastes: Sequence[Sequence[Paste]]) -> None:
        """The lines to copy, each unbroken and as it is to stand in the file."""
        for n, paste in enumerate(pastes):
            if n:
                self._talk.print(Text(f"    {self._say.say('paste.or')}"))
            for part in paste:
                self._talk.print(Text(f"    {_plain(part.place)}", style="bold"))
                for written in part.lines:
                    sys.stderr.write(f"      {_shown(written)}\n")

    def totals(self, outcome: Outcome) -> None:
        """One line of totals, then the paths to open."""
        if not outcome.ran:
            self._talk.print(self._say.say("console.could-not-run"))
            return
        sites = outcome.written + outcome.kept
        self._talk.print(
            self._say.say(
                "console.totals.line",
                sites=self._say.count("console.totals.students", sites),
                written=self._say.say(
                    "console.totals.written", written=outcome.written, kept=outcome.kept
                ),
                lessons=self._say.count("console.totals.lessons", outcome.lessons),
                held=self._count_held(outcome),
                warnings=self._count_warnings(outcome),
                seconds=self._say.figure(outcome.seconds, 1),
            )
        )
        for key, path in (("site", outcome.site), ("book", outcome.book)):
            if path is not None:
                self._result(self._say.say(f"console.open.{key}", path=path))
        for name, path in outcome.pages:
            self._result(self._say.say("console.open.page", path=path, name=name))

    def gone(self, folders: Sequence[FolderGone]) -> None:
        """Which folders are gone, and how long what is kept of them waits."""
        for gone in folders:
            name = _plain(gone.folder)
            if gone.days_left:
                told = self._say.count("console.gone.waits", gone.days_left, folder=name)
            else:
                told = self._say.say("console.gone.cleared", folder=name)
            self._talk.print(Text(told))

    def passed_over(self, folders: Sequence[str]) -> None:
        """Which folders are left of students who were forgotten."""
        for folder in folders:
            self._talk.print(Text(_plain(self._say.say("console.passed-over", folder=folder))))

    def changed_in_public(self, changes: Sequence[PublicChange]) -> None:
        """Changes of published pages, printed last, since the coach has something to do."""
        for change in changes:
            who = _plain(told_whose(change, self._say))
            said = self._say.say(f"public.{change.move.value}", who=who)
            self._talk.print(Text(f"{said} (site/{change.folder})"))
        if changes:
            self._talk.print(Text(self._say.say("public.upload"), style="bold"))

    def checked(self, outcome: Outcome) -> None:
        """One line on what a check found, after the folders that it passed over."""
        self.passed_over(outcome.passed_over)
        if not outcome.problems:
            self._talk.print(self._say.say("console.all-well"))
            return
        self._talk.print(
            self._say.say(
                "console.checked",
                held=self._count_held(outcome),
                warnings=self._count_warnings(outcome),
            )
        )

    def sealed(self, seal: Seal, lesson: str, units: Units, *, new: bool) -> None:
        """The plan read back, in one short block."""
        key = "standing" if not new else "again" if seal.earlier_at else "done"
        at = tell_time(seal.sealed_at, self._say)
        self._result(self._say.say(f"seal.{key}", time=_plain(at), lesson=_plain(lesson)))
        lines = tell_seal(seal, units, self._say)
        wide = max(len(name) for name, _ in lines) + 2
        for name, value in lines:
            self._result(f"  {name:{wide}}{_plain(value)}")
        self._result(self._say.say("seal.next"))

    def not_sealed(self) -> None:
        self._talk.print(self._say.say("console.not-sealed"))

    def ask(self, question: Question) -> str | None:
        """What is typed in answer; None, the question told, where nobody sits at a terminal."""
        lines = question_lines(question, self._say)
        there = sys.stdin is not None and sys.stdin.isatty()
        if not there:
            self._talk.print(Text(self._say.say("new.nobody-there"), style="bold"))
        for line in lines:
            sys.stderr.write(f"{'' if there else '  '}{_shown(line)}\n")
        if not there:
            return None
        sys.stderr.write(_plain(answer_wanted(question, self._say)))
        sys.stderr.flush()
        try:
            return input()
        except EOFError:
            return None

    def mended(self, changed: Sequence[str], meanwhile: Sequence[str]) -> None:
        """Which files were changed, and which somebody else changed while it was asked."""
        for key, files in (("changed", changed), ("changed-meanwhile", meanwhile)):
            if files:
                names = self._say.listed(dict.fromkeys(map(_plain, files)))
                self._talk.print(Text(self._say.say(f"mending.{key}", files=names)))
        if not (changed or meanwhile):
            self._talk.print(Text(self._say.say("mending.nothing")))

    def taken_in(self, taken: TakenIn) -> None:
        """Where everything is now, and what waits."""
        for lesson in taken.lessons:
            head, notes = lesson_lines(lesson, self._say)
            self._result(_plain(head))
            self._talk.print(Text(f"    {notes}"))
        for left in taken.left:
            self._talk.print(Text(_plain(left_line(left, self._say)), style="bold"))
        if not (taken.lessons or taken.left):
            self._talk.print(Text(self._say.say("new.nothing")))

    def one_page(self, size_bytes: int, left_out: int) -> None:
        """What a single file of a lesson weighs, and how many clips are not in it."""
        self._talk.print(self._say.say("console.one-page", size=f"{size_bytes / 1e6:.1f}"))
        if left_out:
            self._talk.print(self._say.count("console.one-page.left-out", left_out))

    def lock(self, change: str, student: str, build: str) -> None:
        """Whose words follow, and what is to be done where they are new."""
        self._talk.print(self._say.say(f"console.lock.{change}", name=student, build=build))

    def forgotten(self, told: Forgotten) -> None:
        """The receipt, and what only the coach can do."""
        for line in receipt_lines(told.receipt, self._say):
            self._talk.print(Text(line))
        for line in left_to_do(self._say, _plain(str(told.left)) if told.left else None):
            self._talk.print(Text(line, style="bold"))
        self._result(_plain(str(told.file)))

    def lines_of(self, question: Question) -> None:
        """A question that is answered already, told all the same."""
        for line in question_lines(question, self._say):
            self._talk.print(Text(_plain(line)))

    def copied(self, files: int, left_out: Sequence[str]) -> None:
        """What a student's copy holds, and what it does not."""
        for path in left_out:
            self._talk.print(Text(_plain(self._say.say("console.copy-for.left-out", path=path))))
        self._talk.print(Text(self._say.count("console.copy-for", files)))

    def bundled(self, bundles: Sequence[Bundle]) -> None:
        """Whose site lies in which zip, and where none of it belongs."""
        for each in bundles:
            self._talk.print(Text(_plain(bundle_line(each, self._say))))
            self._result(_plain(str(each.file)))
        for key in ("upload", "never"):
            self._talk.print(Text(self._say.say(f"console.bundle.{key}")))

    def verified(self, sites: Sequence[SiteVerified], *, key_given: bool) -> None:
        """What became of each site, and by whose key that is known."""
        for site in sites:
            for line in verified_lines(site, self._say):
                self._result(_plain(line))
        for key in dict.fromkeys(site.key for site in sites if not key_given):
            self._talk.print(Text(self._say.say("verify.key", key=key_in_groups(key))))

    def slip(self, told: RecoverySlip) -> None:
        """What is to be written down, and how it is to be kept."""
        for line in slip_lines(told):
            self._result(_plain(line))
        for line in about_slip(told, self._say):
            self._talk.print(Text(_plain(line)))

    def recovered(self, told: Recovered) -> None:
        self._talk.print(Text(_plain(recovered_line(told, self._say))))

    def nothing_left(self, folder: str) -> None:
        self._talk.print(Text(_plain(self._say.say("forget.nothing", folder=folder))))

    def nothing_erased(self) -> None:
        self._talk.print(Text(self._say.say("forget.not-erased"), style="bold"))

    def _result(self, line: str) -> None:
        sys.stdout.write(f"{line}\n")
        sys.stdout.flush()

    def _count_held(self, outcome: Outcome) -> str:
        n = sum(p.severity is Severity.ERROR for p in outcome.problems)
        return self._say.count("console.totals.held", n)

    def _count_warnings(self, outcome: Outcome) -> str:
        n = sum(p.severity is Severity.WARNING for p in outcome.problems)
        return self._say.count("console.totals.warnings", n)
