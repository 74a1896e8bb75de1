"""A question between lessons: from its folder to a page, the book and the data, and away again."""

import json
import re
from collections.abc import Callable
from importlib.resources import files
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator, FormatChecker

from recapgen import frames
from tests.clips.phone_clips import SECRETS, film
from tests.end_to_end.small_lessons import Ran, sites, tree

Build = Callable[..., Ran]
ASKED = "Why does it start right when I hurry?"
ANSWER = "You let go of the **wall**. Count nine first."
QUESTION = f"---\nasked by: student\nanswered: 2027-05-04\n---\n{ASKED}\n---\n{ANSWER}\n"
KEY = "2027-05-03-question"


def ask(lessons: Path, text: str = QUESTION, key: str = KEY) -> Path:
    folder = lessons / "brida-folder" / key
    folder.mkdir()
    (folder / "question.md").write_text(text, encoding="utf-8")
    return folder


def page_of(out: Path, day: str = "2027-05-03") -> str | None:
    page = next(sites(out)["Brida"].glob(f"{day}-*.html"), None)
    return None if page is None else page.read_text(encoding="utf-8")


def book_of(out: Path) -> str:
    return (out / "coach_book/student-brida-folder.html").read_text(encoding="utf-8")


def test_an_answer_becomes_a_page_that_home_leads_to(
    lessons: Path, build: Build, out: Path
) -> None:
    build()
    before = tree(out / "coach_book/data")
    folder = ask(lessons)
    (folder / "private.md").write_text("Sounded tired on the phone that evening, ask.\n", "utf-8")
    ran = build()
    assert ran.code == 0, ran.err
    page, site = page_of(out), sites(out)["Brida"]
    assert page is not None
    assert "You asked" in page
    assert ASKED in page
    assert "<strong>wall</strong>" in page
    assert "Answered on 4 May 2027" in page
    assert 'id="care"' not in page
    assert "tired" not in page
    home = (site / "index.html").read_text(encoding="utf-8")
    link = re.search(r'href="(2027-05-03-\w{4}\.html)"><span class="title" dir="auto">', home)
    assert link is not None
    assert "Lessons and questions" in home
    assert "Open the answer from 4 May 2027" in home
    assert link[1] in (site / "sw.js").read_text(encoding="utf-8")
    # nothing that counts lessons has it
    assert tree(out / "coach_book/data") == before
    assert len(frames.lessons(out / "coach_book")) == 2
    assert ", 2 lessons," in ran.err


def test_an_answer_that_was_changed_after_it_was_up_says_when(
    lessons: Path, build: Build, out: Path
) -> None:
    coach = lessons / "coach.yml"
    coach.write_text(f"{coach.read_text('utf-8')}published at: https://example.org/golf\n", "utf-8")
    folder = ask(lessons)
    build("--today", "2027-06-01")
    assert "Corrected on" not in (page_of(out) or "")
    assert "I&#39;ve corrected" not in book_of(out)
    (folder / "question.md").write_text(QUESTION.replace("nine", "seven"), encoding="utf-8")
    build("--today", "2027-06-03")
    assert "Corrected on 3 June 2027" in (page_of(out) or "")
    assert "I&#39;ve corrected my answer from 4 May 2027" in book_of(out)


def test_the_book_and_the_data_have_it(lessons: Path, build: Build, out: Path) -> None:
    folder = ask(lessons)
    (folder / "private.md").write_text("Sounded tired on the phone that evening, ask.\n", "utf-8")
    build()
    book = book_of(out)
    assert "Between lessons" in book
    assert "Answered on 4 May 2027." in book
    assert "Sounded tired" in book
    record = json.loads((out / f"coach_book/questions/brida-folder/{KEY}.json").read_text("utf-8"))
    schema = json.loads(files("recapgen.book").joinpath("question.schema.json").read_text("utf-8"))
    Draft202012Validator.check_schema(schema)
    Draft202012Validator(schema, format_checker=FormatChecker()).validate(record)
    assert record["asked"] == ASKED
    assert record["page"].endswith(".html")


def test_an_open_question_waits_in_the_book_alone(lessons: Path, build: Build, out: Path) -> None:
    ask(lessons, f"{ASKED}\n")
    ran = build()
    assert "[question-open]" in ran.err
    assert ran.code == 0
    assert page_of(out) is None
    assert all(ASKED.encode() not in held for held in tree(out / "site").values())
    waits = f"A question from 3 May 2027 is waiting for your answer: {ASKED}"
    assert waits in book_of(out)
    assert waits in (out / "coach_book/index.html").read_text(encoding="utf-8")


def test_pain_gets_its_note_and_needs_the_body_agreed(
    lessons: Path, build: Build, out: Path
) -> None:
    ask(lessons, QUESTION.replace("when I hurry", "now that my wrist hurts"))
    build()
    page = page_of(out)
    assert page is not None
    assert "Does anything hurt? Rest it." in page
    assert 'id="stop"' in page
    student = lessons / "brida-folder/student.yml"
    student.write_text(student.read_text().replace("body: yes", "body: no"), encoding="utf-8")
    ran = build()
    assert "[pain-not-agreed]" in ran.err
    assert page_of(out) is None
    assert "Answer it in person" in book_of(out)


def test_it_is_the_same_built_anew_and_gone_with_its_folder(
    lessons: Path, build: Build, out: Path
) -> None:
    build()
    first = tree(out / "site")
    folder = ask(lessons)
    build()
    told = tree(out / "site")
    again = build()
    assert "(0 written" in again.err
    assert tree(out / "site") == told
    folder.joinpath("question.md").write_text(QUESTION.replace("nine", "eight"), encoding="utf-8")
    build("--only", "brida-folder")
    page = page_of(out)
    assert page is not None
    assert "eight" in page
    folder.joinpath("question.md").rename(folder / "notes.md")
    assert "[question-in-notes]" in build().err
    folder.joinpath("notes.md").unlink()
    folder.rmdir()
    build()
    assert tree(out / "site") == first


def test_a_name_of_somebody_else_holds_it_back(lessons: Path, build: Build, out: Path) -> None:
    ask(lessons, QUESTION.replace("the **wall**", "it like Corvin did"))
    ran = build()
    assert ran.code == 1
    assert f"brida-folder/{KEY}/question.md:7" in ran.err
    assert "Brida" not in sites(out)


@pytest.mark.ffmpeg
def test_its_clips_are_films_under_the_same_rules(lessons: Path, build: Build, out: Path) -> None:
    folder = ask(lessons)
    secrets = [part for key, told in SECRETS.items() for part in ("-metadata", f"{key}={told}")]
    for name, first in (("IMG_1.mov", 0), ("IMG_2.mov", 100)):
        film(folder / name, range(first, first + 40), *secrets)
    ran = build()
    assert "clip-name-unclear" not in ran.err
    page, site = page_of(out), sites(out)["Brida"]
    assert page is not None
    assert page.count('class="film') >= 2
    assert "The clips" in page
    videos = [held for path, held in tree(site).items() if path.endswith(".mp4")]
    assert len(videos) == 2
    assert not [s for s in SECRETS.values() for held in videos if s.encode() in held]
    student = lessons / "brida-folder/student.yml"
    student.write_text(student.read_text().replace("clips: yes", "clips: no"), encoding="utf-8")
    ran = build()
    assert "[clips-not-agreed]" in ran.err
    page = page_of(out)
    assert page is not None
    assert "<video" not in page
    assert not [path for path in tree(out / "site") if path.endswith(".mp4")]
