"""A name takes nobody down: whoever comes, pages that do not speak of them stay as they are."""

import re
from collections.abc import Iterable
from pathlib import Path

import pytest
from msgspec.structs import replace

from recapgen.model.people import Coach, Student
from recapgen.privacy.forbidden import Forbidden, Named, forbidden_in
from recapgen.privacy.leaks import find_leaks
from recapgen.privacy.names import Tells, composed, fold, folded_words
from recapgen.publish.checks import vocabulary
from recapgen.publish.site_builder import build_site
from recapgen.render.student_site import student_site
from recapgen.tools.html_reading import ReadPage, ReadSite, read_site
from recapgen.tools.template_folder import template_folder
from recapgen.words.catalogue import words
from tests.privacy.everybodys_names import first_mentions, mentions, some_names
from tests.render.recaps_fixture import COACH, full_recap, student

ENGLISH = vocabulary("en")
OWN = Student("mara-secret-folder", "Mara")
NOTES = """
Pace yourself, and let the bell ring before the park wakes up. Seven balls, driver in hand.

Mark the spot. You will see it may move: chase it down the green like a young bush in the wind.
Grant yourself one rose a day. Bush to the left, bell to the right. Park the club. Driver first.

- Bell, then swing
- Light grip; regular tempo (Young players rush)
- “Will it hold?” Ring it. May is for the short game. 7 iron, PW, SW

Play a French ball, a Texas wedge.
Chase nothing – Rose early? Green first… Seven in a row! the font of all pace is the light.
"""
EVERYDAY = """
    Bush Bell Park Pace Seven Will May Mark Grant Chase Rose Young Green Driver Bašić Font Latin Cy
    Html Light Roman Regular Figtree Svg Data Card Film Assets Path Circle Rect Lene-Style Css Js
    Baker Hill Ring Early Swing Ball Day Left Tempo Short Sw Pw Ai An Ma Li Do So Le To In On
    French Texas
""".split()  # noqa: SIM905  (reads as a list)


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> ReadSite:
    """The site of one student, with everything on it, as it would be published."""
    into = tmp_path_factory.mktemp("site")
    recap = full_recap()
    told = replace(recap, notes=replace(recap.notes, words=NOTES))
    build_site(student_site(student(told), COACH, words("en")), into, template_folder())
    return read_site(into)


def beside(
    names: Iterable[str], own: Student = OWN, coach: Coach = COACH, language: str = "en"
) -> Forbidden:
    """What must not be told once students of these ``names`` have come."""
    return forbidden_in(
        own,
        [Named(name, f"q{i}q") for i, name in enumerate(names)],
        coach=coach,
        private=(),
        root="/srv/my lessons",
        vocabulary=vocabulary(language, "en"),
    )


def found(site: ReadSite, forbidden: Forbidden) -> set[tuple[str, str]]:
    return {(leak.word, leak.near) for leak in find_leaks(site, forbidden)}


def test_a_page_without_an_everyday_word_as_a_name_is_left_alone(built: ReadSite) -> None:
    assert found(built, beside(EVERYDAY)) == set()
    folders = [Named("Q.", name.lower()) for name in EVERYDAY]
    forbidden = forbidden_in(OWN, folders, coach=COACH, private=(), root="/x/y", vocabulary=ENGLISH)
    assert found(built, forbidden) == set()


def test_whoever_comes_takes_nobody_down(built: ReadSite) -> None:
    assert found(built, beside(some_names(300))) == set()


def test_whoever_is_spoken_of_is_found() -> None:
    assert _missed(some_names(300)) == []


@pytest.mark.campaign
def test_twelve_thousand_take_nobody_down(
    built: ReadSite, sample_out: Path, languages_out: Path
) -> None:
    names = some_names(12_000)
    assert found(built, beside(names)) == set()
    coach = Coach("Ines Falk", contact="lessons@example.org", place="Harbour meadow range")
    at_home = Student("home", "Gunnar Jonas Lene Mira Otto Pia")
    homes = [home for out in (sample_out, languages_out) for home in out.glob("site/*/index.html")]
    assert len(homes) > 9
    for home in homes:
        site = read_site(home.parent)
        language = re.findall('<html lang="(..)"', site.pages["index.html"].source)[0]
        assert found(site, beside(names, at_home, coach, language)) == set(), home


@pytest.mark.campaign
def test_twelve_thousand_who_are_spoken_of_are_found() -> None:
    assert _missed(some_names(12_000)) == []


def _missed(names: Iterable[str]) -> list[tuple[str, str]]:
    """Mentions that are not found, beyond those that the rule says are not."""
    missed = []
    for name in names:
        forbidden = beside([name], coach=Coach("Q."))
        parts = folded_words(name)
        needs = [ENGLISH.needs(part) for part in parts]
        if len(composed(fold(name))) < 2 or needs == [None]:
            continue
        everyday = needs == [Tells.CAPITAL_INSIDE] or name.islower()
        for said in (*mentions(name), *(() if everyday else first_mentions(name))):
            page = ReadSite({"a.html": ReadPage("", [said])}, {}, {"a.html": 1})
            if not find_leaks(page, forbidden):
                missed.append((name, said))
    return missed
