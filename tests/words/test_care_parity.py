"""Every language cautions as the English does: no sentence, sign, figure or source is lost."""

import re
from collections.abc import Mapping
from pathlib import Path

import pytest
import yaml

from recapgen.model.care import NoteCode
from recapgen.words.catalogue import words
from recapgen.words.languages import LANGUAGES

OTHERS = [language for language in LANGUAGES if language != "en"]
EN = words("en")
SIGNS: Mapping[str, Mapping[str, Mapping[str, str]]] = yaml.safe_load(
    Path(__file__).with_name("care_signs.yml").read_text(encoding="utf-8")
)
CAUTIONS = sorted(
    key
    for key in EN.keys()  # noqa: SIM118  not a dict
    if key.startswith(("care.", "page.care.", "page.calendar.stop", "page.load.hint"))
    or key in ("page.diary.load", "sheet.body.ask", "sheet.body.signs", "sheet.agree.each")
)
# One sentence of English may be two of another tongue, or two be one, but never more than that.
ONE_MORE_OR_LESS = 1
SENTENCE = re.compile(r"[.?。\uff1f](?=\s|$|[^\s\d.])")
FIGURE = re.compile(r"\d+(?:[.,\u00a0\u202f ]\d{3})*")
CITED = re.compile(r"([A-Z][A-Za-zö&.]+(?: \d+)?,? \d{4})")


def _sentences(text: str) -> int:
    return sum(len(SENTENCE.findall(line)) for line in text.split("\n"))


def _figures(text: str) -> list[int]:
    without_places = re.sub(r"\{[^}]*\}", " ", text)
    return sorted(int(re.sub(r"\D", "", n)) for n in FIGURE.findall(without_places))


def _missing(kind: str, line: str, language: str) -> list[str]:
    return [
        sign
        for sign, told in SIGNS[kind].items()
        if not re.search(told[language], line, re.IGNORECASE)
    ]


@pytest.mark.parametrize("language", OTHERS)
def test_a_caution_has_as_many_sentences_as_in_english(language: str) -> None:
    spoken = words(language)
    apart = {
        key: (_sentences(theirs), _sentences(ours))
        for key in CAUTIONS
        if key != f"care.{NoteCode.STOP_SIGNS}.text"  # its signs are counted by name below
        for theirs in spoken.forms(key)[-1:]
        for ours in EN.forms(key)[-1:]
        if abs(_sentences(theirs) - _sentences(ours)) > ONE_MORE_OR_LESS
    }
    assert apart == {}


@pytest.mark.parametrize("language", OTHERS)
def test_a_caution_keeps_its_figures(language: str) -> None:
    """Those written as figures in English; others may write "two" as 2."""
    spoken = words(language)
    lost = {
        key: sorted(gone)
        for key in CAUTIONS
        if (gone := set(_figures(EN.forms(key)[-1])) - set(_figures(spoken.forms(key)[-1])))
    }
    assert lost == {}


@pytest.mark.parametrize("language", OTHERS)
def test_a_source_keeps_its_authors_and_years(language: str) -> None:
    spoken = words(language)
    sources = [key for key in CAUTIONS if key.endswith(".source")]
    cited = {key: CITED.findall(EN.say(key)) for key in sources}
    assert sum(map(len, cited.values())) > 20
    lost = {
        key: gone
        for key, names in cited.items()
        if (gone := [name for name in names if name not in spoken.say(key)])
    }
    assert lost == {}


@pytest.mark.parametrize("language", LANGUAGES)
def test_whom_to_call_is_told_wherever_english_tells_it(language: str) -> None:
    spoken = words(language)
    calls = [key for key in CAUTIONS if "{emergency}" in "".join(EN.forms(key))]
    assert len(calls) == 6
    for key in calls:
        assert spoken.say(key, emergency="112").count("112") == EN.say(key, emergency="112").count(
            "112"
        )


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_sign_to_stop_is_told(language: str) -> None:
    lines = words(language).say(f"care.{NoteCode.STOP_SIGNS}.text", emergency="112").split("\n")
    assert len(lines) == len(SIGNS)
    for kind, line in zip(SIGNS, lines, strict=True):
        assert _missing(kind, line, language) == [], line


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_sign_that_was_lost_would_be_missed(language: str) -> None:
    """Each sign taken out of the sentence is missed by its name."""
    lines = words(language).say(f"care.{NoteCode.STOP_SIGNS}.text", emergency="112").split("\n")
    for kind, line in zip(SIGNS, lines, strict=True):
        for sign, told in SIGNS[kind].items():
            assert sign in _missing(
                kind, re.sub(told[language], "", line, flags=re.IGNORECASE), language
            )
