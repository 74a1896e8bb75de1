"""The coach's book as pages: complete, escaped, linked, and honest about few students."""

import re
from datetime import timedelta
from html import unescape
from html.parser import HTMLParser
from urllib.parse import unquote

import pytest
from msgspec.structs import replace

from recapgen.book.binding import bind_book
from recapgen.handbook import entries
from recapgen.model.book import record_path
from recapgen.model.evidence import Declared, Verdict
from recapgen.model.page import Site, SiteKind
from recapgen.model.people import Coach
from recapgen.model.practice_log import LogEntry, PracticeLog
from recapgen.model.problem import Code, Problem
from recapgen.model.recap import StudentRecap
from recapgen.model.source import SourceRef
from recapgen.render.book_pages.site import book_site, student_pages
from recapgen.words.catalogue import words
from tests.book.told import IMPERIAL, SECOND, comparison, recap, retained, student

EN = words("en")
COACH = Coach("Ines Falk", units=IMPERIAL, emergency_number="112")
TODAY = SECOND + timedelta(days=3)
NEVER = ("significant", "proven", "caused", "diagnos", "guarantee", "safe zone")
NASTY = '<script>alert("x")</script>&'


def site(
    *students: StudentRecap,
    problems: tuple[Problem, ...] = (),
    up: frozenset[str] | None = None,
) -> Site:
    return book_site(bind_book(students, problems, TODAY, up=up), COACH, EN)


def two_lessons(**changes: str) -> StudentRecap:
    return student(
        recap(compared=comparison(), private="Try **less** talk."),
        recap("2027-04-25", SECOND, "Second", comparison(), retention=retained()),
        **changes,  # type: ignore[arg-type]  # key and name only
    )


def page(built: Site, path: str) -> str:
    return {p.path: p.body for p in built.pages}[path]


def text(body: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", body)).split())


class Tags(HTMLParser):
    """Checks that tags nest, and gathers ids and links."""

    VOID = frozenset({"br", "img", "meta", "link"})

    def __init__(self, body: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.ids: list[str] = []
        self.links: list[str] = []
        self.feed(body)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        assert tag not in ("script", "style", "img")
        assert not any(name.startswith("on") or name == "style" for name, _ in attrs)
        if tag not in self.VOID:
            self.open.append(tag)
        self.ids += [value or "" for name, value in attrs if name == "id"]
        self.links += [value or "" for name, value in attrs if name == "href"]

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


def test_the_book_has_its_pages_in_order() -> None:
    built = site(two_lessons(), two_lessons(key="jonas", name="Jonas"))
    assert [(p.path, p.section) for p in built.pages] == [
        ("index.html", ""),
        ("student-marta.html", "Students"),
        ("student-jonas.html", "Students"),
        ("lessons.html", ""),
        ("endings.html", ""),
        ("ledger.html", ""),
        ("asked.html", ""),
        ("problems.html", ""),
        ("questions.html", ""),
        ("filming.html", ""),
        ("reading.html", ""),
    ]
    assert (built.kind, built.name, built.assets) == (SiteKind.BOOK, "Ines Falk: my book", ())


def test_every_page_is_sound_and_every_link_goes_somewhere() -> None:
    marta = two_lessons()
    built = site(marta, problems=(Problem(Code.FOLDER_MISSING, SourceRef(""), {"path": "x"}),))
    bodies = {p.path: Tags(p.body) for p in built.pages}
    beside = {f"../site/q7w2e9/{told.page}" for told in marta.recaps}
    beside |= {record_path("marta", told.key) for told in marta.recaps}
    beside.add("../site/q7w2e9/index.html")
    met = set()
    for here, tags in bodies.items():
        assert len(tags.ids) == len(set(tags.ids))
        for link in tags.links:
            path, _, anchor = link.partition("#")
            path = path or here
            if path.startswith("mailto:"):
                continue
            if path.startswith("handbook/"):
                assert path == "handbook/index.html" or anchor in entries()
            elif unquote(path) in beside:
                met.add(unquote(path))
            else:
                assert path in bodies
                assert not anchor or anchor in bodies[path].ids
    assert met == beside


def test_the_front_page_tells_each_lesson_in_the_coach_s_units() -> None:
    assert "1 student, 2 lessons." in text(page(site(two_lessons()), "index.html"))
    front = text(page(site(two_lessons()), "lessons.html"))
    assert "Hum one even note" in front
    assert re.search(r"carry 112 yd → 122 yd", front.replace("\u202f", " ").replace("\xa0", " "))
    assert "mostly still there (since 11 Apr" in front
    assert front.index("25 April 2027") < front.index("11 April 2027"), "newest first"


def test_an_unpublished_student_has_no_link_to_a_page() -> None:
    built = site(replace(two_lessons(), published=False))
    for each in built.pages:
        assert "../site/" not in each.body


def test_only_pages_that_are_up_are_linked() -> None:
    marta = two_lessons()
    old = f"q7w2e9/{marta.recaps[0].page}"
    links = Tags(page(site(marta, up=frozenset({old})), "student-marta.html")).links
    assert [link for link in links if link.startswith("..")] == [f"../site/{old}"]
    for each in site(marta, up=frozenset()).pages:
        assert "../site/" not in each.body


def test_a_student_s_page_tells_all_of_a_lesson() -> None:
    told = replace(
        comparison(verdict=Verdict.PROBABLY),
        verdict_uncapped=Verdict.CHANGED,
        setup_moved=True,
        overshot=True,
        lowered_by_mishits=True,
    )
    marta = student(
        recap(compared=told, private=f"Try **less** talk. {NASTY}", retention=retained())
    )
    body = page(site(marta), "student-marta.html")
    read = text(body)
    for part in (
        "probably changed (by the shots alone: changed)",
        "You say you chose the number and its goal before the “after” shots",
        "spread of carry side (2.2 yd): held",
        "held",
        "1 of 3 before, 2 of 3 after",
        "8 rows: 6 used, 1 set aside, 0 without a reading, 1 left out",
        "shot 14 (marta/2027-04-11/shots.csv:17): phone rang in the swing",
        "40 balls a session",
        "mostly still there: +10.9 yd gained on 11 April 2027, +8.7 yd still there",
        "Something was moved between the “before” and “after” shots.",
        "The typical shot went past the goal",
        "Without the mishits",
        "ball speed",
        "You told us about your right wrist.",
        "flagged lead wrist; intent asks for firmer grip",
    ):
        assert part in read.replace("\u202f", " ").replace("\xa0", " "), part
    assert "<strong>less</strong>" in body


@pytest.mark.parametrize(
    "path",
    [
        "index.html",
        "lessons.html",
        "endings.html",
        "asked.html",
        "student-nasty.html",
        "ledger.html",
        "problems.html",
    ],
)
def test_whatever_was_typed_is_only_ever_text(path: str) -> None:
    nasty = recap(intent=NASTY, compared=comparison(), private=NASTY)
    problem = Problem(Code.FOLDER_MISSING, SourceRef(NASTY, 1, 1), {"path": NASTY})
    marta = student(nasty, key="nasty", name=NASTY)
    log = PracticeLog((LogEntry(TODAY, SourceRef(""), pain=True, pain_place=NASTY),), kept=True)
    built = site(replace(marta, log=log), problems=(problem,))
    body = page(built, path)
    Tags(body)
    assert NASTY in text(body)


def test_folder_names_with_odd_letters_still_get_pages_of_their_own() -> None:
    keys = ["Zoë K", "zoe-k", "北", "#1", "1", "../x"]
    paths = student_pages([student(key=key) for key in keys])
    assert list(paths) == keys
    assert list(paths.values()) == [
        "student-zoe-k.html",
        "student-zoe-k-2.html",
        "student-unnamed.html",
        "student-1.html",
        "student-1-2.html",
        "student-x.html",
    ]


def test_data_links_of_odd_folder_names_are_quoted() -> None:
    odd = student(recap("2027-04-11 50% #2", compared=comparison()), key="Zoë K")
    assert 'href="data/Zo%C3%AB%20K/2027-04-11%2050%25%20%232.json"' in page(
        site(odd), "lessons.html"
    )


def test_the_problems_page_groups_by_file_and_tells_all_four_things() -> None:
    found = tuple(
        Problem(Code.FOLDER_MISSING, SourceRef(file, line), {"path": "p"})
        for file, line in (("b.md", 3), ("a.md", 9), ("b.md", 1))
    )
    read = text(page(site(problems=found), "problems.html"))
    assert read.index("a.md") < read.index("b.md")
    assert read.count("a.md") == read.count("b.md") == 1
    assert "held back folder-missing there's no folder p" in read
    assert "3 problems in the files" in text(page(site(problems=found), "index.html"))


def test_an_empty_book_says_so_on_every_page() -> None:
    built = site()
    for each in built.pages:
        Tags(each.body)
    assert "No lessons yet." in text(page(built, "index.html"))
    assert "No problems." in text(page(built, "problems.html"))
    assert "Nobody's waiting for anything." in text(page(built, "index.html"))


def test_the_ledger_ranks_only_from_three_students_up() -> None:
    three = [student(recap(compared=comparison()), key=key) for key in "abc"]
    one = student(recap(intent="A lonely one", compared=comparison()), key="d")
    read = text(page(site(*three, one), "ledger.html"))
    ranked, few = read.split("Not enough yet")
    assert re.search(r"Hum one even note changed: 3 carry On average it moved \d\.\d times", ranked)
    assert "over 3 lessons with 3 students." in ranked
    assert "A lonely one changed: 1 carry 1 lesson, 1 student" in few


def test_the_ledger_sets_numbers_chosen_afterwards_apart_and_says_what_it_left_out() -> None:
    late = replace(comparison(), declared=Declared.AFTERWARDS)
    windy = replace(comparison(), setup_sd=50.0, setup_moved=True)
    told = [student(recap(intent="Late", compared=late), key=key) for key in "abc"]
    refused = student(recap(intent="Windy", compared=windy), key="d")
    read = text(page(site(*told, refused), "ledger.html"))
    above, apart = read.split("Chosen after the shots")
    assert "Late" not in above
    assert "Late changed: 3 carry 3 lessons, 3 students" in apart
    assert "Windy" not in read
    assert "1 lesson doesn't count" in read
    plain = text(page(site(student(recap(compared=comparison()))), "ledger.html"))
    assert "Chosen after the shots" not in plain
    assert "doesn't count" not in plain


def test_no_page_of_the_book_uses_a_word_it_should_not() -> None:
    built = site(two_lessons())
    assert not [(w, p.path) for w in NEVER for p in built.pages if w in text(p.body).lower()]


def test_the_filming_sheet_says_where_the_phone_stands_and_draws_it_twice() -> None:
    body = page(site(two_lessons()), "filming.html")
    read = text(body)
    for part in ("4 m", "as high as the hands", "60 frames a second", "1/1000", "Mark the spot"):
        assert part in read
    assert body.count("<svg") == body.count('role="img"') == 2
