"""How to reach somebody, and when they were born, stays in the coach's files."""

import pytest
from msgspec.structs import replace

from recapgen.model.people import Agreed, Coach, Guardian, Student
from recapgen.model.problem import Code
from recapgen.privacy.forbidden import forbidden_in, named
from recapgen.privacy.leaks import find_leaks
from recapgen.publish.checks import vocabulary
from recapgen.tools.contact_reading import dialled_at_home, phones_in
from recapgen.tools.html_reading import ReadSite, read_html

COACH = Coach("Ines Falk", contact="ines@example.org, 0170 5550199")
OWN = Student(
    "leo-lind",
    "Leo",
    born=2012,
    emails=("LeoLind@example.org",),
    phones=("+44 (0)20 5550 1234",),
    agreed=Agreed(guardian=Guardian("Rosa Lind", "mother")),
)
OTHER = Student(
    "marta-k",
    "Marta",
    also_called=("Zorba",),
    players=("Keklik", "Player 1"),
    emails=("m.k@example.org",),
    phones=("0171 555 01 23",),
    agreed=Agreed(guardian=Guardian("Ruprecht Kahl")),
    answers=(Agreed(guardian=Guardian("Sidonie")), Agreed(guardian=Guardian("Mum"))),
)
ENGLISH = vocabulary("en")
PRIVATE = "Seen on 04-11-2027 and 2027-04-12. Her sister: 0160 5550 777, +49 2027 0411."


def met(
    body: str, own: Student | None = OWN, *, handed_over: bool = False
) -> set[tuple[Code, str]]:
    forbidden = forbidden_in(
        own,
        [named(OTHER, OTHER.key)]
        if handed_over
        else [named(OWN, OWN.key), named(OTHER, OTHER.key)],
        coach=COACH,
        private=[PRIVATE],
        root="/home/ines/lessons",
        vocabulary=ENGLISH,
        handed_over=handed_over,
    )
    page = read_html(f"<html><body>{body}</body></html>")
    site = ReadSite({"index.html": page}, {}, {"index.html": 1})
    return {(leak.code, leak.word) for leak in find_leaks(site, forbidden)}


@pytest.mark.parametrize(
    ("body", "word"),
    [
        ("<p>call 0171-5550123.</p>", "0171 555 01 23"),
        ("<p>call +49 171/5550123</p>", "0171 555 01 23"),
        ("<p>call 0049 (0)171 5550123</p>", "0171 555 01 23"),
        ("<p>call ０１７１ ５５５０１２３</p>", "0171 555 01 23"),
        ("<a href='tel:+491715550123'>call</a>", "0171 555 01 23"),
        ("<p data-say='020 5550 1234'></p>", "+44 (0)20 5550 1234"),
        ("<p>her sister's 01605550777</p>", "0160 5550 777"),
        ("<p>write to M.K@Example.org.</p>", "m.k@example.org"),
        ("<a href='mailto:m.k%40example.org'>write</a>", "m.k@example.org"),
        ("<p>leolind@example.org</p>", "leolind@example.org"),
        ("<p>you were born in 2012</p>", "2012"),
        ("<p>2012年生まれ</p>", "2012"),
        ("<p>Jahrgang 2012</p>", "2012"),
    ],
)  # fmt: skip
def test_a_detail_is_met_however_it_is_typed(body: str, word: str) -> None:
    assert met(body) == {(Code.DETAIL_SHOWN, word)}


@pytest.mark.parametrize(
    ("body", "name"),
    [
        ("<p>as zorba does</p>", "Zorba"),
        ("<p>as Keklik does</p>", "Keklik"),
    ],
)
def test_other_names_of_another_count_as_theirs(body: str, name: str) -> None:
    assert met(body) == {(Code.OTHER_STUDENT_NAMED, name)}


@pytest.mark.parametrize(
    "body",
    [
        "<p>a spin of 2,012 rpm, and 2012 at the end</p>",
        "<p>Ask Mum to film it. Player 1 starts.</p>",
        "<p>Leo Lind, 11 April 2027, 04-11-2027</p>",
        "<p>Reach me: ines@example.org, 0170 5550199</p>",
        "<p>01715550124 and 99017155501239</p>",
        "<p data-y='0.17 1.55 50.12 3.4'></p>",
    ],
)
def test_what_is_the_coachs_or_anybodys_is_no_detail(body: str) -> None:
    assert met(body) == set()


def test_the_student_may_have_their_own_but_nobody_elses() -> None:
    theirs = "<p>Rosa Lind, leolind@example.org, 020 5550 1234, born 2012"
    assert met(theirs, handed_over=True) == set()
    assert met(f"{theirs}, m.k@example.org</p>", handed_over=True) == {
        (Code.DETAIL_SHOWN, "m.k@example.org")
    }
    siblings = replace(OTHER, agreed=OWN.agreed, answers=(), emails=OWN.emails, phones=OWN.phones)
    forbidden = forbidden_in(
        OWN,
        [named(siblings, siblings.key)],
        coach=COACH,
        private=(),
        root="/x/y",
        vocabulary=ENGLISH,
        handed_over=True,
    )
    page = read_html(f"<html><body>{theirs}</p></body></html>")
    assert find_leaks(ReadSite({"index.html": page}, {}, {"index.html": 1}), forbidden) == ()


def test_on_pages_of_nobody_everybodys_are_met() -> None:
    assert met("<p>Rosa, 020 5550 1234, m.k@example.org</p>", own=None) == {
        (Code.GUARDIAN_NAMED, "Rosa Lind"),
        (Code.DETAIL_SHOWN, "+44 (0)20 5550 1234"),
        (Code.DETAIL_SHOWN, "m.k@example.org"),
    }


@pytest.mark.parametrize(
    ("phone", "digits"),
    [
        ("0171 5550123", "1715550123"),
        ("+33 1 55 50 12 34", "155501234"),
        ("+354 555 0123", "5550123"),
        ("+1 (555) 555-0123", "5555550123"),
        ("at work", None),
        ("12345", None),
    ],
)
def test_a_number_is_known_by_what_is_dialled_at_home(phone: str, digits: str | None) -> None:
    assert dialled_at_home(phone) == digits


def test_days_and_measurements_are_no_numbers_to_call() -> None:
    told = "04-11-2027 10:30, 04.11.2027, 0.25 0.35 0.45, 1300 2500 2700, 2027-04-11 0170 5550123"
    assert phones_in(told) == ("0170 5550123",)
