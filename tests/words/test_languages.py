"""Every language says all that a student reads, in its own forms."""

import re
import string
from collections.abc import Iterator
from datetime import date, time
from importlib.resources import files
from pathlib import Path

import pytest
from babel.core import Locale
from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po

from recapgen.intake.settings import LANGUAGES as TAKEN
from recapgen.model.people import Area, Hand
from recapgen.model.quantity import Quantity
from recapgen.model.units import LengthUnit, SpeedUnit, TemperatureUnit, Units
from recapgen.tools.template_folder import template_folder
from recapgen.words.amounts import (
    amount,
    clock,
    day,
    month,
    number,
    percent,
    quantity_name,
    quantity_yours,
    short_day,
    size,
)
from recapgen.words.care_sentences import tell_area
from recapgen.words.catalogue import words
from recapgen.words.club_names import club_name
from recapgen.words.languages import LANGUAGES, OWN_NAMES, STUDENT_FACING

OTHERS = [language for language in LANGUAGES if language != "en"]
EN = words("en")
METRIC = Units()
SAID_OTHERWISE = ("chart.finish.row", "evidence.too-early.balls")  # "unos 2.000.000", "unas 20"
# Alike in English and elsewhere, and rightly so: signs, units, patterns, words of the game.
ALIKE = re.compile(
    r"date\.|time\.|number\.|join\.|unit\.|unit-name\.yd$|page\.(conditions\.wind|status\.because)$|club\.|page\.(rounds\.unknown|quoted|sentence"
    r"|film\.caption|practice\.step-sets-of|others\.moved|number\.with-club|log\.pair|log\.no"
    r"|log\.field\.(score|minutes)|rounds\.score|diary\.column\.(score|minutes))$"
    r"|amount\.|side\.(draw|fade)$|quantity\.(smash-factor|spin-loft|carry)\.name$"
    r"|film\.(position\.)?impact$|chart\.(side-in|order\.block|order\.swung|load)|care\.(side|area|PAIN_LOGGED\.where)"
    r"|shots\.second-look\.line$|evidence\.(range|declared\.moment|mishits\.kind|aside\.drill)$"
    r"|range\.(ball\.long|press\.ball|slip\.block)$|page\.block\.drill$|page\.question\.(mark|count)$|page\.cases\.(hand|club|totals\.count)$|film\.mark$|page\.practice\.(minutes|seconds)$"
)


def _catalogue(language: str, name: str) -> Catalog:
    with files("recapgen.words").joinpath(language, f"{name}.po").open("rb") as po:
        return read_po(po, locale=language)


def _entries(language: str, name: str) -> Iterator[tuple[str, tuple[str, ...], bool]]:
    """Each key with its texts, and whether it has forms for numbers."""
    for message in _catalogue(language, name):
        if isinstance(message.id, (tuple, list)):
            yield str(message.id[0]), tuple(message.string or ()), True
        elif message.id:
            yield str(message.id), (str(message.string),), False


def _places(text: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(text) if name is not None}


def test_every_sentence_is_kept_once() -> None:
    """Two changes of one sentence, put together line by line, leave both of them behind."""
    twice = re.compile(r'^msgstr "[^\n]*\nmsgstr "', re.MULTILINE)
    for file in sorted(Path(__file__).parents[2].glob("recapgen/words/*/*.po")):
        text = file.read_text(encoding="utf-8")
        keys = re.findall(r'^msgid "(.+)"$', text, re.MULTILINE)
        assert len(keys) == len(set(keys)), file
        assert twice.search(text) is None, file


def test_what_may_be_written_in_the_files_is_what_there_is() -> None:
    assert sorted(set(TAKEN.values())) == sorted(LANGUAGES) == sorted(OWN_NAMES)


@pytest.mark.parametrize("language", OTHERS)
@pytest.mark.parametrize("name", STUDENT_FACING)
def test_every_key_is_there_and_no_other(language: str, name: str) -> None:
    english = {key for key, _, _ in _entries("en", name)}
    there = [key for key, _, _ in _entries(language, name)]
    assert {"missing": sorted(english - set(there)), "left over": sorted(set(there) - english)} == {
        "missing": [],
        "left over": [],
    }
    assert len(there) == len(set(there))


@pytest.mark.parametrize("language", OTHERS)
def test_nothing_but_what_students_read_is_translated(language: str) -> None:
    kept = {file.name for file in files("recapgen.words").joinpath(language).iterdir()}
    lists = {"common_words.txt"}  # what a coach may write, not what we do
    assert kept - lists == {f"{name}.po" for name in STUDENT_FACING}


@pytest.mark.parametrize("language", OTHERS)
@pytest.mark.parametrize("name", STUDENT_FACING)
def test_every_text_is_filled_with_what_the_english_one_is(language: str, name: str) -> None:
    english = {key: (texts, counted) for key, texts, counted in _entries("en", name)}
    for key, texts, counted in _entries(language, name):
        in_english, english_counted = english[key]
        assert counted == english_counted, key
        assert all(text.strip() for text in texts), key
        wanted = set().union(*map(_places, in_english))
        # a form for one may say "one" instead of the number, and leave out what only many have
        told = set().union(*map(_places, texts)) if counted else _places(texts[0])
        assert told == wanted, key


@pytest.mark.parametrize("language", OTHERS)
@pytest.mark.parametrize("name", STUDENT_FACING)
def test_numbers_have_all_the_forms_that_the_language_has(language: str, name: str) -> None:
    catalogue = _catalogue(language, name)
    assert all(
        len(texts) == catalogue.num_plurals
        for _, texts, counted in _entries(language, name)
        if counted
    )


@pytest.mark.parametrize(("language", "million", "many"), [("es", 0, 2), ("fr", 1, 2)])
@pytest.mark.parametrize("name", STUDENT_FACING)
def test_a_million_is_many_and_one_is_not(
    language: str, million: int, many: int, name: str
) -> None:
    """The form for millions says what the one for many says; that for one stands elsewhere."""
    for key, texts, counted in _entries(language, name):
        if counted and key not in SAID_OTHERWISE:
            of_a_million = re.sub(r" d(e |’)", " ", texts[million])
            assert of_a_million == re.sub(r" d(e |’)", " ", texts[many]), key


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_number_takes_the_form_that_it_takes_in_that_language(language: str) -> None:
    """Numbers that the language treats alike share a form; one and many do not share it."""
    category = Locale.parse(language).plural_form
    spoken = words(language)
    forms: dict[str, set[str]] = {}
    for n in (0, 1, 2, 3, 5, 10, 11, 21, 100, 101, 1_000_000):
        told = spoken.count("page.practice.balls", n).replace(spoken.figure(n), "#")
        forms.setdefault(category(n), set()).add(told)
    assert all(len(told) == 1 for told in forms.values()), forms
    if len(forms) > 1:
        assert forms["one"] != forms["other"]


@pytest.mark.parametrize("language", OTHERS)
@pytest.mark.parametrize("name", STUDENT_FACING)
def test_nothing_is_left_in_english(language: str, name: str) -> None:
    english = {key: texts for key, texts, _ in _entries("en", name)}
    left = [
        key
        for key, texts, _ in _entries(language, name)
        if not ALIKE.match(key) and set(texts) & set(english[key])
    ]
    assert left == []


@pytest.mark.parametrize(
    ("language", "spin", "path", "down"),
    [
        ("en", "2,450\u202frpm", "6.3° right", "3.1° down"),
        ("de", "2.450\u202fU/min", "6,3° rechts", "3,1°"),
        ("es", "2450\u202frpm", "6,3°", "3,1°"),
        ("fr", "2\u202f450\u202ftr/min", "6,3°", "3,1°"),
        ("ja", "2,450", "6.3°", "3.1°"),
        ("ko", "2,450", "6.3°", "3.1°"),
    ],
)
def test_amounts_have_the_form_of_the_language(
    language: str, spin: str, path: str, down: str
) -> None:
    spoken = words(language)
    assert spin in amount(Quantity.SPIN_RATE, 2450.2, METRIC, None, spoken)
    assert path in amount(Quantity.CLUB_PATH, 6.3, METRIC, None, spoken)
    assert down in amount(Quantity.ATTACK_ANGLE, -3.1, METRIC, None, spoken)
    for quantity in Quantity:
        units = Units(SpeedUnit.MPH, LengthUnit.YARD, TemperatureUnit.FAHRENHEIT)
        assert size(quantity, 1234.5, units, spoken)


@pytest.mark.parametrize(
    ("language", "long", "short", "in_month"),
    [
        ("en", "11 April 2027", "11 Apr", "April 2027"),
        ("de", "11. April 2027", "11. Apr.", "April 2027"),
        ("es", "11 de abril de 2027", "11 abr", "abril de 2027"),
        ("fr", "11 avril 2027", "11 avr.", "avril 2027"),
        ("ja", "2027年4月11日", "4月11日", "2027年4月"),
        ("ko", "2027년 4월 11일", "4월 11일", "2027년 4월"),
    ],
)
def test_days_are_told_in_words(language: str, long: str, short: str, in_month: str) -> None:
    spoken, on = words(language), date(2027, 4, 11)
    assert (day(on, spoken), short_day(on, spoken), month(on, spoken)) == (long, short, in_month)


@pytest.mark.parametrize(
    ("language", "long", "short"),
    [
        ("en", "1 May 2027", "1 May"),
        ("de", "1. Mai 2027", "1. Mai"),
        ("fr", "1er mai 2027", "1er mai"),
    ],
)
def test_the_first_of_a_month_is_told_as_it_is_said(language: str, long: str, short: str) -> None:
    spoken, on = words(language), date(2027, 5, 1)
    assert (day(on, spoken), short_day(on, spoken)) == (long, short)


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_clock_has_24_hours(language: str) -> None:
    assert "21" in clock(time(21, 5), words(language))
    told = clock(time(10, 21), words(language))
    assert told.replace("\u202fh\u202f", ":") == "10:21"  # French writes 10 h 21


@pytest.mark.parametrize(
    ("language", "half", "many", "small"),
    [
        ("en", "50%", "12,345", "−0.25"),
        ("de", "50\u00a0%", "12.345", "−0,25"),
        ("es", "50\u00a0%", "12.345", "−0,25"),
        ("fr", "50\u00a0%", "12\u202f345", "−0,25"),
        ("ja", "50%", "12,345", "−0.25"),
        ("ko", "50%", "12,345", "−0.25"),
    ],
)
def test_numbers_have_the_form_of_the_language(
    language: str, half: str, many: str, small: str
) -> None:
    spoken = words(language)
    assert percent(0.5, spoken) == half
    assert spoken.figure(12345) == many
    assert number(-0.25, 2, spoken) == small


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_line_ends_between_a_number_and_its_unit(language: str) -> None:
    spoken = words(language)
    units = [key for key in spoken.keys() if key.startswith("unit.")]  # noqa: SIM118  (no mapping)
    assert len(units) > 10
    assert [key for key in units if " " in spoken.say(key, n="7")] == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_count_in_a_sentence_is_written_in_that_form(language: str) -> None:
    spoken = words(language)
    assert spoken.figure(1234) in spoken.count("page.practice.balls-a-week", 1234)


@pytest.mark.parametrize("language", LANGUAGES)
def test_parts_are_joined_as_the_language_does(language: str) -> None:
    spoken = words(language)
    assert spoken.together(["A", "", "B"]) == ("AB" if language == "ja" else "A B")
    assert spoken.listed(["a"]) == "a"
    assert spoken.listed([]) == ""
    assert spoken.listed(["a", "b", "c"]) == ("a、b、c" if language == "ja" else "a, b, c")


@pytest.mark.parametrize("language", LANGUAGES)
def test_clubs_have_names(language: str) -> None:
    spoken = words(language)
    seven = club_name("7 iron", spoken)
    assert "7" in seven
    assert seven != club_name("7 wood", spoken) != club_name("7 hybrid", spoken)
    assert spoken.figure(56.5, 1) in club_name("56.5 deg wedge", spoken)
    assert club_name("my old stick", spoken) == "my old stick"
    assert "driver" in club_name("driver", EN)


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("hand", [None, *Hand])
def test_every_part_of_the_body_has_a_name(language: str, hand: Hand | None) -> None:
    named = [tell_area(area, hand, words(language)) for area in Area]
    assert len(set(named)) == len(Area)


@pytest.mark.parametrize("language", ["en", "es", "de", "fr"])
def test_every_letter_is_in_our_own_typefaces(language: str) -> None:
    """Told by the ranges that the stylesheet names; other scripts take the phone's typefaces."""
    sheets = sorted((template_folder() / "css").glob("letters*.css"))
    css = "\n".join(sheet.read_text(encoding="utf-8") for sheet in sheets)
    ends = [
        range(int(first, 16), int(last or first, 16) + 1)
        for faces in re.findall(r"unicode-range:\s*([^;]+);", css)
        for first, last in re.findall(r"U\+([0-9A-F]+)(?:-([0-9A-F]+))?", faces)
    ]
    there = {chr(code) for codes in ends for code in codes}
    spoken = words(language)
    used = {sign for key in spoken.keys() for text in spoken.forms(key) for sign in text}  # noqa: SIM118  (no mapping)
    assert {sign for sign in used - there if sign.isprintable()} == set()
    assert set("áñ¿¡äöüß„“‚‘çéèœŒ«»\u202f") <= there


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_number_as_your_own_has_its_name(language: str) -> None:
    """Where a language says "your", the word before the name agrees with it."""
    spoken = words(language)
    for quantity in Quantity:
        yours = quantity_yours(quantity, spoken)
        assert yours.endswith(quantity_name(quantity, spoken)), quantity


def test_a_german_number_of_yours_agrees_in_gender() -> None:
    german = words("de")
    assert quantity_yours(Quantity.CARRY, german) == "dein Carry"
    assert quantity_yours(Quantity.CLUB_PATH, german) == "deine Schwungbahn"


def test_french_marks_do_not_begin_a_line() -> None:
    """Before : ; ? ! » and % stands a narrow space at which no line breaks."""
    loose = [
        (file.name, line)
        for file in sorted(Path(str(files("recapgen.words"))).glob("fr/*.po"))
        for line in file.read_text(encoding="utf-8").splitlines()
        if line.startswith("msgstr") and re.search(r" [:;?!»%]|« ", line)
    ]
    assert loose == []
