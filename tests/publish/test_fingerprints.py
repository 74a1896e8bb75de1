"""The signed list of a site: what it tells of a copy, and what is not taken for one."""

import shutil
import subprocess
import zipfile
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from recapgen.cli import cli
from recapgen.locking.signing import public_key
from recapgen.model.problem import Code
from recapgen.publish.even_zip import write_zip
from recapgen.publish.fingerprints import FINGERPRINTS, read_fingerprints, sign_site
from recapgen.publish.published_copy import verify_copy

SECRET, OTHER = bytes(range(32)), bytes(range(1, 33))
FILES = {"index.html": b"<h1>Hum</h1>", "films/a.mp4": b"\x00\x01", "sw.js": b"const FILES = {};"}


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """A published site of three files, signed."""
    folder = tmp_path / "site" / "q7w2"
    for path, content in FILES.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_bytes(content)
    sign_site(folder, "q7w2", SECRET)
    return folder


def verify(*words: str | Path) -> Result:
    return CliRunner().invoke(cli, ["verify", *map(str, words)])


def codes(copy: Path, key: str | None = None) -> list[Code]:
    return [problem.code for problem in verify_copy(copy, key).problems]


def test_the_same_files_are_signed_the_same_way_and_others_are_another_build(site: Path) -> None:
    first = (site / FINGERPRINTS).read_bytes()
    sign_site(site, "q7w2", SECRET)
    assert (site / FINGERPRINTS).read_bytes() == first
    (site / "index.html").write_bytes(b"<h1>Hush</h1>")
    sign_site(site, "q7w2", SECRET)
    before, now = read_fingerprints(first), read_fingerprints((site / FINGERPRINTS).read_bytes())
    assert before is not None
    assert now is not None
    assert (before.key, now.key) == (public_key(SECRET),) * 2
    assert before.build != now.build
    assert {path for path in FILES if before.files[path] != now.files[path]} == {"index.html"}


@pytest.mark.skipif(shutil.which("sha256sum") is None, reason="no sha256sum here")
def test_the_usual_tool_reads_it_too(site: Path) -> None:
    done = subprocess.run(["sha256sum", "--check", "--strict", FINGERPRINTS], cwd=site, check=False)
    assert done.returncode == 0


def test_every_file_that_is_other_is_told_and_none_that_is_not(site: Path) -> None:
    told = verify(site.parent)
    assert (told.exit_code, "q7w2: whole" in told.output) == (0, True)
    (site / "index.html").write_bytes(b"<h1>Hum!</h1>")
    (site / "films" / "a.mp4").unlink()
    (site / "films" / "b.mp4").write_bytes(b"\x00\x01")
    (site / ".DS_Store").write_bytes(b"of a file manager")
    told = verify(site)
    lines = [line.split() for line in told.output.split("\n") if line.startswith("  ")]
    assert told.exit_code == 1
    told_of = [["changed", "index.html"], ["missing", "films/a.mp4"], ["added", "films/b.mp4"]]
    assert lines[1:] == told_of
    (whole,) = verify_copy(site, None).value or ()
    assert lines[0][1] == f"{whole.build},"


def test_a_zip_is_looked_at_without_unpacking_it(site: Path, tmp_path: Path) -> None:
    paths = [*FILES, FINGERPRINTS]
    packed = tmp_path / "q7w2.zip"
    write_zip(packed, [(f"q7w2/{path}", site / path) for path in paths])
    key = public_key(SECRET)
    assert verify(packed, "--key", f"{key[:32]} {key[32:]}").exit_code == 0
    with zipfile.ZipFile(packed, "a") as more:
        more.writestr("q7w2/../../evil.html", b"")
        with pytest.warns(UserWarning, match="Duplicate"):
            more.writestr("q7w2/index.html", FILES["index.html"])
    (told,) = verify_copy(packed, None).value or ()
    assert told.changed == ("q7w2/index.html",)  # which of the two a reader gets is not known
    assert told.added == ("q7w2/../../evil.html",)
    content = bytearray(packed.read_bytes())
    content[60] ^= 255  # in the first file's packed bytes
    packed.write_bytes(content)
    (told,) = verify_copy(packed, None).value or ()
    assert "q7w2/films/a.mp4" in told.changed or "q7w2/index.html" in told.changed


@pytest.mark.parametrize("at", ["build", "index.html", "# key", "# signature", "# folder"])
def test_a_list_that_was_touched_is_no_list(site: Path, at: str) -> None:
    whole = (site / FINGERPRINTS).read_text("utf-8")
    place = whole.index(at) - 5 if at == "index.html" else whole.index(at) + len(at) + 2
    other = "0" if whole[place] != "0" else "1"
    (site / FINGERPRINTS).write_text(whole[:place] + other + whole[place + 1 :], "utf-8")
    assert codes(site) == [Code.COPY_LIST_DAMAGED]
    assert verify(site).exit_code == 2


@pytest.mark.parametrize(
    "content", [b"", b"\xff", b"# recapgen 0.1.0, build 0\n", b"# signature \n" * 3]
)
def test_nonsense_is_no_list(site: Path, content: bytes) -> None:
    (site / FINGERPRINTS).write_bytes(content)
    assert codes(site) == [Code.COPY_LIST_DAMAGED]


def test_somebody_elses_key_signs_nothing_of_ours(site: Path) -> None:
    (site / "index.html").write_bytes(b"<h1>Send me money</h1>")
    sign_site(site, "q7w2", OTHER)
    assert codes(site, public_key(SECRET)) == [Code.COPY_FOREIGN]
    assert public_key(OTHER)[:8] in verify(site).output  # the key is told, to be compared
    assert verify(site, "--key", public_key(SECRET)).exit_code == 2
    assert verify(site, "--key", "abc").exit_code == 2


def test_what_holds_no_list_is_said_to_hold_none(tmp_path: Path) -> None:
    (tmp_path / "a.txt").write_text("no zip", "utf-8")
    assert codes(tmp_path) == [Code.COPY_UNSIGNED]
    assert codes(tmp_path / "a.txt") == [Code.COPY_UNREADABLE]
    assert codes(tmp_path / "nothing") == [Code.COPY_UNREADABLE]
