"""The commands and their exit codes."""

import json
import sys
from datetime import date
from difflib import get_close_matches
from functools import partial
from io import TextIOWrapper
from pathlib import Path

import click

from recapgen import __version__
from recapgen.app.building import Options, build, check
from recapgen.app.chosen_students import Scope, Shard
from recapgen.cli.trust import TRUST
from recapgen.cli.typed import (
    ALL_PUBLISHED,
    ASKED_FOR_HELP,
    COULD_NOT_RUN,
    HELD_BACK,
    SAY,
    UNCAUGHT,
    Day,
    ShardOf,
    as_written,
    told,
)
from recapgen.console import Console, Outcome
from recapgen.handbook import entries
from recapgen.model.lesson import MOST_PLANNED, Planned
from recapgen.model.notes_sent import SheetDesk
from recapgen.tools.clock import now
from recapgen.tools.faults import keep_report
from recapgen.words.problems import as_record

_PLANNED = click.IntRange(1, MOST_PLANNED)


@click.group(
    help=SAY.say("cli.help"),
    epilog=as_written("cli.examples"),
    context_settings={**ASKED_FOR_HELP, "max_content_width": 80},
)
@click.version_option(__version__, "--version", message="recapgen %(version)s")
def cli() -> None:
    """The group; its help is above."""


@cli.command("build", context_settings=ASKED_FOR_HELP, **told("build"))
@click.argument("lessons", type=click.Path(path_type=Path))
@click.option("--out", type=click.Path(path_type=Path), help=SAY.say("cli.build.out"))
@click.option("--strict", is_flag=True, help=SAY.say("cli.strict"))
@click.option("--jobs", type=click.IntRange(min=1), help=SAY.say("cli.build.jobs"))
@click.option("--only", multiple=True, help=SAY.say("cli.build.only"))
@click.option("--shard", type=ShardOf(), help=SAY.say("cli.build.shard"))
@click.option("--today", type=Day(), help=SAY.say("cli.today"))
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
    console = Console(SAY)
    scope = Scope(only, shard)
    outcome = build(lessons, Options(out=out, jobs=jobs, today=today, scope=scope), console)
    console.built(outcome)
    sys.exit(_code(outcome, strict=strict))


@cli.command("join", context_settings=ASKED_FOR_HELP, **told("join"))
@click.argument(
    "shares", type=click.Path(path_type=Path), nargs=-1, required=True, metavar="SHARE …"
)
@click.option("--out", type=click.Path(path_type=Path), help=SAY.say("cli.build.out"))
@click.option("--strict", is_flag=True, help=SAY.say("cli.strict"))
@click.option("--today", type=Day(), help=SAY.say("cli.today"))
def join_command(
    shares: tuple[Path, ...], out: Path | None, today: date | None, *, strict: bool
) -> None:
    from recapgen.app.joining import join  # noqa: PLC0415  other commands join nothing

    console = Console(SAY)
    outcome = join(shares, Options(out=out, today=today), console)
    console.built(outcome)
    sys.exit(_code(outcome, strict=strict))


@cli.command("watch", context_settings=ASKED_FOR_HELP, **told("watch"))
@click.argument("lessons", type=click.Path(path_type=Path))
@click.option("--out", type=click.Path(path_type=Path), help=SAY.say("cli.build.out"))
@click.option("--phone", is_flag=True, help=SAY.say("cli.watch.phone"))
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
    watch(lessons, out, Console(SAY), sheets=sheets, phone=phone)
    sys.exit(COULD_NOT_RUN)


@cli.command("check", context_settings=ASKED_FOR_HELP, **told("check"))
@click.argument("lessons", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help=SAY.say("cli.check.json"))
@click.option("--fix", is_flag=True, help=SAY.say("cli.check.fix"))
@click.option("--strict", is_flag=True, help=SAY.say("cli.strict"))
@click.option("--today", type=Day(), help=SAY.say("cli.today"))
def check_command(
    lessons: Path, today: date | None, *, as_json: bool, fix: bool, strict: bool
) -> None:
    console = Console(SAY)
    outcome = check(lessons, today)
    if fix and outcome.ran:
        from recapgen.desk.mending import Mending  # noqa: PLC0415  other checks need no desk

        mending = Mending(lessons.resolve(), console.ask)
        while mending.go_round(outcome.problems):
            outcome = check(lessons, today)
        console.mended(mending.changed, mending.meanwhile)
    if as_json:
        records = [as_record(problem, SAY) for problem in outcome.problems]
        click.echo(json.dumps(records, ensure_ascii=False, indent=1))
    else:
        console.problems(outcome.problems)
        console.checked(outcome)
    sys.exit(_code(outcome, strict=strict))


@cli.command("new", context_settings=ASKED_FOR_HELP, **told("new"))
@click.argument("lessons", type=click.Path(path_type=Path))
@click.argument("student", required=False)
@click.option("--today", type=Day(), help=SAY.say("cli.today"))
def new_command(lessons: Path, student: str | None, today: date | None) -> None:
    from recapgen.desk.new_lessons import take_in  # noqa: PLC0415  other commands need no desk
    from recapgen.words.notes_remarks import remark  # noqa: PLC0415  of its notes alone

    console = Console(SAY)
    day = today or now().date()
    taken, problems = take_in(lessons, student, console.ask, partial(remark, words=SAY), day)
    console.problems(problems)
    if taken is None:
        sys.exit(COULD_NOT_RUN)
    console.taken_in(taken)
    sys.exit(HELD_BACK if taken.open else ALL_PUBLISHED)


@cli.command("seal", context_settings=ASKED_FOR_HELP, **told("seal"))
@click.argument("lesson", type=click.Path(path_type=Path))
@click.option("--before", type=_PLANNED, help=SAY.say("cli.seal.before"))
@click.option("--after", type=_PLANNED, help=SAY.say("cli.seal.after"))
@click.option("--again", is_flag=True, help=SAY.say("cli.seal.again"))
def seal_command(lesson: Path, before: int | None, after: int | None, *, again: bool) -> None:
    from recapgen.desk.sealing import seal_lesson  # noqa: PLC0415  other commands need no desk

    console = Console(SAY)
    sealed, problems = seal_lesson(lesson, Planned(before, after), now(), again=again)
    console.problems(problems)
    if sealed is None:
        console.not_sealed()
        sys.exit(COULD_NOT_RUN)
    console.sealed(sealed.seal, sealed.lesson, sealed.units, new=sealed.new)


@cli.command("stills", context_settings=ASKED_FOR_HELP, **told("stills"))
@click.argument("lesson", type=click.Path(path_type=Path))
@click.option("--out", type=click.Path(path_type=Path), help=SAY.say("cli.stills.out"))
def stills_command(lesson: Path, out: Path | None) -> None:
    from recapgen.desk.still_sheets import lay_out_stills  # noqa: PLC0415  other commands need no desk

    sheets, problems = lay_out_stills(lesson, out)
    Console(SAY).problems(problems)
    for sheet in sheets or ():
        click.echo(sheet)
    if sheets is None:
        sys.exit(COULD_NOT_RUN)
    sys.exit(HELD_BACK if problems else ALL_PUBLISHED)


@cli.command("worksheet", context_settings=ASKED_FOR_HELP, **told("worksheet"))
@click.argument("lesson", type=click.Path(path_type=Path))
@click.option("--out", type=click.Path(path_type=Path), help=SAY.say("cli.build.out"))
@click.option("--today", type=Day(), help=SAY.say("cli.today"))
def worksheet_command(lesson: Path, out: Path | None, today: date | None) -> None:
    from recapgen.app.worksheets import worksheet_in  # noqa: PLC0415  other commands open none
    from recapgen.desk.worksheet_asking import ask_for_worksheet  # noqa: PLC0415  the same

    console = Console(SAY)
    asked, problems = ask_for_worksheet(lesson)
    console.problems(problems)
    if asked is None:
        sys.exit(COULD_NOT_RUN)
    outcome = build(asked.root, Options(out=out, today=today), console)
    if outcome.book is None:
        console.built(outcome)
        sys.exit(_code(outcome, strict=False))
    click.echo(worksheet_in(outcome.book.parent, asked.student_key, asked.lesson_key))


@cli.command("one-page", context_settings=ASKED_FOR_HELP, **told("one-page"))
@click.argument("lesson", type=click.Path(path_type=Path))
@click.option("--out", type=click.Path(path_type=Path), help=SAY.say("cli.one-page.out"))
@click.option("--today", type=Day(), help=SAY.say("cli.today"))
def one_page_command(lesson: Path, out: Path | None, today: date | None) -> None:
    from recapgen.app.one_lesson import one_lesson  # noqa: PLC0415  heavy, and seldom asked for

    console = Console(SAY)
    made, problems = one_lesson(lesson, out, today)
    console.problems(problems)
    if made is None:
        sys.exit(COULD_NOT_RUN)
    console.one_page(made.size_bytes, made.left_out)
    click.echo(made.file)


@cli.command("explain", context_settings=ASKED_FOR_HELP, **told("explain"))
@click.argument("code")
def explain_command(code: str) -> None:
    known = entries()
    entry = known.get(code.strip().strip("[]").lower())
    if entry is None:
        near = get_close_matches(code.lower(), known, n=3, cutoff=0.5)
        click.echo(SAY.say("cli.explain.unknown", code=code), err=True)
        for each in near:
            click.echo(f"  recapgen explain {each}", err=True)
        sys.exit(COULD_NOT_RUN)
    click.echo(f"{entry.code}\n\n{entry.text}")


for _command in TRUST.commands.values():
    cli.add_command(_command)


def _code(outcome: Outcome, *, strict: bool) -> int:
    """What a run ends with; of a fault of our own a line says what to send."""
    if not outcome.ran:
        return COULD_NOT_RUN
    if outcome.fault_report is not None:
        click.echo(SAY.say("cli.fault-report", file=outcome.fault_report), err=True)
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
        click.echo(SAY.say("cli.machine", fault=fault), err=True)
        sys.exit(COULD_NOT_RUN)
    except Exception as fault:  # noqa: BLE001 - whatever it is, the coach gets no traceback
        click.echo(SAY.say("cli.uncaught", file=keep_report(fault)), err=True)
        sys.exit(UNCAUGHT)
