"""The film's script is written by job and joined when a site is staged."""

import re
import shutil
from pathlib import Path

import pytest

from recapgen.publish.scripts import joined_script
from recapgen.tools.template_folder import template_folder


@pytest.mark.parametrize("script", ["film", "range", "worksheet"])
def test_every_part_stands_in_the_script_once_and_nothing_a_plain_script_cannot_hold(
    script: str,
) -> None:
    joined, parts = joined_script(template_folder(), script), template_folder() / "js"
    shared = () if script == "film" else (parts / "shared").glob("*.js")
    for part in (*(parts / script).glob("*.js"), *shared):
        for name in re.findall(
            r"^(?:export )?(?:async )?(?:function|const|let) (\w+)",
            part.read_text("utf-8"),
            re.MULTILINE,
        ):
            declared = rf"^(?:async )?(?:function|const|let) {name}\b"
            assert len(re.findall(declared, joined, re.MULTILINE)) == 1, (part.name, name)
    assert not re.search(r"^(import|export)\b", joined, re.MULTILINE)


@pytest.mark.parametrize(
    ("part", "added", "why"),
    [
        ("marks.js", 'import { takeKeys } from "./keys.js";\n', "too late"),
        ("time.js", 'import * as all from "./marks.js";\n', "by name"),
        ("time.js", "export default rulerOf;\n", "by name"),
    ],
)
def test_what_cannot_be_joined_is_refused(tmp_path: Path, part: str, added: str, why: str) -> None:
    shutil.copytree(template_folder() / "js", tmp_path / "js")
    file = tmp_path / "js" / "film" / part
    file.write_text(added + file.read_text("utf-8"), "utf-8")
    with pytest.raises(ValueError, match=why):
        joined_script(tmp_path, "film")
