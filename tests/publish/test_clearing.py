"""What no longer belongs comes down; what is not ours stays."""

from pathlib import Path

import pytest

from recapgen.publish.clearing import clear_away
from recapgen.publish.output import Output, claim

ADDRESS = "bcdfghjkmnpqrstvwxyz"


@pytest.fixture
def output(tmp_path: Path) -> Output:
    (tmp_path / "lessons").mkdir()
    claimed = claim(tmp_path / "out", tmp_path / "lessons").value
    assert claimed is not None
    (claimed.site / ADDRESS).mkdir()
    return claimed


def test_only_our_own_leftovers_come_down(output: Output) -> None:
    for name in ("index.html", "CNAME", ".DS_Store"):
        (output.site / name).touch()
    for name in (ADDRESS[::-1], "assets", "cases", "holiday"):
        (output.site / name).mkdir()
        (output.site / name / "index.html").touch()
    problems = clear_away(output, {"index.html", "assets", ADDRESS})
    assert {path.name for path in output.site.iterdir()} == {
        *("index.html", "assets", ADDRESS, "CNAME", "holiday", ".DS_Store")
    }
    assert [problem.facts["found"] for problem in problems] == ["CNAME", "holiday"]
    assert (output.site / "holiday" / "index.html").exists()
    assert list(output.staging.iterdir()) == []
