"""Commands about who may see what: locked, erased, handed over."""

import sys
from datetime import date
from itertools import takewhile
from pathlib import Path

import click

from recapgen.cli.typed import (
    ALL_PUBLISHED,
    ASKED_FOR_HELP,
    COULD_NOT_RUN,
    HELD_BACK,
    SAY,
    Day,
    PublicKey,
    told,
)
from recapgen.console import Console
from recapgen.model.receipt import ForgetStudent
from recapgen.tools.clock import now

TRUST = click.Group()


@TRUST.command("lock", context_settings=ASKED_FOR_HELP, **told("lock"))
@click.argument("student", type=click.Path(path_type=Path))
@click.option("--new-words", is_flag=True, help=SAY.say("cli.lock.new-words"))
@click.option("--new-key", is_flag=True, help=SAY.say("cli.lock.new-key"))
@click.option("--own", is_flag=True, help=SAY.say("cli.lock.own"))
def lock_command(student: Path, *, new_words: bool, new_key: bool, own: bool) -> None:
    from recapgen.app.new_locks import LockChange, change_lock  # noqa: PLC0415  seldom asked for

    change = LockChange.WORDS if new_words or own else LockChange.NONE
    change = LockChange.KEY if new_key else change
    typed = click.prompt(SAY.say("cli.lock.type"), hide_input=True) if own else None
    console = Console(SAY)
    opens, problems = change_lock(student, change, typed)
    console.problems(problems)
    if opens is None:
        sys.exit(COULD_NOT_RUN)
    console.lock(opens.change.value, opens.student, opens.build)
    click.echo(opens.passphrase)


@TRUST.command("forget", context_settings=ASKED_FOR_HELP, **told("forget"))
@click.argument("student", type=click.Path(path_type=Path))
@click.option("--originals", is_flag=True, help=SAY.say("cli.forget.originals"))
@click.option("--yes", is_flag=True, help=SAY.say("cli.forget.yes"))
@click.option("--out", type=click.Path(path_type=Path), help=SAY.say("cli.build.out"))
@click.option("--today", type=Day(), help=SAY.say("cli.today"))
def forget_command(
    student: Path, out: Path | None, today: date | None, *, originals: bool, yes: bool
) -> None:
    from recapgen.app.forgetting import forget, traces_in_output, whom  # noqa: PLC0415  seldom
    from recapgen.desk.asking import may_change  # noqa: PLC0415  the same
    from recapgen.desk.traces import look_among_lessons  # noqa: PLC0415  the same

    console = Console(SAY)
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
    stays = not originals and found.folder.exists()
    question = ForgetStudent(
        str(found.folder), traces, beside.shared, beside.elsewhere, stays=stays
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


@TRUST.command("copy-for", context_settings=ASKED_FOR_HELP, **told("copy-for"))
@click.argument("student", type=click.Path(path_type=Path))
@click.option("--private", is_flag=True, help=SAY.say("cli.copy-for.private"))
@click.option("--out", type=click.Path(path_type=Path), help=SAY.say("cli.build.out"))
@click.option("--today", type=Day(), help=SAY.say("cli.today"))
def copy_for_command(student: Path, out: Path | None, today: date | None, *, private: bool) -> None:
    from recapgen.app.student_copies import copy_for  # noqa: PLC0415  seldom asked for

    console = Console(SAY)
    made, problems = copy_for(student, out, today, private=private)
    console.problems(problems)
    if made is None:
        sys.exit(COULD_NOT_RUN)
    console.copied(made.files, made.left_out)
    click.echo(made.file)
    sys.exit(HELD_BACK if made.left_out else ALL_PUBLISHED)


@TRUST.command("bundle", context_settings=ASKED_FOR_HELP, **told("bundle"))
@click.argument("lessons", type=click.Path(path_type=Path))
@click.argument("students", nargs=-1, metavar="[STUDENT …]")
@click.option("--out", type=click.Path(path_type=Path), help=SAY.say("cli.build.out"))
@click.option("--today", type=Day(), help=SAY.say("cli.today"))
def bundle_command(
    lessons: Path, students: tuple[str, ...], out: Path | None, today: date | None
) -> None:
    from recapgen.app.bundling import bundle  # noqa: PLC0415  seldom asked for

    console = Console(SAY)
    made, problems = bundle(lessons, students, out, today)
    console.problems(problems)
    if not made:
        sys.exit(COULD_NOT_RUN)
    console.bundled(made)
    sys.exit(HELD_BACK if problems else ALL_PUBLISHED)


@TRUST.command("verify", context_settings=ASKED_FOR_HELP, **told("verify"))
@click.argument("copy", type=click.Path(path_type=Path))
@click.option("--key", type=PublicKey(), help=SAY.say("cli.verify.key"))
def verify_command(copy: Path, key: str | None) -> None:
    from recapgen.app.verifying import verify  # noqa: PLC0415  seldom asked for

    console = Console(SAY)
    sites, problems = verify(copy, key)
    console.verified(sites or (), key_given=key is not None)
    console.problems(problems)
    if problems:
        sys.exit(COULD_NOT_RUN)
    whole = all(site.is_whole for site in sites or ())
    sys.exit(ALL_PUBLISHED if whole else HELD_BACK)


@TRUST.command("slip", context_settings=ASKED_FOR_HELP, **told("slip"))
@click.argument("lessons", type=click.Path(path_type=Path))
def slip_command(lessons: Path) -> None:
    from recapgen.app.recovering import slip  # noqa: PLC0415  seldom asked for

    console = Console(SAY)
    to_keep, problems = slip(lessons)
    console.problems(problems)
    if to_keep is None:
        sys.exit(COULD_NOT_RUN)
    console.slip(to_keep)


@TRUST.command("recover", context_settings=ASKED_FOR_HELP, **told("recover"))
@click.argument("lessons", type=click.Path(path_type=Path))
def recover_command(lessons: Path) -> None:
    from recapgen.app.recovering import recover  # noqa: PLC0415  seldom asked for

    click.echo(SAY.say("cli.recover.type"), err=True)
    typed = [*takewhile(str.strip, sys.stdin)]
    locks = [line for line in typed if ": " in line]
    console = Console(SAY)
    words = " ".join(line for line in typed if line not in locks)
    recovered, problems = recover(lessons, words, locks)
    console.problems(problems)
    if recovered is None:
        sys.exit(COULD_NOT_RUN)
    console.recovered(recovered)
