"""The same lessons told in every language: whole, in that language alone, the coach's as typed."""

import json
import re
import string
from pathlib import Path

import pytest

from recapgen.tools.html_reading import read_html
from recapgen.words.catalogue import words
from recapgen.words.languages import LANGUAGES, STUDENT_FACING
from tests.end_to_end.many_languages import COACH_LANGUAGE, OWN_WORDS, site_of
from tests.end_to_end.small_lessons import recapgen

pytestmark = pytest.mark.ffmpeg

OTHERS = [language for language in LANGUAGES if language != "en"]
LEAST_LETTERS = 12
NEVER_ON_A_PAGE = ("ordinary.", "sheet.", "rule.", "decided.")


def _fragments(language: str) -> set[str]:
    """What stands between the places of a language's texts, where it is long enough to tell."""
    catalogue = words(language)
    return {
        " ".join(fragment.split())
        for key in catalogue.keys()  # noqa: SIM118  (a catalogue, not a mapping)
        if not key.startswith(("problem.", "cli.", "book", "seal.", *NEVER_ON_A_PAGE))
        for text in catalogue.forms(key)
        for fragment, *_ in string.Formatter().parse(text)
        if len(re.findall(r"[^\W\d_]", fragment)) >= LEAST_LETTERS
    }


def _read(page: Path) -> str:
    return "\n".join(read_html(page.read_text(encoding="utf-8")).texts)


def _typed(site: Path) -> str:
    """All texts of a site's pages, and of the files beside them that people read."""
    calendar = (site / "practice.ics").read_bytes().decode("utf-8").replace("\r\n ", "")
    return "\n".join([*map(_read, sorted(site.glob("*.html"))), calendar])


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_page_says_which_language_it_is_in(languages_out: Path, language: str) -> None:
    site = site_of(languages_out, language)
    pages = sorted(site.glob("*.html"))
    assert len(pages) >= 7
    for page in pages:
        assert f'<html lang="{language}">' in page.read_text(encoding="utf-8"), page.name
    manifest = json.loads((site / "card.webmanifest").read_text(encoding="utf-8"))
    assert manifest["lang"] == language
    assert manifest["short_name"] == words(language).say("page.offline.short-name")


@pytest.mark.parametrize("language", OTHERS)
def test_no_sentence_of_ours_is_left_in_english(languages_out: Path, language: str) -> None:
    told = _typed(site_of(languages_out, language))
    own = _fragments(language)
    left = {f for f in _fragments("en") if f in told and not any(f in each for each in own)}
    assert left == set()


def test_english_sentences_would_be_seen(languages_out: Path) -> None:
    told = _typed(site_of(languages_out, "en"))
    assert sum(fragment in told for fragment in _fragments("en")) > 100


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_coachs_own_words_are_as_typed(languages_out: Path, language: str) -> None:
    told = _typed(site_of(languages_out, language))
    assert [own for own in OWN_WORDS if own not in told] == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_place_of_a_sentence_stays_unfilled(languages_out: Path, language: str) -> None:
    assert re.findall(r"\{\w*\}", _typed(site_of(languages_out, language))) == []


def test_card_and_cases_are_in_the_coachs_language_and_the_book_in_english(
    languages_out: Path,
) -> None:
    site, book = languages_out / "site", languages_out / "coach_book"
    for page in (site / "index.html", *(site / "cases").glob("*.html")):
        assert f'<html lang="{COACH_LANGUAGE}">' in page.read_text(encoding="utf-8"), page
    where = words(COACH_LANGUAGE).say("page.coach.where")
    assert " ".join(where.split()) in _read(site / "index.html")
    for page in book.glob("*.html"):
        assert '<html lang="en"' in page.read_text(encoding="utf-8"), page.name
    assert words("en").say("book.look.heading") in _read(book / "index.html")


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_intake_sheet_is_there_in_every_language_that_is_spoken(
    languages_out: Path, language: str
) -> None:
    first = language == COACH_LANGUAGE
    name = "questions.html" if first else f"questions-{language}.html"
    sheet = languages_out / "coach_book" / name
    assert " ".join(words(language).say("sheet.body.ask").split()) in _read(sheet)
    assert f'<div lang="{language}">' in sheet.read_text(encoding="utf-8")
    index = (languages_out / "coach_book" / "index.html").read_text(encoding="utf-8")
    assert f'href="{name}"' in index


def test_all_files_named_as_read_by_students_are_there() -> None:
    assert "page" in STUDENT_FACING
    assert "problems" not in STUDENT_FACING


def test_a_student_who_chooses_another_language_gets_another_site(lessons: Path, out: Path) -> None:
    def built() -> str:
        assert recapgen("build", lessons, "--out", out, "--today", "2027-06-01").code == 0
        return "".join(
            sorted(
                home.read_text(encoding="utf-8").split('lang="')[1][:2]
                for home in (out / "site").glob("*/index.html")
            )
        )

    assert built() == "enen"
    student = next(lessons.glob("brida*/student.yml"))
    student.write_text(
        student.read_text(encoding="utf-8") + "language: Deutsch\n", encoding="utf-8"
    )
    assert built() == "deen"
    coach = lessons / "coach.yml"
    coach.write_text(coach.read_text(encoding="utf-8") + "language: es\n", encoding="utf-8")
    assert built() == "dees"
