"""``watch``: a build whenever the lessons have changed and come to rest, and its pages shown."""

from collections.abc import Sequence
from contextlib import ExitStack
from datetime import date
from pathlib import Path
from time import monotonic, sleep

from msgspec import Struct, field
from msgspec.structs import replace

from recapgen.app.building import Options, build, output_of
from recapgen.app.first_look import surveyed
from recapgen.console import Console, Outcome
from recapgen.intake.worksheets_asked import worksheets_asked
from recapgen.model.news import News
from recapgen.model.notes_sent import SheetDesk
from recapgen.model.problem import Code, Problem, Severity
from recapgen.publish.output import OutputPlaces
from recapgen.serving.page_host import PageHost, hosting
from recapgen.serving.phone import code_of, local_ip
from recapgen.tools.clock import now, today
from recapgen.tools.faults import keep_report
from recapgen.tools.settling import Settling, look_at
from recapgen.words.catalogue import Words, words
from recapgen.words.watch_sentences import frame_labels, problem_lines, told_at

LOOK_EVERY_S = 1.0
TRY_AGAIN_S = 30.0
_HERE_ALONE = "127.0.0.1"
_PLACES = frozenset(
    {
        Code.OUTPUT_IN_LESSONS,
        Code.LESSONS_IN_OUTPUT,
        Code.OUTPUT_NOT_OURS,
        Code.OUTPUT_NEWER,
        Code.OUTPUT_ELSEWHERE,
    }
)

AsItIs = tuple[str, date, tuple[str, ...]]


def watch(
    lessons: Path, out: Path | None, console: Console, *, sheets: SheetDesk, phone: bool
) -> None:
    """Build and show ``lessons`` until it is interrupted; ``sheets`` serves its worksheets.

    Returns, having told why, where no change to the lessons could make a build possible: the folder
    is not one of lessons, or the output may not go where it was to. Raises OSError.
    """
    found = surveyed(lessons, "watch")
    if found.value is None:
        console.built(Outcome(ran=False, problems=found.problems))
        return
    console.watching(lessons)
    watched = Watched(lessons, output_of(lessons, out), console)
    watched.begin()
    if watched.wants_another_place:
        return
    with ExitStack() as open_hosts:
        for host in _hosts(watched, console, sheets, phone=phone):
            open_hosts.enter_context(hosting(host))
        while True:
            watched.look(monotonic())
            sleep(LOOK_EVERY_S)


def _hosts(
    watched: "Watched", console: Console, sheets: SheetDesk, *, phone: bool
) -> Sequence[PageHost]:
    """That of this computer, and on request one for the local network.

    The latter never has the book, and never takes anything.
    """
    here = watched.shown_on(_HERE_ALONE, book=True, sheets=sheets)
    console.on_this_computer(here.address)
    ip = local_ip() if phone else None
    if ip is not None:
        there = watched.shown_on(ip, book=False)
        console.on_phones(there.address, code_of(there.address))
    elif phone:
        console.no_network()
    return watched.hosts


class Watched(Struct):
    """Lessons, what their last build came to, and the hosts that tell of it."""

    lessons: Path
    out: Path
    console: Console
    say: Words = field(default_factory=lambda: words("en"))
    hosts: list[PageHost] = field(default_factory=list)
    _news: News = field(default_factory=lambda: News(0, ""))
    _settling: Settling = field(default_factory=Settling)
    _built: AsItIs | None = None
    _told: Outcome | str | None = None
    _again_s: float | None = None

    def begin(self) -> None:
        """The first build; where it was not possible, that is told as it is of any other."""
        while not self._settling.settled(seen := self._as_it_is(), monotonic()):
            sleep(LOOK_EVERY_S)
        self._built = seen
        self._build(monotonic())

    @property
    def wants_another_place(self) -> bool:
        """Whether nothing was built that another ``--out`` alone would make possible."""
        told = self._told
        return isinstance(told, Outcome) and any(one.code in _PLACES for one in told.problems)

    def shown_on(self, ip: str, *, book: bool, sheets: SheetDesk | None = None) -> PageHost:
        """A host for the finished pages at ``ip``. Raises OSError."""
        places = OutputPlaces(self.out)
        folders = {"site": places.site} | ({"coach_book": places.book} if book else {})
        host = PageHost(ip, folders, frame_labels(self.say), self._news_for(private=book), sheets)
        self.hosts.append(host)
        return host

    def look(self, now_s: float) -> None:
        """Build where anything is other than it was, once it has come to rest."""
        seen = self._as_it_is()
        settled = self._settling.settled(seen, now_s)
        due = self._again_s is not None and now_s >= self._again_s
        if seen == self._built and not due:
            self._show(self._news)
        elif not settled:
            self._show(replace(self._news, state=self.say.say("watch.waiting")))
        else:
            self._show(replace(self._news, state=self.say.say("watch.building")))
            self._built = seen
            self._build(now_s)

    def _as_it_is(self) -> AsItIs:
        """A new day may end an agreement, and a worksheet that is asked for is made at once."""
        return look_at(self.lessons), today(None), worksheets_asked(self.lessons)

    def _build(self, now_s: float) -> None:
        """Every fault is reported; the next change starts another build.

        So is half a minute, but for a fault of our own, which it would not mend.
        """
        self._again_s = None
        try:
            outcome = build(self.lessons, Options(out=self.out), self.console)
        except OSError as fault:
            self._fail(self.say.say("cli.machine", fault=fault))
            self._again_s = now_s + TRY_AGAIN_S
        except Exception as fault:  # noqa: BLE001 - the coach goes on working, whatever it is
            self._fail(self._report(fault))
        else:
            self._tell(outcome)
            self._again_s = None if outcome.ran else now_s + TRY_AGAIN_S

    def _report(self, fault: Exception) -> str:
        try:
            return self.say.say("cli.uncaught", file=keep_report(fault))
        except OSError as another:
            return self.say.say("cli.machine", fault=another)

    def _tell(self, outcome: Outcome) -> None:
        before = self._told.problems if isinstance(self._told, Outcome) else ()
        tried_again = isinstance(self._told, Outcome) and not self._told.ran and not outcome.ran
        if not (tried_again and before == outcome.problems):
            self.console.built(outcome)
        self._told = outcome
        pages = tuple((name, _below(page, self.out)) for name, page in outcome.pages)
        problem = newest(outcome.problems, before)
        said, lines = ((), ()) if problem is None else problem_lines(problem, self.say)
        others = len(outcome.problems) - 1
        self._news = News(
            build=self._news.build + outcome.ran,
            state=self._state(built=outcome.ran),
            problem=said,
            lines=lines,
            more=self.say.count("watch.more", others) if others > 0 else "",
            pages=pages if outcome.ran else self._news.pages,
        )
        self._show(self._news)

    def _fail(self, said: str) -> None:
        if said != self._told:
            self.console.failed(said)
        self._told = said
        state = self._state(built=False)
        self._news = replace(self._news, state=state, problem=(said,), lines=(), more="")
        self._show(self._news)

    def _state(self, *, built: bool) -> str:
        return told_at(now(), self.say, built=built, before=self._news.build > 0)

    def _show(self, news: News) -> None:
        for host in self.hosts:
            host.news = news if "coach_book" in host.folders else self._for_phones(news)

    def _news_for(self, *, private: bool) -> News:
        return self._news if private else self._for_phones(self._news)

    def _for_phones(self, news: News) -> News:
        """What a problem says is the coach's: places, names and lines of the notes."""
        if not news.problem:
            return news
        state = self.say.say("watch.look-on-the-computer", state=news.state)
        return replace(news, state=state, problem=(), lines=(), more="")


def newest(problems: Sequence[Problem], before: Sequence[Problem]) -> Problem | None:
    """The one to tell first: what was not there ``before``, and what holds something back."""
    known = {(one.code, one.where) for one in before}
    return min(
        problems,
        key=lambda one: ((one.code, one.where) in known, one.severity is not Severity.ERROR),
        default=None,
    )


def _below(page: Path, out: Path) -> str:
    return page.relative_to(out.resolve()).as_posix()
