"""What a host is told to send: enough for every page, and nobody's address."""

import re
from pathlib import Path

import pytest

from recapgen.model.page import SiteKind
from recapgen.privacy.addresses import address
from recapgen.publish.host_headers import HOST_FILES, lay_host_files
from recapgen.publish.output import Output, claim
from recapgen.publish.policy import guarded

PLAIN, DIRECTIVES = "_headers", ".htaccess"


@pytest.fixture
def output(tmp_path: Path) -> Output:
    (tmp_path / "lessons").mkdir()
    claimed = claim(tmp_path / "out", tmp_path / "lessons").value
    assert claimed is not None
    return claimed


def test_both_are_laid_for_everybody_to_read_and_not_written_twice(output: Output) -> None:
    lay_host_files(output)
    files = {name: output.site / name for name in HOST_FILES}
    assert {name: file.read_text("utf-8") for name, file in files.items()} == HOST_FILES
    assert all(file.stat().st_mode & 0o777 == 0o666 & ~output.umask for file in files.values())
    before = {file: file.stat().st_mtime_ns for file in files.values()}
    lay_host_files(output)
    assert {file: file.stat().st_mtime_ns for file in files.values()} == before
    assert list(output.staging.iterdir()) == []


def test_a_file_of_the_coachs_own_stays_and_an_older_one_of_ours_does_not(output: Output) -> None:
    (output.site / PLAIN).write_text("/*\n  X-Own: 1\n", "utf-8")
    first = HOST_FILES[DIRECTIVES].split("\n")[0]
    (output.site / DIRECTIVES).write_text(f"{first}\nHeader set X-Old 1\n", "utf-8")
    lay_host_files(output)
    assert "X-Own" in (output.site / PLAIN).read_text("utf-8")
    assert (output.site / DIRECTIVES).read_text("utf-8") == HOST_FILES[DIRECTIVES]


@pytest.mark.parametrize("name", HOST_FILES)
def test_the_policy_allows_what_every_page_asks_for_and_no_more(name: str) -> None:
    (said,) = re.findall(r"Content-Security-Policy:? \"?([^\"\n]*)", HOST_FILES[name])
    page = guarded('<meta charset="utf-8">', SiteKind.STUDENT, opens_sealed=True)
    (own,) = re.findall(r'Policy" content="([^"]*)"', page)
    assert said == f"{own}; frame-ancestors 'none'"
    for header in ("no-referrer", "nosniff", "noindex, nofollow, noarchive", "no-cache"):
        assert HOST_FILES[name].count(header) == 1


def test_a_students_folder_is_kept_from_search_engines_and_the_card_is_not() -> None:
    (pattern,) = re.findall(r'Request_URI "([^"]*)"', HOST_FILES[DIRECTIVES])
    at = address(bytes(32), "anna")
    for path in (f"/{at}/films/a.mp4", f"/lessons/{at}/", f"/{at}"):
        assert re.search(pattern, path), path
    for path in ("/", "/index.html", "/cases/abcd.html", "/assets/card-0123.css"):
        assert not re.search(pattern, path), path
    assert "/:folder/*" in HOST_FILES[PLAIN].split("\n")
