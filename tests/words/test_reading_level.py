"""Plain words: no sentence of ours is long, and the catalogues read easily.

``textstat`` holds the published formulas: Flesch-Kincaid school grades for English, the first
Wiener Sachtextformel (a school grade as well) for German, and reading ease after Fernandez
Huerta for Spanish and after Kandel and Moles for French. No formula is kept for Japanese and
Korean; there a sentence has a longest number of letters. Places are filled with a number.
"""

import re
from importlib.resources import files

import pytest
import textstat
from babel.messages.pofile import read_po

from recapgen.words.languages import STUDENT_FACING

READ = [name for name in STUDENT_FACING if name != "ordinary"]  # those words are never shown
HARDEST_GRADE = {"en": 5.0, "de": 5.5}
LEAST_EASE = {"es": 86.0, "fr": 86.0}
MOST_WORDS = {"en": 28, "es": 30, "de": 30, "fr": 32}
MOST_LETTERS = {"ja": 80, "ko": 90}
_LISTS = ("care.STOP_SIGNS.text",)  # warning signs in a row, read one by one and not as a sentence
_ENDS = re.compile(r"(?<=[.!?。！？])\s*(?=\S)|(?<=[;:；：])\s+|\n")


def _texts(language: str, name: str, *, but: tuple[str, ...] = ()) -> list[str]:
    with files("recapgen.words").joinpath(language, f"{name}.po").open("rb") as po:
        catalogue = read_po(po, locale=language)
    texts = []
    for message in catalogue:
        if message.id and message.id not in but:
            forms = (
                message.string if isinstance(message.string, (tuple, list)) else [message.string]
            )
            texts += [re.sub(r"\{[^}]*\}", "7", str(form)) for form in forms]
    return texts


def _sentences(language: str, name: str) -> list[str]:
    """Whole sentences only: labels and parts of sentences have no level of their own."""
    ends = (".", "?", "!", "。", "？", "！")
    return [text for text in _texts(language, name) if text.rstrip().endswith(ends)]


def _running(language: str, name: str) -> str:
    return " ".join(_sentences(language, name))


@pytest.mark.parametrize("language", HARDEST_GRADE)
@pytest.mark.parametrize("name", READ)
def test_a_child_of_that_grade_can_read_it(language: str, name: str) -> None:
    textstat.set_lang(language)
    text = _running(language, name)
    grade = (
        textstat.flesch_kincaid_grade(text)
        if language == "en"
        else textstat.wiener_sachtextformel(text, 1)
    )
    assert grade <= HARDEST_GRADE[language]


@pytest.mark.parametrize("language", LEAST_EASE)
@pytest.mark.parametrize("name", READ)
def test_it_reads_easily(language: str, name: str) -> None:
    textstat.set_lang(language)
    assert textstat.flesch_reading_ease(_running(language, name)) >= LEAST_EASE[language]


def test_the_formulas_bite() -> None:
    textstat.set_lang("en")
    hard = (
        "Notwithstanding considerable heterogeneity, biomechanical intervention demonstrably "
        "facilitates advantageous kinematic reorganisation throughout transitional sequencing."
    )
    assert textstat.flesch_kincaid_grade(hard) > 2 * HARDEST_GRADE["en"]


@pytest.mark.parametrize("language", MOST_WORDS)
@pytest.mark.parametrize("name", READ)
def test_no_sentence_has_too_many_words(language: str, name: str) -> None:
    long = {
        sentence: count
        for text in _texts(language, name, but=_LISTS)
        for sentence in _ENDS.split(text)
        if (count := len(re.findall(r"[\w’'-]+", sentence))) > MOST_WORDS[language]
    }
    assert long == {}


@pytest.mark.parametrize("language", MOST_LETTERS)
@pytest.mark.parametrize("name", READ)
def test_no_sentence_has_too_many_letters(language: str, name: str) -> None:
    long = {
        sentence: len(sentence)
        for text in _texts(language, name, but=_LISTS)
        for sentence in _ENDS.split(text)
        if len(sentence) > MOST_LETTERS[language]
    }
    assert long == {}
