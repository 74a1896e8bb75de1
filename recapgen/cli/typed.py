"""What all commands share: their words, their exit codes, and what may be typed."""

import re
from datetime import date, datetime

import click

from recapgen.app.chosen_students import Shard
from recapgen.words.catalogue import words

ALL_PUBLISHED, HELD_BACK, COULD_NOT_RUN, UNCAUGHT = 0, 1, 2, 3
SAY = words("en")
ASKED_FOR_HELP = {"help_option_names": ["-h", "--help"]}


def told(command: str) -> dict[str, str]:
    """What the help says of a command: in its own page, and in the list of all."""
    key = f"cli.{command}"
    examples = as_written(f"{key}.examples") if SAY.has(f"{key}.examples") else ""
    return {
        "help": SAY.say(f"{key}.help"),
        "short_help": SAY.say(f"{key}.short"),
        "epilog": examples,
    }


def as_written(key: str) -> str:
    """A text whose lines the help leaves alone; click asks for a mark before each paragraph."""
    return "\n\n".join(f"\b\n{part}" for part in SAY.say(key).strip().split("\n\n"))


class Day(click.ParamType[date]):
    name = "date"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> date:
        try:
            return datetime.strptime(str(value), "%Y-%m-%d").date()  # noqa: DTZ007  a day has no zone
        except ValueError:
            self.fail(SAY.say("cli.bad-day", found=value), param, ctx)


class ShardOf(click.ParamType[Shard]):
    name = "i/n"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> Shard:
        number, _, of = str(value).partition("/")
        if not (number.isdecimal() and of.isdecimal() and 1 <= int(number) <= int(of)):
            self.fail(SAY.say("cli.build.bad-shard", found=value), param, ctx)
        return Shard(int(number), int(of))


class PublicKey(click.ParamType[str]):
    name = "key"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> str:
        key = "".join(str(value).split()).lower()
        if re.fullmatch(r"[0-9a-f]{64}", key) is None:
            self.fail(SAY.say("cli.verify.bad-key", found=value), param, ctx)
        return key
