"""What the pages must hold, and what they must never hold."""

import json
import re
from collections.abc import Iterable
from datetime import date, timedelta
from html import unescape
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from recapgen.model.lesson import DrillStep, Practice
from recapgen.model.people import Coach, Hand
from recapgen.model.practice_log import LogEntry, PracticeLog
from recapgen.model.quantity import Quantity
from recapgen.model.recap import CaseLink, LessonCase, StudentRecap
from recapgen.model.source import SourceRef
from recapgen.render.student_site import student_site
from recapgen.words.catalogue import words
from tests.render.recaps_fixture import (
    COACH,
    IMPERIAL,
    SEE_ALSO,
    bare_recap,
    earlier_path,
    faster,
    film,
    full_recap,
    mara,
    sixty,
    student,
    too_early,
    words_only,
)

EN = words("en")
LESSON = "2027-04-11-k3f9.html"
VOID = {"br", "hr", "img", "input", "link", "meta", "path", "circle", "line", "rect", "wbr"}
EVIL = '<script>alert("x")</script> & \'x\' "y" 😀 שלום'


class Reader(HTMLParser):
    """The text of a page, its ids and links; fails on markup that does not close."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.ids: list[str] = []
        self.links: list[str] = []
        self.tags: list[str] = []
        self.attributes: set[str] = set()
        self.text: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        if tag not in VOID:
            self.open.append(tag)
        for name, value in attrs:
            self.attributes.add(name)
            if name == "id":
                self.ids.append(value or "")
            if tag == "a" and name == "href":
                self.links.append(value or "")

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes.update(name for name, _ in attrs)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.text.append(data)


def read(body: str) -> Reader:
    reader = Reader()
    reader.feed(body)
    reader.close()
    assert reader.open == []
    return reader


def pages(told: StudentRecap, coach: Coach = COACH) -> dict[str, str]:
    return {page.path: page.body for page in student_site(told, coach, EN).pages}


def in_order(text: str, parts: Iterable[str]) -> None:
    place = 0
    for part in parts:
        found = text.find(part, place)
        assert found >= 0, f"{part!r} is missing, or stands too early"
        place = found


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    return pages(mara(tmp_path_factory.mktemp("films")))


def test_the_site_has_a_page_for_everything(site: dict[str, str]) -> None:
    assert set(site) == {
        "index.html",
        "practice.html",
        "log.html",
        "compare.html",
        "measured.html",
        LESSON,
        "2027-02-03-q2w8.html",
        "2027-02-21-q2w8.html",
        "2027-03-14-q2w8.html",
        "2027-03-28-q2w8.html",
    }


def test_a_lesson_reads_from_the_intent_down(site: dict[str, str]) -> None:
    in_order(
        " ".join("".join(read(site[LESSON]).text).split()),
        [
            "11 April 2027",
            "Slide your back pockets along a wall",
            "polishing the wall behind you",
            "The one number: club path",
            "6.6°",
            "0.9°",
            "goal",
            "It changed.",
            "spread of your carry side stayed in check",
            "Before and after, at impact",
            "You were standing up",
            "it felt like sitting down",
            "keeping my head down",
            "3 sessions a week",
            "Half swings off a tee",
            "Looking after yourself",
            "From slice to straight",
            "When to stop and get help",
            "How sure are we, and why",
            "All 30 shots",
            "left out: a ball rolled off the tee",
            "Other numbers we looked at",
            "Conditions on the day",
        ],
    )


def test_every_compared_shot_is_in_the_table(site: dict[str, str]) -> None:
    text = site[LESSON]
    for number in (*range(7, 18), *range(26, 38)):
        assert f'<th scope="row">{number}</th>' in text


def test_the_home_page_is_about_now(site: dict[str, str]) -> None:
    in_order(
        " ".join("".join(read(site["index.html"]).text).split()),
        [
            "For Mara",
            "Slide your back pockets along a wall",
            "The one number: club path",
            "before",
            "after",
            "goal",
            "It changed.",
            "11 April 2027 · driver",
            "Watch the films",
            "Next practice",
            "When to stop and get help",
            "Lesson by lesson: club path, driver",
            "What stuck",
            "Earlier lessons",
            "Turn before you drop",
            "Hum one even note",
            "Roll the barrel",
            "Our lesson on 3 February 2027",
            "See you in two weeks",
        ],
    )


def test_sixty_lessons_are_listed_by_year_and_folded() -> None:
    body = pages(sixty())["index.html"]
    earlier = body[body.index('id="earlier"') :]
    years = re.findall(r"<summary>(\d+): (\d+) lessons</summary>", earlier)
    assert [year for year, _ in years] == ["2027", "2026", "2025", "2024", "2023", "2022"]
    assert sum(int(n) for _, n in years) == 59
    assert "<details open" not in earlier


def test_a_lesson_with_films_is_marked_in_the_list(tmp_path: Path) -> None:
    filmed = replace(earlier_path(), films=(film(tmp_path),))
    body = pages(student(faster(), filmed, full_recap()))["index.html"]
    listed = re.findall(r'<a href="([^"]+)"><span class="title".*?</a>', body)
    marked = re.findall(r'<a href="([^"]+)"><span class="title"(?:(?!</a>).)*with film', body)
    assert listed == [filmed.page, faster().page]
    assert marked == [filmed.page]


def test_every_link_leads_somewhere(site: dict[str, str], tmp_path: Path) -> None:
    beside = {file.path for file in student_site(mara(tmp_path), COACH, EN).written}
    ids = {path: read(body).ids for path, body in site.items()}
    for path, body in site.items():
        for link in read(body).links:
            page, _, place = link.partition("#")
            if not link.startswith("https://"):
                assert not page or page in {*site, *beside}, (path, link)
                assert not place or place in ids[page or path], (path, link)


def test_stop_signs_are_one_tap_from_every_page(site: dict[str, str]) -> None:
    for path, body in site.items():
        reader = read(body)
        bare = path.startswith("2") and path != LESSON  # made without safety notes
        assert bare or "stop" in reader.ids or "index.html#stop" in reader.links, path


def test_ids_are_unique_and_headings_step_down(site: dict[str, str]) -> None:
    for path, body in site.items():
        reader = read(body)
        assert len(reader.ids) == len(set(reader.ids)), path
        levels = [int(tag[1]) for tag in reader.tags if re.fullmatch(r"h[1-6]", tag)]
        assert levels[0] == 1
        assert levels.count(1) == 1
        assert all(b <= a + 1 for a, b in pairwise(levels)), path


def test_no_page_carries_code_style_or_another_address(site: dict[str, str]) -> None:
    for path, body in site.items():
        reader = read(body)
        assert not {"script", "style", "link", "iframe", "object", "form"} & set(reader.tags), path
        assert not {a for a in reader.attributes if a == "style" or a.startswith("on")}
        assert "http" not in body.replace(f'<a href="{SEE_ALSO.address}" rel="noreferrer', "")


def test_what_is_the_coachs_own_is_never_told(site: dict[str, str]) -> None:
    for body in site.values():
        for own in ("PRIVATE", "mara-secret-folder", "2027-04-11 driver", "Mystery", "swing_12"):
            assert own not in body


def test_a_past_case_is_linked_by_the_address_it_has() -> None:
    with_address = replace(COACH, address="https://lessons.example")
    for coach in (COACH, with_address):
        assert f'<a href="{SEE_ALSO.address}"' in pages(student(full_recap()), coach)[LESSON]


def test_a_lesson_of_words_alone_has_no_empty_part() -> None:
    body = pages(student(words_only()))["2027-02-03-q2w8.html"]
    assert "the bunker" in body
    assert '<h1 dir="auto">Our lesson on 3 February 2027</h1>' in body
    for absent in ("<svg class=", "The one number", "<table", "<video", "Until next time"):
        assert absent not in body


def test_a_student_without_lessons_still_has_a_front_page() -> None:
    site = pages(student())
    assert set(site) == {"index.html"}
    assert "Your lessons will appear here" in site["index.html"]


def test_the_student_reads_their_own_units() -> None:
    body = unescape(pages(student(too_early(), units=IMPERIAL))["2027-03-14-q2w8.html"])
    assert "39.4" in body
    assert "\u202fyd" in body
    assert "\u202fm " not in body


def test_sides_are_named_for_the_hand_and_not_without_one() -> None:
    told = student(full_recap())
    body = pages(told)[LESSON]
    assert "in-to-out is to the right and out-to-in is to the left" in body
    left = replace(told, student=replace(told.student, hand=Hand.LEFT))
    assert "out-to-in is to the right and in-to-out is to the left" in pages(left)[LESSON]
    unknown = replace(told, student=replace(told.student, hand=None))
    assert "in-to-out" not in pages(unknown)[LESSON]


def test_the_glossary_names_only_what_is_seen() -> None:
    measured = pages(student(too_early()))["measured.html"]
    assert "<dt>carry</dt>" in measured
    assert "<dt>club speed</dt>" in measured
    assert "spin" not in measured


def test_films_travel_under_names_that_say_nothing(tmp_path: Path) -> None:
    assets = student_site(mara(tmp_path), COACH, EN).assets
    assert len(assets) == 4
    for asset in assets:
        assert re.fullmatch(r"films/[0-9a-f]+\.(mp4|jpg)", asset.path)
        assert asset.source.exists()


def test_two_runs_give_the_same_pages(tmp_path: Path) -> None:
    told = mara(tmp_path)
    assert student_site(told, COACH, EN) == student_site(told, COACH, EN)


def hostile(text: str) -> StudentRecap:
    recap = full_recap()
    notes = replace(
        recap.notes,
        intent=text,
        feels_like=text,
        student_says=text,
        letting_go_of=text,
        club=text,
        words=text,
        practice=Practice(2, 30, steps=(DrillStep(text, 3, None), DrillStep(text, None, 3))),
        conditions=replace(recap.notes.conditions, ball=text),
    )
    shots = tuple(
        replace(s, reason=text, shot=replace(s.shot, tag=text, club=text))
        for s in recap.evidence.shots
    )
    return student(
        replace(
            recap,
            notes=notes,
            evidence=replace(recap.evidence, shots=shots),
            case=LessonCase(links=(CaseLink(text, "a.html"),)),
        ),
        bare_recap(date(2027, 1, 1), notes),
        name=text,
    )


@settings(max_examples=12)
@given(
    st.one_of(
        st.sampled_from(
            [EVIL, "W" * 5000, "\u202e abc", "{{ 1 }}{% x %}", "</p></main>", "%s {n}"]
        ),
        st.text(min_size=1, max_size=60).map(lambda text: f"<b onclick=x>{text}"),
    )
)
def test_whatever_is_typed_stays_text(text: str) -> None:
    coach = replace(COACH, name=text, contact=text, greeting=text, footer=text)
    for body in pages(hostile(text), coach).values():
        reader = read(body)
        assert not {"script", "b onclick"} & set(reader.tags)
        assert "onclick" not in reader.attributes
    home = read(pages(hostile(text), coach)["index.html"])
    assert " ".join(text.split()) in " ".join("".join(home.text).split())


def test_the_numbers_of_a_page_lie_beside_it_and_name_nobody(tmp_path: Path) -> None:
    told = mara(tmp_path)
    texts = {file.path: file.text for file in student_site(told, COACH, EN).written}
    path = LESSON.replace(".html", ".json")
    assert f'href="{path}"' in pages(told)[LESSON]
    number = json.loads(texts[path])
    assert number["number"]["before"]["shots"][0] == 7
    assert number["workings"]["order"]["before"][0] == 7
    assert number["verdict"] == "changed"
    for text in texts.values():
        assert told.student.name not in text
        assert told.student.key not in text


def test_the_line_over_the_lessons_tells_what_happened_between(tmp_path: Path) -> None:
    told = mara(tmp_path)
    path = [
        recap.on
        for recap in told.recaps
        if recap.number.comparison is not None
        and recap.number.comparison.quantity is Quantity.CLUB_PATH
    ]
    first = min(path)
    entries = tuple(
        LogEntry(first + timedelta(days=days), SourceRef("practice.csv", days), balls=balls)
        for days, balls in ((0, 500), (1, 40), (3, 60), (400, 900))
    )
    home = pages(replace(told, log=PracticeLog(entries, kept=True)))["index.html"]
    assert "You logged 2 sessions with 100 balls in all." in home
    assert "days later." in home
    empty = pages(replace(told, log=PracticeLog((), kept=True)))["index.html"]
    assert "There's no practice in your log." in unescape(empty)
