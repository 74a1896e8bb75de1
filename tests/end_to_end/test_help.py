"""Each help as a person reads it in a window of 80 columns."""

import re
from collections.abc import Callable

import pytest
from click.testing import CliRunner

from recapgen.cli import cli

PAGES = ("", *sorted(cli.commands))


@pytest.mark.parametrize("command", PAGES)
def test_the_help_reads_well_in_eighty_columns(
    command: str, golden: Callable[[str, str], None]
) -> None:
    asked = [*filter(None, [command]), "--help"]
    told = CliRunner().invoke(cli, asked, prog_name="recapgen", terminal_width=80).output
    assert all(len(line) <= 80 for line in told.splitlines())
    assert "\b" not in told
    assert re.search(r"\w\.\.\.", told) is None, "cut off"
    golden(f"help-{command or 'recapgen'}.txt", told)
