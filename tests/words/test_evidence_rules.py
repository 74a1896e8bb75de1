"""Every evidence sentence stands beside the rule that it states, so that better words keep it."""

from collections.abc import Mapping
from pathlib import Path
from typing import TypedDict

import pytest
import yaml

import recapgen
from recapgen.words.catalogue import words
from recapgen.words.languages import LANGUAGES


class Rule(TypedDict):
    rule: str
    where: str
    said: Mapping[str, str]


RULES: list[Rule] = yaml.safe_load(
    Path(__file__).with_name("evidence_rules.yml").read_text(encoding="utf-8")
)
ENGLISH = words("en")
SAID = [(key, text) for rule in RULES for key, text in rule["said"].items()]


def test_every_sentence_has_one_rule() -> None:
    keys = [key for key, _ in SAID]
    sentences = {
        key
        for key in ENGLISH.keys()  # noqa: SIM118  not a dict
        if key.startswith("evidence.") and ENGLISH.forms(key)[-1].endswith(".")
    }
    assert sorted(keys) == sorted(sentences)


def test_no_sentence_was_changed_without_a_look_at_its_rule() -> None:
    assert {key: ENGLISH.forms(key)[-1] for key, _ in SAID} == dict(SAID)


def test_what_decides_is_where_it_is_said_to_be() -> None:
    home = Path(recapgen.__file__).parents[1]
    assert [rule["where"] for rule in RULES if not (home / rule["where"]).is_file()] == []
    assert all(rule["rule"].endswith(".") for rule in RULES)


@pytest.mark.parametrize("language", LANGUAGES)
def test_figures_of_a_rule_are_the_same_in_every_language(language: str) -> None:
    spoken = words(language)
    told = [spoken.forms(f"evidence.sure.{key}")[0] for key in ("interval", "rank")]
    assert all("15" in sentence for sentence in told)
