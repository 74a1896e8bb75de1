"""The README stays true: every command, code and test command it names exists, none is missing."""

import re
from pathlib import Path

from click.testing import CliRunner

from recapgen.cli import cli
from recapgen.model.problem import Code
from recapgen.words.catalogue import words

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")


def _listed() -> dict[str, str]:
    return dict(re.findall(r"^\| `([a-z0-9-]+)` \| (\w+) \|", README, flags=re.MULTILINE))


def test_every_problem_code_is_listed_with_what_it_costs() -> None:
    assert _listed() == {code.slug: code.cost.value for code in Code}


def test_every_option_is_listed() -> None:
    for command in cli.commands.values():
        told = CliRunner().invoke(command, ["--help"]).output
        for option in re.findall(r"--[a-z]+", told):
            if option != "--help":
                assert f"`{option}" in README or f"`recapgen {option}" in README, option


def test_the_commands_shown_at_the_top_are_in_the_makefile() -> None:
    makefile = (ROOT / "Makefile").read_text(encoding="utf-8")
    for target in re.findall(r"^make (\w+)", README, flags=re.MULTILINE):
        assert re.search(rf"^{target}:", makefile, flags=re.MULTILINE), target


def test_what_a_code_is_listed_with_can_be_said_of_any_facts() -> None:
    assert all(words("en").has(f"problem.{code.slug}.fix") for code in Code)
