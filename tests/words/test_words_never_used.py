"""Nothing is claimed that the shots, or we, cannot know, and nothing is said in the old voice."""

import re
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest
import yaml

from recapgen.words.catalogue import words
from recapgen.words.languages import LANGUAGES

NEVER: Mapping[str, Mapping[str, Mapping[str, Mapping[str, list[str]]]]] = yaml.safe_load(
    Path(__file__).with_name("never_used.yml").read_text(encoding="utf-8")
)
ABOUT = {
    "evidence": ("evidence.", "chart.", "rule.", "shots.", "decided.", "worked.", "loft.", "air.",
                 "flight.", "page.measured.", "page.sure.", "page.others.", "page.compare.",
                 "page.case.", "page.stuck."),
    "care": ("care.", "sheet.", "page.care.", "page.practice.", "page.load.", "page.log.",
             "page.diary.", "page.calendar.", "page.rounds.", "chart.load.", "chart.diary."),
    "voice": ("evidence.", "chart.", "film.", "rule.", "shots.", "decided.", "worked.", "loft.",
              "air.", "flight.", "page.", "quantity.", "unit-name.", "care.", "sheet."),
}  # fmt: skip
EACH = [
    (kind, group, language) for kind in NEVER for group in NEVER[kind] for language in LANGUAGES
]


def _found(kind: str, group: str, language: str, text: str) -> list[str]:
    return [
        word
        for word in NEVER[kind][group][language]["words"]
        if re.search(word, re.sub(r"\{[^}]*\}", "7", text), re.IGNORECASE)
    ]


def _sentences(kind: str, language: str) -> Iterator[tuple[str, str]]:
    spoken = words(language)
    for key in sorted(spoken.keys()):
        if key.startswith(ABOUT[kind]):
            for text in spoken.forms(key):
                yield key, text


@pytest.mark.parametrize(("kind", "group", "language"), EACH)
def test_no_sentence_uses_them(kind: str, group: str, language: str) -> None:
    told = list(_sentences(kind, language))
    assert len(told) > 100
    used = [(key, word, text) for key, text in told for word in _found(kind, group, language, text)]
    assert used == []


@pytest.mark.parametrize(("kind", "group", "language"), EACH)
def test_a_sentence_that_used_one_would_be_caught(kind: str, group: str, language: str) -> None:
    """Every planted sentence is caught, and no expression is there that catches none."""
    planted = NEVER[kind][group][language]["caught"]
    caught = {text: _found(kind, group, language, text) for text in planted}
    assert [text for text, by in caught.items() if not by] == []
    idle = set(NEVER[kind][group][language]["words"]) - {w for by in caught.values() for w in by}
    assert idle == set()


def test_every_group_says_why() -> None:
    assert all(NEVER[kind][group]["why"] for kind in NEVER for group in NEVER[kind])
