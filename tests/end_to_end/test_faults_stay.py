"""A fault stays where it is, and consent goes before everything."""

import json
import os
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.end_to_end.small_lessons import Ran, add_student, recapgen, sites, tree

Build = Callable[..., Ran]


def _edit(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def test_a_bad_lesson_holds_back_that_student_alone(lessons: Path, build: Build, out: Path) -> None:
    assert build().code == 0
    before = {name: tree(site) for name, site in sites(out).items()}
    _edit(lessons / "brida-folder/2027-04-11/notes.md", "want: 2 left to 2 right", "want: [")
    _edit(lessons / "corvin-folder/2027-04-11/notes.md", "Keep the wall", "Lose the wall")
    ran = build()
    assert ran.code == 1
    assert "brida-folder/2027-04-11/notes.md:6" in ran.err
    after = {name: tree(site) for name, site in sites(out).items()}
    assert after["Brida"] == before["Brida"]
    assert any(b"Lose the wall" in page for page in after["Corvin"].values())
    again = build()
    assert again.code == 1
    assert "brida-folder/2027-04-11/notes.md:6" in again.err


def test_a_bad_row_costs_that_row(lessons: Path, build: Build, out: Path) -> None:
    _edit(lessons / "brida-folder/2027-04-11/shots.csv", "3,before,7.1", "3,before,99.9")
    ran = build()
    assert ran.code == 0
    page = next(sites(out)["Brida"].glob("2027-04-11-*.html")).read_text(encoding="utf-8")
    assert "99.9" in page
    kept = out / "coach_book" / "data" / "brida-folder" / "2027-04-11.json"
    told = json.loads(kept.read_text(encoding="utf-8"))["problems"]
    assert [(each["code"], each["line"]) for each in told] == [("shots-row-impossible", 4)]


def test_a_bad_clip_costs_that_clip(lessons: Path, build: Build, out: Path) -> None:
    clip = lessons / "brida-folder/2027-04-11/face on before shot 3.mov"
    clip.write_bytes(b"")
    ran = build()
    assert ran.code == 1
    assert clip.name in ran.err
    assert "Brida" in sites(out)


def test_withdrawn_consent_takes_the_site_down_even_from_a_broken_lesson(
    lessons: Path, build: Build, out: Path
) -> None:
    assert build().code == 0
    assert set(sites(out)) == {"Brida", "Corvin"}
    student = lessons / "brida-folder/student.yml"
    _edit(student, "page: yes,", "page: yes, withdrawn: 2027-05-01,")
    _edit(lessons / "brida-folder/2027-04-11/notes.md", "number: club path", "number: [")
    build()
    assert set(sites(out)) == {"Corvin"}


def test_consent_that_ends_takes_the_site_down_with_nothing_changed(
    lessons: Path, build: Build, out: Path
) -> None:
    _edit(lessons / "brida-folder/student.yml", "page: yes,", "page: yes, until: 2027-06-01,")
    assert build("--today", "2027-06-01").code == 0
    assert set(sites(out)) == {"Brida", "Corvin"}
    build("--today", "2027-06-02")
    assert set(sites(out)) == {"Corvin"}


def test_a_student_who_is_gone_from_the_folder_is_gone_from_the_site(
    lessons: Path, build: Build, out: Path
) -> None:
    assert build().code == 0
    (lessons / "brida-folder").rename(lessons / "_brida")
    assert build().code == 0
    assert set(sites(out)) == {"Corvin"}


def test_without_student_yml_only_the_book_knows(lessons: Path, build: Build, out: Path) -> None:
    (lessons / "brida-folder/student.yml").unlink()
    ran = build()
    assert ran.code == 0
    assert "agreed" in ran.err
    assert set(sites(out)) == {"Corvin"}
    book = b"".join(tree(out / "coach_book").values())
    assert b"brida-folder" in book


def test_another_students_name_is_never_published(lessons: Path, build: Build, out: Path) -> None:
    _edit(
        lessons / "corvin-folder/2027-04-11/notes.md",
        "Keep the wall behind you.",
        "You move as Brida does.",
    )
    ran = build()
    assert ran.code == 1
    assert "Brida" in ran.err
    assert set(sites(out)) == {"Brida"}


def test_who_comes_later_takes_nobody_down_and_is_told_of(
    lessons: Path, build: Build, out: Path
) -> None:
    notes = lessons / "corvin-folder/2027-04-11/notes.md"
    _edit(notes, "Keep the wall behind you.", "You move as Emil did.")
    assert build().code == 0
    before = tree(sites(out)["Corvin"])
    for name in ("Emil", "Bašić", "Font", "Latin", "Cy"):
        add_student(lessons, name)
    ran = build()
    assert ran.code == 0
    assert "corvin-folder/2027-04-11/notes.md:9" in ran.err
    assert "[student-named-before]" in ran.err
    assert "5 written, 2 unchanged" in ran.err
    assert tree(sites(out)["Corvin"]) == before
    assert len(list((out / "site").glob("*/index.html"))) == 7

    _edit(notes, "You move as Emil did.", "You move as Emil did.\n\nThe wall is your friend.")
    ran = build()
    assert ran.code == 0
    before = tree(sites(out)["Corvin"])
    assert any(b"is your friend" in page for page in before.values())

    _edit(notes, "is your friend", "is Emil's friend, too")
    ran = build()
    assert ran.code == 1
    assert "corvin-folder/2027-04-11/notes.md:9" in ran.err
    assert "[other-student-named]" in ran.err
    assert tree(sites(out)["Corvin"]) == before


def test_a_leak_that_was_up_all_along_comes_down(lessons: Path, build: Build, out: Path) -> None:
    assert build().code == 0
    page = next(sites(out)["Corvin"].glob("2027-04-11-*.html"))
    _edit(page, "Keep the wall behind you.", "You move as Brida does.")
    _edit(lessons / "corvin-folder/2027-04-11/notes.md", "Keep the wall", "As Brida, keep the wall")
    assert build().code == 1
    assert set(sites(out)) == {"Brida"}


def test_a_renamed_folder_keeps_its_link_and_that_is_told(
    lessons: Path, build: Build, out: Path
) -> None:
    _edit(lessons / "coach.yml", "Quill\n", "Quill\npublished at: https://example.org/golf\n")
    assert build().code == 0
    link = sites(out)["Brida"].name
    page = next(sites(out)["Corvin"].glob("2027-04-11-*.html"))
    (lessons / "brida-folder").rename(lessons / "brida h")
    (lessons / "corvin-folder/2027-04-11").rename(lessons / "corvin-folder/2027-04-11 driver")
    ran = build()
    assert ran.code == 0
    told = " ".join(ran.err.split())
    assert f'"brida-folder", and it keeps its link: https://example.org/golf/{link}/' in told
    home = f"https://example.org/golf/{page.parent.name}"
    assert f'"2027-04-11", and it keeps its link: {home}/{page.name}' in told
    assert sites(out)["Brida"].name == link
    assert page.is_file()


def test_a_case_needs_consent_and_leaves_with_it(lessons: Path, build: Build, out: Path) -> None:
    lesson = add_student(lessons, "Dorn", cases="yes")
    _edit(lessons / "coach.yml", "Quill\n", "Quill\npublished at: https://example.org/golf\n")
    case = "case: {name: the-wall, title: The driver that started right}\nintent:"
    _edit(lesson / "notes.md", "intent:", case)
    _edit(lessons / "brida-folder/2027-04-11/notes.md", "intent:", "see also: [the-wall]\nintent:")
    assert build().code == 0
    (page,) = [p for p in (out / "site/cases").glob("*.html") if p.name != "index.html"]
    told = page.read_text(encoding="utf-8")
    assert "The driver that started right" in told
    assert "Dorn" not in told
    assert "2027-04-11" not in told
    link = f'<a href="https://example.org/golf/cases/{page.name}"'
    assert any(link.encode() in text for text in tree(sites(out)["Brida"]).values())
    _edit(lesson.parent / "student.yml", "cases: yes", "cases: no")
    ran = build()
    assert ran.code == 1
    assert not (out / "site/cases").exists()
    assert not any(link.encode() in text for text in tree(sites(out)["Brida"]).values())


def _stamps(out: Path) -> dict[Path, int]:
    """When each file was written, but those of the cache, where reading counts as use."""
    cache = out / ".recapgen" / "cache"
    files = (p for p in out.rglob("*") if p.is_file() and cache not in p.parents)
    return {p: p.stat().st_mtime_ns for p in files}


@pytest.mark.parametrize("wanted", [False, True])
def test_nothing_changed_means_nothing_written(build: Build, out: Path, *, wanted: bool) -> None:
    build()
    stamps = _stamps(out)
    if wanted:
        next((out / "site").glob("*/measured.html")).unlink()
    ran = build()
    assert ran.code == 0
    now = _stamps(out)
    assert set(now) == set(stamps)
    assert (now == stamps) is not wanted


def test_a_link_to_nowhere_and_a_pipe_stop_nobody(lessons: Path, build: Build, out: Path) -> None:
    (lessons / "brida-folder" / "2027-04-11" / "gone.mov").symlink_to("nowhere.mov")
    (lessons / "old shots").symlink_to("moved away")
    os.mkfifo(lessons / "corvin-folder" / "pipe.csv")

    assert build().code == 1
    assert set(sites(out)) == {"Corvin"}


@pytest.mark.parametrize("fault", ["coach: [", "coach: Ada Quill\nunits: {speed: knots}\n"])
def test_withdrawn_consent_goes_before_a_coach_yml_that_stops_the_run(
    lessons: Path, build: Build, out: Path, fault: str
) -> None:
    assert build().code == 0
    _edit(lessons / "brida-folder/student.yml", "page: yes,", "page: yes, withdrawn: 2027-05-01,")
    (lessons / "coach.yml").write_text(fault, encoding="utf-8")
    assert build().code == 2
    assert set(sites(out)) == {"Corvin"}


def test_withdrawn_consent_goes_before_a_secret_that_was_lost(
    lessons: Path, build: Build, out: Path
) -> None:
    assert build().code == 0
    _edit(lessons / "brida-folder/student.yml", "page: yes,", "page: yes, withdrawn: 2027-05-01,")
    (lessons / ".recapgen/secret").unlink()
    ran = build()
    assert ran.code == 2
    assert "secret" in ran.err
    assert set(sites(out)) == {"Corvin"}


def test_a_faulty_coach_yml_hides_no_other_problem_from_a_check(lessons: Path) -> None:
    (lessons / "coach.yml").write_text("coach: [", encoding="utf-8")
    _edit(lessons / "brida-folder/2027-04-11/notes.md", "want: 2 left to 2 right", "want: [")
    ran = recapgen("check", lessons)
    assert ran.code == 2
    assert "coach.yml" in ran.err
    assert "brida-folder/2027-04-11/notes.md:6" in ran.err


def test_the_last_day_of_the_calendar_is_a_day_like_any_other(build: Build) -> None:
    assert build("--today", "9999-12-31").code == 0


def test_who_agreed_to_nothing_is_asked_about(lessons: Path, build: Build, out: Path) -> None:
    student = lessons / "brida-folder/student.yml"
    student.write_text("name: Brida\nhand: right\n", encoding="utf-8")
    ran = build()
    assert ran.code == 0
    assert "[agreed-missing]" in ran.err
    assert set(sites(out)) == {"Corvin"}


def test_without_coach_yml_no_page_has_a_hole_for_the_name(
    lessons: Path, build: Build, out: Path
) -> None:
    (lessons / "coach.yml").unlink()
    assert build().code == 0
    home = (sites(out)["Brida"] / "index.html").read_text(encoding="utf-8")
    assert "<title>Your lessons with your coach" in home
