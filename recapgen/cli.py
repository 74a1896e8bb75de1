"""The commands and their exit codes."""

import json
import sys
from datetime import date, datetime
from difflib import get_close_matches
from functools import partial
from io import TextIOWrapper
from pathlib import Path

import click

from recapgen import __version__
from recapgen.app.building import Options, build, check
from recapgen.app.chosen_students import Scope, Shard
from recapgen.console import Console, Outcome
from recapgen.handbook import entries
from recapgen.model.lesson import MOST_PLANNED, Planned
from recapgen.model.notes_sent import SheetDesk
from recapgen.model.receipt import ForgetStudent
from recapgen.tools.clock import now
from recapgen.tools.faults import keep_report
from recapgen.words.catalogue import words
from recapgen.words.problems import as_record

_PLANNED = click.IntRange(1, MOST_PLANNED)
ALL_PUBLISHED, HELD_BACK, COULD_NOT_RUN, UNCAUGHT = 0, 1, 2, 3
_SAY = words("en")
_ASKED_FOR_HELP = {"help_option_names": ["-h", "--help"]}


def _told(command: str) -> dict[str, str]:
    """What the help says of a command: in its own page, and in the list of all."""
    key = f"cli.{command}"
    examples = _as_written(f"{key}.examples") if _SAY.has(f"{key}.examples") else ""
    return {
        "help": _SAY.say(f"{key}.help"),
        "short_help": _SAY.say(f"{key}.short"),
        "epilog": examples,
    }


def _as_written(key: str) -> str:
    """A text whose lines the help leaves alone; click asks for a mark before each paragraph."""
    return "\n\n".join(f"\b\n{part}" for part in _SAY.say(key).strip().split("\n\n"))


class _Day(click.ParamType[date]):
    name = "date"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> date:
        try:
            return datetime.strptime(str(value), "%Y-%m-%d").date()  # noqa: DTZ007  a day has no zone
        except ValueError:
            self.fail(_SAY.say("cli.bad-day", found=value), param, ctx)


class _Shard(click.ParamType[Shard]):
    name = "i/n"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> Shard:
        number, _, of = str(value).partition("/")
        if not (number.isdecimal() and of.isdecimal() and 1 <= int(number) <= int(of)):
            self.fail(_SAY.say("cli.build.bad-shard", found=value), param, ctx)
        return Shard(int(number), int(of))


@click.group(
    help=_SAY.say("cli.help"),
    epilog=_as_written("cli.examples"),
    context_settings={**_ASKED_FOR_HELP, "max_content_width": 80},
)
@click.version_option(__version__, "--version", message="recapgen %(version)s")
def cli() -> None:
    """The group; its help is above."""


@cli.command("build", context_settings=_ASKED_FOR_HELP, **_told("build"))
@click.argument("lessons", type=click.Path(path_type=Path))
@click.option("--out", type=click.Path(path_type=Path), help=_SAY.say("cli.build.out"))
@click.option("--strict", is_flag=True, help=_SAY.say("cli.strict"))
@click.option("--jobs", type=click.IntRange(min=1), help=_SAY.say("cli.build.jobs"))
@click.option("--only", multiple=True, help=_SAY.say("cli.build.only"))
@click.option("--shard", type=_Shard(), help=_SAY.say("cli.build.shard"))
@click.option("--today", type=_Day(), help=_SAY.say("cli.today"))
def build_command(
    lessons: Path,
    *,
    out: Path | None,
    strict: bool,
    jobs: int | None,
    only: tuple[str, ...],
    shard: Shard | None,
    today: date | None,
) -> None:
    console = Console(_SAY)
    scope = Scope(only, shard)
    outcome = build(lessons, Options(out=out, jobs=jobs, today=today, scope=scope), console)
    console.built(outcome)
    sys.exit(_code(outcome, strict=strict))


@cli.command("join", context_settings=_ASKED_FOR_HELP, **_told("join"))
@click.argument(
    "shares", type=click.Path(path_type=Path), nargs=-1, required=True, metavar="SHARE …"
)
@click.option("--out", type=click.Path(path_type=Path), help=_SAY.say("cli.build.out"))
@click.option("--strict", is_flag=True, help=_SAY.say("cli.strict"))
@click.option("--today", type=_Day(), help=_SAY.say("cli.today"))
def join_command(
    shares: tuple[Path, ...], out: Path | None, today: date | None, *, strict: bool
) -> None:
    from recapgen.app.joining import join  # noqa: PLC0415  other commands join nothing

    console = Console(_SAY)
    outcome = join(shares, Options(out=out, today=today), console)
    console.built(outcome)
    sys.exit(_code(outcome, strict=strict))


@cli.command("watch", context_settings=_ASKED_FOR_HELP, **_told("watch"))
@click.argument("lessons", type=click.Path(path_type=Path))
@click.option("--out", type=click.Path(path_type=Path), help=_SAY.say("cli.build.out"))
@click.option("--phone", is_flag=True, help=_SAY.say("cli.watch.phone"))
def watch_command(lessons: Path, *, out: Path | None, phone: bool) -> None:
    from recapgen.app.watching import watch  # noqa: PLC0415  other commands serve nothing
    from recapgen.app.worksheets import address_of_sheet  # noqa: PLC0415  the same
    from recapgen.desk.notes_saving import save_notes  # noqa: PLC0415  the same
    from recapgen.desk.worksheet_asking import ask_from_the_book  # noqa: PLC0415  the same

    root = lessons.resolve()

    def open_sheet(lesson: str) -> str | None:
        asked = ask_from_the_book(root, lesson)
        return None if asked is None else address_of_sheet(asked.student_key, asked.lesson_key)

    sheets = SheetDesk(partial(save_notes, root), open_sheet)
    watch(lessons, out, Console(_SAY), sheets=sheets, phone=phone)
    sys.exit(COULD_NOT_RUN)


@cli.command("check", context_settings=_ASKED_FOR_HELP, **_told("check"))
@click.argument("lessons", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help=_SAY.say("cli.check.json"))
@click.option("--fix", is_flag=True, help=_SAY.say("cli.check.fix"))
@click.option("--strict", is_flag=True, help=_SAY.say("cli.strict"))
@click.option("--today", type=_Day(), help=_SAY.say("cli.today"))
def check_command(
    lessons: Path, today: date | None, *, as_json: bool, fix: bool, strict: bool
) -> None:
    console = Console(_SAY)
    outcome = check(lessons, today)
    if fix and outcome.ran:
        from recapgen.desk.mending import Mending  # noqa: PLC0415  other checks need no desk

        mending = Mending(lessons.resolve(), console.ask)
        while mending.go_round(outcome.problems):
            outcome = check(lessons, today)
        console.mended(mending.changed, mending.meanwhile)
    if as_json:
        records = [as_record(problem, _SAY) for problem in outcome.problems]
        click.echo(json.dumps(records, ensure_ascii=False, indent=1))
    else:
        console.problems(outcome.problems)
        console.checked(outcome)
    sys.exit(_code(outcome, strict=strict))


@cli.command("new", context_settings=_ASKED_FOR_HELP, **_told("new"))
@click.argument("lessons", type=click.Path(path_type=Path))
@click.argument("student", required=False)
@click.option("--today", type=_Day(), help=_SAY.say("cli.today"))
def new_command(lessons: Path, student: str | None, today: date | None) -> None:
    from recapgen.desk.new_lessons import take_in  # noqa: PLC0415  other commands need no desk
    from recapgen.words.notes_remarks import remark  # noqa: PLC0415  of its notes alone

    console = Console(_SAY)
    day = today or now().date()
    taken, problems = take_in(lessons, student, console.ask, partial(remark, words=_SAY), day)
    console.problems(problems)
    if taken is None:
        sys.exit(COULD_NOT_RUN)
    console.taken_in(taken)
    sys.exit(HELD_BACK if taken.open else ALL_PUBLISHED)


@cli.command("seal", context_settings=_ASKED_FOR_HELP, **_told("seal"))
@click.argument("lesson", type=click.Path(path_type=Path))
@click.option("--before", type=_PLANNED, help=_SAY.say("cli.seal.before"))
@click.option("--after", type=_PLANNED, help=_SAY.say("cli.seal.after"))
@click.option("--again", is_flag=True, help=_SAY.say("cli.seal.again"))
def seal_command(lesson: Path, before: int | None, after: int | None, *, again: bool) -> None:
    from recapgen.desk.sealing import seal_lesson  # noqa: PLC0415  other commands need no desk

    console = Console(_SAY)
    sealed, problems = seal_lesson(lesson, Planned(before, after), now(), again=again)
    console.problems(problems)
    if sealed is None:
        console.not_sealed()
        sys.exit(COULD_NOT_RUN)
    console.sealed(sealed.seal, sealed.lesson, sealed.units, new=sealed.new)


@cli.command("stills", context_settings=_ASKED_FOR_HELP, **_told("stills"))
@click.argument("lesson", type=click.Path(path_type=Path))
@click.option("--out", type=click.Path(path_type=Path), help=_SAY.say("cli.stills.out"))
def stills_command(lesson: Path, out: Path | None) -> None:
    from recapgen.desk.still_sheets import lay_out_stills  # noqa: PLC0415  other commands need no desk

    sheets, problems = lay_out_stills(lesson, out)
    Console(_SAY).problems(problems)
    for sheet in sheets or ():
        click.echo(sheet)
    if sheets is None:
        sys.exit(COULD_NOT_RUN)
    sys.exit(HELD_BACK if problems else ALL_PUBLISHED)


@cli.command("worksheet", context_settings=_ASKED_FOR_HELP, **_told("worksheet"))
@click.argument("lesson", type=click.Path(path_type=Path))
@click.option("--out", type=click.Path(path_type=Path), help=_SAY.say("cli.build.out"))
@click.option("--today", type=_Day(), help=_SAY.say("cli.today"))
def worksheet_command(lesson: Path, out: Path | None, today: date | None) -> None:
    from recapgen.app.worksheets import worksheet_in  # noqa: PLC0415  other commands open none
    from recapgen.desk.worksheet_asking import ask_for_worksheet  # noqa: PLC0415  the same

    console = Console(_SAY)
    asked, problems = ask_for_worksheet(lesson)
    console.problems(problems)
    if asked is None:
        sys.exit(COULD_NOT_RUN)
    outcome = build(asked.root, Options(out=out, today=today), console)
    if outcome.book is None:
        console.built(outcome)
        sys.exit(_code(outcome, strict=False))
    click.echo(worksheet_in(outcome.book.parent, asked.student_key, asked.lesson_key))


@cli.command("one-page", context_settings=_ASKED_FOR_HELP, **_told("one-page"))
@click.argument("lesson", type=click.Path(path_type=Path))
@click.option("--out", type=click.Path(path_type=Path), help=_SAY.say("cli.one-page.out"))
@click.option("--today", type=_Day(), help=_SAY.say("cli.today"))
def one_page_command(lesson: Path, out: Path | None, today: date | None) -> None:
    from recapgen.app.one_lesson import one_lesson  # noqa: PLC0415  heavy, and seldom asked for

    console = Console(_SAY)
    made, problems = one_lesson(lesson, out, today)
    console.problems(problems)
    if made is None:
        sys.exit(COULD_NOT_RUN)
    console.one_page(made.size_bytes, made.left_out)
    click.echo(made.file)


@cli.command("lock", context_settings=_ASKED_FOR_HELP, **_told("lock"))
@click.argument("student", type=click.Path(path_type=Path))
@click.option("--new-words", is_flag=True, help=_SAY.say("cli.lock.new-words"))
@click.option("--new-key", is_flag=True, help=_SAY.say("cli.lock.new-key"))
@click.option("--own", is_flag=True, help=_SAY.say("cli.lock.own"))
def lock_command(student: Path, *, new_words: bool, new_key: bool, own: bool) -> None:
    from recapgen.app.new_locks import LockChange, change_lock  # noqa: PLC0415  seldom asked for

    change = LockChange.WORDS if new_words or own else LockChange.NONE
    change = LockChange.KEY if new_key else change
    typed = click.prompt(_SAY.say("cli.lock.type"), hide_input=True) if own else None
    console = Console(_SAY)
    told, problems = change_lock(student, change, typed)
    console.problems(problems)
    if told is None:
        sys.exit(COULD_NOT_RUN)
    console.lock(told.change.value, told.student, told.build)
    click.echo(told.passphrase)


@cli.command("forget", context_settings=_ASKED_FOR_HELP, **_told("forget"))
@click.argument("student", type=click.Path(path_type=Path))
@click.option("--originals", is_flag=True, help=_SAY.say("cli.forget.originals"))
@click.option("--yes", is_flag=True, help=_SAY.say("cli.forget.yes"))
@click.option("--out", type=click.Path(path_type=Path), help=_SAY.say("cli.build.out"))
@click.option("--today", type=_Day(), help=_SAY.say("cli.today"))
def forget_command(
    student: Path, out: Path | None, today: date | None, *, originals: bool, yes: bool
) -> None:
    from recapgen.app.forgetting import forget, traces_in_output, whom  # noqa: PLC0415  seldom
    from recapgen.desk.asking import may_change  # noqa: PLC0415  the same
    from recapgen.desk.traces import look_among_lessons  # noqa: PLC0415  the same

    console = Console(_SAY)
    found, problems = whom(student, out, today)
    console.problems(problems)
    if found is None:
        sys.exit(COULD_NOT_RUN)
    day = today or now().date()
    beside = look_among_lessons(found.root, found.key, found.names, day, with_originals=originals)
    traces = (*traces_in_output(found), *beside.traces())
    if not traces and found.is_forgotten:
        console.nothing_left(found.key)
        return
    question = ForgetStudent(
        str(found.folder), traces, beside.shared, stays=not originals and found.folder.exists()
    )
    if yes:
        console.lines_of(question)
    elif not may_change(question, console.ask):
        console.nothing_erased()
        sys.exit(HELD_BACK)
    done, problems = forget(found, traces, beside=beside.erase, day=today, console=console)
    console.problems(problems)
    if done is None:
        sys.exit(COULD_NOT_RUN)
    console.forgotten(done)


@cli.command("copy-for", context_settings=_ASKED_FOR_HELP, **_told("copy-for"))
@click.argument("student", type=click.Path(path_type=Path))
@click.option("--private", is_flag=True, help=_SAY.say("cli.copy-for.private"))
@click.option("--out", type=click.Path(path_type=Path), help=_SAY.say("cli.build.out"))
@click.option("--today", type=_Day(), help=_SAY.say("cli.today"))
def copy_for_command(student: Path, out: Path | None, today: date | None, *, private: bool) -> None:
    from recapgen.app.student_copies import copy_for  # noqa: PLC0415  seldom asked for

    console = Console(_SAY)
    made, problems = copy_for(student, out, today, private=private)
    console.problems(problems)
    if made is None:
        sys.exit(COULD_NOT_RUN)
    console.copied(made.files, made.left_out)
    click.echo(made.file)
    sys.exit(HELD_BACK if made.left_out else ALL_PUBLISHED)


@cli.command("explain", context_settings=_ASKED_FOR_HELP, **_told("explain"))
@click.argument("code")
def explain_command(code: str) -> None:
    known = entries()
    entry = known.get(code.strip().strip("[]").lower())
    if entry is None:
        near = get_close_matches(code.lower(), known, n=3, cutoff=0.5)
        click.echo(_SAY.say("cli.explain.unknown", code=code), err=True)
        for each in near:
            click.echo(f"  recapgen explain {each}", err=True)
        sys.exit(COULD_NOT_RUN)
    click.echo(f"{entry.code}\n\n{entry.text}")


def _code(outcome: Outcome, *, strict: bool) -> int:
    """What a run ends with; of a fault of our own a line says what to send."""
    if not outcome.ran:
        return COULD_NOT_RUN
    if outcome.fault_report is not None:
        click.echo(_SAY.say("cli.fault-report", file=outcome.fault_report), err=True)
        return UNCAUGHT
    return HELD_BACK if outcome.held_back(strict=strict) else ALL_PUBLISHED


def main() -> None:
    """Run the command line. Raises KeyboardInterrupt where it is interrupted.

    An unexpected fault leaves what is up as it was, with a file to send.
    """
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")  # a path may be any bytes
    try:
        cli.main(standalone_mode=False)
    except click.exceptions.Abort as fault:
        raise KeyboardInterrupt from fault
    except click.ClickException as fault:
        fault.show()
        sys.exit(COULD_NOT_RUN)
    except OSError as fault:
        # A full disk or a folder that may not be written: the machine's fault, said in one line.
        click.echo(_SAY.say("cli.machine", fault=fault), err=True)
        sys.exit(COULD_NOT_RUN)
    except Exception as fault:  # noqa: BLE001 - whatever it is, the coach gets no traceback
        click.echo(_SAY.say("cli.uncaught", file=keep_report(fault)), err=True)
        sys.exit(UNCAUGHT)
