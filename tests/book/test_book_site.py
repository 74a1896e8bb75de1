"""The coach's book as pages: complete, escaped, linked, and honest about few students."""

import re
from dataclasses import replace
from datetime import date, timedelta
from html import unescape
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote

import pytest

from recapgen.book.binding import bind_book
from recapgen.intake.folder import survey
from recapgen.intake.student import read_student
from recapgen.model.book import record_path
from recapgen.model.care import CareNote, Level, NoteCode, WeekSoFar
from recapgen.model.evidence import GuardFinding, Kept, MattersFrom, Verdict
from recapgen.model.page import Site, SiteKind
from recapgen.model.people import AgeBand, Agreed, Coach
from recapgen.model.practice_log import LogEntry, PracticeLog
from recapgen.model.problem import Code, Problem
from recapgen.model.recap import Recap, StudentRecap
from recapgen.model.source import SourceRef
from recapgen.render.book_people import agreement
from recapgen.render.book_site import book_site, student_pages
from recapgen.render.sheet_page import student_file
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
    return book_site(bind_book(students, problems, TODAY, up), COACH, EN)


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
        ("ledger.html", ""),
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
    for tags in bodies.values():
        assert len(tags.ids) == len(set(tags.ids))
        for link in tags.links:
            path, _, anchor = link.partition("#")
            if unquote(path) in beside:
                met.add(unquote(path))
            else:
                assert path in bodies
                assert not anchor or anchor in bodies[path].ids
    assert met == beside


def test_the_front_page_tells_each_lesson_in_the_coach_s_units() -> None:
    front = text(page(site(two_lessons()), "index.html"))
    assert "1 student, 2 lessons." in front
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
        "probably changed (the shots alone would say: changed)",
        "chosen before the after-shots, in the coach's own word",
        "spread of side of carry (2.2 yd): held",
        "held",
        "1 of 3, then 2 of 3",
        "8 read: 6 used, 1 set aside, 0 not read, 1 left out",
        "shot 14 (marta/2027-04-11/shots.csv:17): phone rang in the swing",
        "40 balls a session",
        "mostly still there: +10.9 yd gained on 11 April 2027, +8.7 yd still there",
        "Something was moved between the two blocks.",
        "The middle went through the window",
        "Without the mishits",
        "ball speed",
        "You told us about your right wrist.",
        "flagged lead wrist; intent asks for firmer grip",
    ):
        assert part in read.replace("\u202f", " ").replace("\xa0", " "), part
    assert "<strong>less</strong>" in body


@pytest.mark.parametrize(
    "path", ["index.html", "student-nasty.html", "ledger.html", "problems.html"]
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
        site(odd), "index.html"
    )


def test_the_problems_page_groups_by_file_and_tells_all_four_things() -> None:
    found = tuple(
        Problem(Code.FOLDER_MISSING, SourceRef(file, line), {"path": "p"})
        for file, line in (("b.md", 3), ("a.md", 9), ("b.md", 1))
    )
    read = text(page(site(problems=found), "problems.html"))
    assert read.index("a.md") < read.index("b.md")
    assert read.count("a.md") == read.count("b.md") == 1
    assert "held back folder-missing there is no folder p" in read
    assert "3 problems in the files" in text(page(site(problems=found), "index.html"))


def test_an_empty_book_says_so_on_every_page() -> None:
    built = site()
    for each in built.pages:
        Tags(each.body)
    assert "No lesson yet." in text(page(built, "index.html"))
    assert "No problems." in text(page(built, "problems.html"))
    assert "Nothing is waiting." in text(page(built, "index.html"))


def test_the_ledger_ranks_only_from_three_students_up() -> None:
    three = [student(recap(compared=comparison()), key=key) for key in "abc"]
    one = student(recap(intent="A lonely one", compared=comparison()), key="d")
    read = text(page(site(*three, one), "ledger.html"))
    ranked, few = read.split("Not enough yet")
    assert re.search(r"Hum one even note carry Moved together with \d\.\d changes", ranked)
    assert "3 lessons, 3 students. changed: 3" in ranked
    assert "A lonely one carry 1 lesson, 1 student changed: 1" in few


def test_no_page_of_the_book_uses_a_word_it_should_not() -> None:
    built = site(two_lessons())
    assert not [(w, p.path) for w in NEVER for p in built.pages if w in text(p.body).lower()]


def _waiting(marta: StudentRecap) -> str:
    return text(page(site(marta), "student-marta.html").split('<h2 id="agreed"')[0])


def _with_care(note: CareNote, told: Recap, published: bool = True) -> StudentRecap:
    return student(replace(told, care=(note,)), published=published)


def test_an_ask_first_of_the_latest_plan_waits_and_must_be_said_where_the_page_is_silent() -> None:
    told = recap("2027-04-25", SECOND, compared=comparison())
    note = told.care[0]
    asked = "Ask first (25 April 2027): right wrist: this feel may ask a bit more there."
    assert f"{asked} The page says so." in _waiting(_with_care(note, told))
    alone = f"{asked} The page does not say so: say it yourself."
    assert alone in _waiting(_with_care(replace(note, shown=False), told))
    assert alone in _waiting(_with_care(note, told, published=False))
    older = recap(compared=comparison())
    newer = replace(told, care=())
    assert "Nothing is waiting." in _waiting(student(older, newer))


def test_raised_loads_and_pains_of_the_last_month_are_told() -> None:
    step = CareNote(
        NoteCode.SESSION_STEP,
        Level.NOTE,
        {"balls": 80, "biggest": 60},
        "balls",
        body=False,
        shown=True,
    )
    marta = _with_care(step, recap("2027-04-25", SECOND))
    assert "Load (25 April 2027): 80 balls planned a session; the biggest" in _waiting(marta)
    assert "Load" not in _waiting(_with_care(step, recap(on=TODAY - timedelta(days=31))))
    pains = tuple(
        LogEntry(TODAY - timedelta(days=ago), SourceRef("log"), pain=pain, pain_place=place)
        for ago, pain, place in (
            (31, True, "knee"),
            (30, True, "elbow"),
            (2, True, None),
            (1, False, None),
        )
    )
    read = _waiting(replace(marta, log=PracticeLog(pains, kept=True)))
    assert "Pain logged on 29 March 2027: elbow." in read
    assert "Pain logged on 26 April 2027." in read
    assert "knee" not in read
    assert read.count("Pain logged") == 2


@pytest.mark.parametrize(
    ("agreed", "due"),
    [
        (Agreed(page=True, since=TODAY - timedelta(days=365)), ""),
        (Agreed(page=True, since=TODAY - timedelta(days=366)), "Not asked for a year"),
        (Agreed(page=True), "No day is written down"),
        (Agreed(page=True, since=TODAY, until=TODAY + timedelta(days=31)), ""),
        (Agreed(page=True, since=TODAY, until=TODAY + timedelta(days=30)), "agreed ends on"),
        (Agreed(page=True, since=TODAY, until=TODAY), "agreed ends on"),
        (Agreed(page=True, since=TODAY, until=TODAY - timedelta(days=1)), "ask again"),
        (Agreed(page=True, withdrawn=TODAY), ""),
        (Agreed(page=True, withdrawn=TODAY + timedelta(days=1)), "No day is written down"),
    ],
)
def test_who_must_be_asked_again(agreed: Agreed, due: str) -> None:
    read = _waiting(student(agreed=agreed))
    assert due in read
    assert ("Nothing is waiting." in read) is (due == "")


def test_what_was_agreed_is_told_in_full() -> None:
    told = agreement(
        student(
            agreed=Agreed(
                page=True,
                clips=True,
                since=date(2027, 1, 3),
                until=date(2028, 1, 3),
                guardian="Rosa Lind",
            )
        ).student,
        TODAY,
        EN,
    )
    assert told == (
        "Agreed: a page, clips.",
        "Not agreed: body, age and health mentioned on it, nameless cases, clips in cases.",
        "Asked on 3 January 2027.",
        "Holds until 3 January 2028.",
        "Guardian: Rosa Lind.",
    )


@pytest.mark.parametrize(
    ("agreed", "band", "first"),
    [
        (Agreed(), None, "Nothing is agreed, so this student is in this book only."),
        (Agreed(withdrawn=TODAY), None, "Withdrawn on 28 April 2027: nothing is shown."),
        (Agreed(withdrawn=TODAY + timedelta(days=1)), None, "Will be withdrawn on 29 April 2027."),
        (Agreed(until=SECOND), None, "Ended on 25 April 2027: nothing is shown."),
        (Agreed(), AgeBand.JUNIOR, "A junior: without a guardian's name nothing is shown."),
        (
            Agreed(unclear=True),
            None,
            "The agreement in student.yml could not be read with certainty, so nothing is shown.",
        ),
    ],
)
def test_what_stands_in_the_way_comes_first(
    agreed: Agreed, band: AgeBand | None, first: str
) -> None:
    marta = replace(student(agreed=agreed).student, age_band=band)
    assert agreement(marta, TODAY, EN)[0] == first


def test_every_phrase_of_verdict_and_finding_has_its_words() -> None:
    for verdict in Verdict:
        for kind in ("verdict", "reading"):
            assert EN.has(f"book.{kind}.{verdict.replace(' ', '-')}")
    assert all(EN.has(f"book.kept.{kept.replace(' ', '-')}") for kept in Kept)
    assert all(EN.has(f"book.matters.{source}") for source in MattersFrom)
    assert all(EN.has(f"book.guard.{f.name.lower().replace('_', '-')}") for f in GuardFinding)


def test_an_ask_first_stands_until_the_student_says_that_a_clinician_was_asked() -> None:
    note = CareNote(
        NoteCode.CONDITION_HEART, Level.ASK_FIRST, {}, "typed: heart", body=True, shown=True
    )
    told = _with_care(note, recap("2027-04-25", SECOND))
    assert "Ask first" in _waiting(told)
    for days, outstanding in ((-1, True), (0, False), (1, False)):
        asked = SECOND + timedelta(days=days)
        answered = replace(told, student=replace(told.student, clinician_asked=asked))
        assert ("Ask first" in _waiting(answered)) is outstanding


@pytest.mark.parametrize(
    ("since", "asked", "due"),
    [
        (None, None, "go through the questions"),
        (None, TODAY - timedelta(days=365), ""),
        (None, TODAY - timedelta(days=366), "Not asked for a year"),
        (TODAY - timedelta(days=400), TODAY - timedelta(days=3), ""),
        (TODAY - timedelta(days=3), TODAY - timedelta(days=400), ""),
        (None, TODAY + timedelta(days=3), "go through the questions"),
    ],
)
def test_whoever_was_not_asked_for_a_year_is_listed(
    since: date | None, asked: date | None, due: str
) -> None:
    told = student(agreed=Agreed(page=True, since=since))
    read = _waiting(replace(told, student=replace(told.student, asked=asked)))
    assert due in read
    assert ("Nothing is waiting." in read) is (due == "")


def test_a_raised_week_is_told_in_the_students_own_numbers() -> None:
    week = WeekSoFar(180, 60.0, 90, 40, (NoteCode.SESSION_STEP, NoteCode.WEEK_STEP))
    read = _waiting(replace(student(agreed=Agreed(page=True, since=TODAY)), week=week))
    assert "a session of 90 balls; the biggest of the month before had 40." in read
    assert "180 balls; a usual week has about 60." in read
    quiet = replace(week, raised=())
    assert "log" not in _waiting(
        replace(student(agreed=Agreed(page=True, since=TODAY)), week=quiet)
    )


def test_the_diary_tells_the_coach_of_pain() -> None:
    entries = (
        LogEntry(
            TODAY - timedelta(days=5), SourceRef("marta/practice.csv", 2), balls=40, pain=False
        ),
        LogEntry(TODAY, SourceRef("marta/practice.csv", 3), balls=30, pain=True, pain_place="rib"),
    )
    marta = replace(two_lessons(), log=PracticeLog(entries, kept=True))
    read = text(page(site(marta), "student-marta.html"))
    assert "30 – – – – – – rib" in read
    assert "40 – – – – – – no" in read


def test_the_sheet_asks_for_everything_that_student_yml_can_hold(tmp_path: Path) -> None:
    sheet = text(page(site(two_lessons()), "questions.html"))
    for part in ("lower back", "wrist", "osteoporosis", "pregnancy", "guardian", "yes / no"):
        assert part in sheet
    folder = tmp_path / "marta" / "2027-04-11"
    folder.mkdir(parents=True)
    (folder / "notes.md").write_text("Well done.\n")
    lines = student_file(EN).replace("name:", "name: Marta", 1)
    (tmp_path / "marta/student.yml").write_text(lines)
    found, _ = survey(tmp_path)
    assert found is not None
    read, problems = read_student(tmp_path, found.students[0], COACH)
    assert problems == ()
    assert read is not None
    assert (read.name, read.agreed, read.areas) == ("Marta", Agreed(), ())


def test_the_filming_sheet_says_where_the_phone_stands_and_draws_it_twice() -> None:
    body = page(site(two_lessons()), "filming.html")
    read = text(body)
    for part in ("4 m", "as high as the hands", "60 pictures a second", "1/1000", "One mark"):
        assert part in read
    assert body.count("<svg") == body.count('role="img"') == 2
