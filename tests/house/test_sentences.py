"""Every sentence that is asked for exists, every one that exists is asked for."""

import re
import string
from pathlib import Path

from recapgen.model.problem import Code
from recapgen.words.catalogue import words

ROOT = Path(__file__).parents[2]
SPOKEN = re.compile(r"""(?:say|count)\(\s*["']([a-z0-9-]+\.[a-z0-9_.-]+)["']""")
COMPOSED = re.compile(r"""(?:say|count)\(\s*f["']([a-z0-9_.-]*)\{""")
PARTS = ("found", "expected", "fix")


def _sources() -> str:
    files = [
        *(ROOT / "recapgen").rglob("*.py"),
        *(f for f in (ROOT / "site_template").rglob("*") if f.suffix in {".jinja", ".html"}),
    ]
    return "\n".join(f.read_text(encoding="utf-8") for f in files)


def test_every_key_spoken_exists() -> None:
    catalogue = words("en")
    spoken = set(SPOKEN.findall(_sources()))
    assert len(spoken) > 50
    missing = [key for key in spoken if not key.endswith(".") and not catalogue.has(key)]
    assert sorted(missing) == []


def test_every_code_has_its_three_sentences_and_no_sentence_is_left_over() -> None:
    expected = {f"problem.{code.slug}.{part}" for code in Code for part in PARTS}
    kept = {key for key in words("en").keys() if key.startswith("problem.")}  # noqa: SIM118  not a dict
    assert sorted(expected ^ kept) == []


def test_no_sentence_is_kept_that_nobody_speaks() -> None:
    sources = _sources()
    quoted = set(re.findall(r"""["']([a-z0-9_.-]+)["']""", sources))
    families = {*COMPOSED.findall(sources), *(q for q in quoted if q.endswith("."))}
    idle = [
        key
        for key in words("en").keys()  # noqa: SIM118  not a dict
        if not key.startswith(("problem.", "ordinary."))
        and key not in quoted
        and not any(key.startswith(family) for family in families if "." in family)
    ]
    assert sorted(idle) == []


def test_slugs_are_short_and_single() -> None:
    slugs = [code.slug for code in Code]
    assert len(slugs) == len(set(slugs))
    assert all(re.fullmatch(r"[a-z0-9-]{3,40}", slug) for slug in slugs)


def test_places_in_sentences_are_named() -> None:
    for key in words("en").keys():  # noqa: SIM118  not a dict
        for text in words("en").forms(key):
            names = [name for _, name, _, _ in string.Formatter().parse(text) if name is not None]
            assert all(name.isidentifier() for name in names), key
