"""A link stays whosever it was, whatever the coach does to the folders."""

import re
import shutil
import unicodedata
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Literal

import pytest

from recapgen.app.building import check
from recapgen.console import Outcome
from recapgen.model.problem import Code
from tests.end_to_end.link_desk import DAY, Desk, codes, swap
from tests.end_to_end.small_lessons import add_student, tree

BRIDA, CORVIN, LESSON = "brida-folder", "corvin-folder", "2027-04-11"


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("links")
    lessons = folder / "lessons"
    lessons.mkdir()
    (lessons / "coach.yml").write_text("coach: Ada Quill\n", "utf-8")
    for name in ("Brida", "Corvin"):
        add_student(lessons, name)
    words_only = lessons / BRIDA / "2027-05-02"
    words_only.mkdir()
    said = "---\nintent: Hum one even note\nfeels like: rocking a pram\n---\nHum as you go.\n"
    (words_only / "notes.md").write_text(said, "utf-8")
    Desk(folder).build()
    return folder


@pytest.fixture
def desk(built: Path, tmp_path: Path) -> Desk:
    shutil.copytree(built, tmp_path / "copy")
    return Desk(tmp_path / "copy")


KEEPS: dict[str, Callable[[Desk], object]] = {
    "a student renamed": lambda d: (d.lessons / BRIDA).rename(d.lessons / "brida h"),
    "only its case": lambda d: (d.lessons / BRIDA).rename(d.lessons / "Brida-Folder"),
    "a lesson renamed": lambda d: (d.lessons / BRIDA / LESSON).rename(
        d.lessons / BRIDA / f"{LESSON} driver"
    ),
    "a lesson given another day": lambda d: (d.lessons / BRIDA / LESSON).rename(
        d.lessons / BRIDA / "2027-04-12"
    ),
    "two students swapped": lambda d: swap(d.lessons / BRIDA, d.lessons / CORVIN),
    "two lessons swapped": lambda d: swap(
        d.lessons / BRIDA / LESSON, d.lessons / BRIDA / "2027-05-02"
    ),
}


@pytest.mark.parametrize(
    "what",
    [
        pytest.param(what, marks=() if what == "two students swapped" else pytest.mark.campaign)
        for what in KEEPS
    ],
)
def test_a_link_stays(desk: Desk, what: str) -> None:
    links, pages = desk.links(), desk.pages("Brida")
    KEEPS[what](desk)
    outcome = desk.build()
    assert (desk.links(), desk.pages("Brida")) == (links, pages)
    assert not any(p.cost.name == "STUDENT" for p in outcome.problems if p.cost)
    assert desk.build().written == 0
    shutil.rmtree(desk.out)
    desk.build()
    assert (desk.links(), desk.pages("Brida")) == (links, pages)


def asked(outcome: Outcome, code: Code) -> list[str]:
    """The lines that are offered for the one problem of that ``code``."""
    (problem,) = (p for p in outcome.problems if p.code is code)
    return [line for fix in problem.fixes for edit in fix.edits for line in edit.lines]


def test_a_folder_that_may_be_another_is_asked_about(desk: Desk) -> None:
    """Renamed, and somebody else's name in student.yml: it may be anybody's."""
    link = desk.links()["Brida"]
    (desk.lessons / BRIDA).rename(desk.lessons / "dorn-folder")
    desk.edit("dorn-folder/student.yml", "Brida", "Dorn")
    outcome = desk.build()
    lines = asked(outcome, Code.LINK_UNSURE)
    assert lines == [f"was called: {BRIDA}", "new address: yes"]
    assert set(desk.links()) == {"Corvin"}
    assert Code.LINK_UNSURE in codes(check(desk.lessons, DAY))
    desk.edit("dorn-folder/student.yml", "name:", f"{lines[0]}\nname:")
    desk.build()
    assert desk.links()["Dorn"] == link


@pytest.mark.campaign
def test_who_is_somebody_else_gets_a_link_of_their_own(desk: Desk) -> None:
    links = desk.links()
    (desk.lessons / BRIDA).rename(desk.lessons / "dorn-folder")
    desk.edit("dorn-folder/student.yml", "name: Brida", "new address: yes\nname: Dorn")
    desk.build()
    assert desk.links()["Dorn"] not in links.values()
    up = desk.links()
    desk.build()
    assert desk.links() == up


@pytest.mark.campaign
def test_a_copy_is_asked_about_and_never_shares_a_link(desk: Desk) -> None:
    links = desk.links()
    shutil.copytree(desk.lessons / BRIDA, desk.lessons / "brida again")
    outcome = desk.build()
    assert asked(outcome, Code.STUDENT_COPIED) == ["new address: yes"]
    assert desk.links() == links
    desk.edit("brida again/student.yml", "name: Brida", "new address: yes\nname: Dorn")
    desk.build()
    assert {**desk.links(), "Dorn": ""} == {**links, "Dorn": ""}
    assert desk.links()["Dorn"] not in links.values()


@pytest.mark.campaign
def test_a_copy_for_somebody_else_is_theirs(desk: Desk) -> None:
    links = desk.links()
    shutil.copytree(desk.lessons / BRIDA, desk.lessons / "dorn-folder")
    desk.edit("dorn-folder/student.yml", "Brida", "Dorn")
    outcome = desk.build()
    assert Code.STUDENT_COPIED not in codes(outcome)
    assert desk.links()["Brida"] == links["Brida"]
    assert len(set(desk.links().values())) == 3


@pytest.mark.campaign
def test_of_two_copies_of_what_is_gone_neither_is_known(desk: Desk) -> None:
    link = desk.links()["Brida"]
    for name in ("one", "two"):
        shutil.copytree(desk.lessons / BRIDA, desk.lessons / name)
    shutil.rmtree(desk.lessons / BRIDA)
    outcome = desk.build()
    assert codes(outcome).count(Code.LINK_UNSURE) == 2
    assert set(desk.links()) == {"Corvin"}
    desk.edit("one/student.yml", "name:", f"was called: {BRIDA}\nname:")
    desk.edit("two/student.yml", "name: Brida", "new address: yes\nname: Dorn")
    desk.build()
    assert desk.links()["Brida"] == link
    assert desk.links()["Dorn"] != link


@pytest.mark.campaign
def test_a_backup_put_back_beside_the_renamed_folder_is_a_copy(desk: Desk) -> None:
    links = desk.links()
    shutil.copytree(desk.lessons / BRIDA, desk.lessons.parent / "backup")
    (desk.lessons / BRIDA).rename(desk.lessons / "brida h")
    desk.build()
    shutil.copytree(desk.lessons.parent / "backup", desk.lessons / BRIDA)
    outcome = desk.build()
    assert Code.STUDENT_COPIED in codes(outcome)
    assert desk.links() == links
    shutil.rmtree(desk.lessons / "brida h")
    desk.build()
    assert desk.links() == links


@pytest.mark.campaign
def test_renamed_and_renamed_back(desk: Desk) -> None:
    links = desk.links()
    for name in ("brida h", BRIDA, "b"):
        next(desk.lessons.glob("b*")).rename(desk.lessons / name)
        desk.build()
        assert desk.links() == links


def test_renamed_and_edited_in_one_go(desk: Desk) -> None:
    links, pages = desk.links(), desk.pages("Brida")
    (desk.lessons / BRIDA).rename(desk.lessons / "brida h")
    desk.edit("brida h/student.yml", "hand: right", "hand: left")
    desk.edit(f"brida h/{LESSON}/notes.md", "Keep the wall", "Lose the wall")
    (desk.lessons / "brida h" / LESSON).rename(desk.lessons / "brida h" / f"{LESSON} wall")
    outcome = desk.build()
    assert (desk.links(), desk.pages("Brida")) == (links, pages)
    renamed = [p for p in outcome.problems if p.code.name.endswith("_RENAMED")]
    assert {p.facts["called"] for p in renamed} == {BRIDA, LESSON}
    assert all(links["Brida"] in p.facts["link"] for p in renamed)
    assert not any(p.code.name.endswith("_RENAMED") for p in check(desk.lessons, DAY).problems)


def test_words_renamed_and_edited_in_one_go_are_asked_about(desk: Desk) -> None:
    pages = desk.pages("Brida")
    brida = desk.lessons / BRIDA
    (brida / "2027-05-02").rename(brida / "2027-05-03")
    desk.edit(f"{BRIDA}/2027-05-03/notes.md", "Hum as you go.", "Hum as you walk.")
    outcome = desk.build()
    lines = asked(outcome, Code.LESSON_LINK_UNSURE)
    assert lines == ["was called: 2027-05-02", "new address: yes"]
    assert desk.pages("Brida") == pages  # as it was, until the coach has said
    desk.edit(f"{BRIDA}/2027-05-03/notes.md", "intent:", f"{lines[0]}\nintent:")
    desk.build()
    assert desk.pages("Brida") == pages


@pytest.mark.campaign
@pytest.mark.parametrize("form", ["NFC", "NFD"])
def test_a_name_written_otherwise_by_another_disk(desk: Desk, form: Literal["NFC", "NFD"]) -> None:
    (desk.lessons / CORVIN).rename(desk.lessons / unicodedata.normalize("NFC", "corvín é"))
    desk.build()
    links = desk.links()
    (desk.lessons / unicodedata.normalize("NFC", "corvín é")).rename(
        desk.lessons / unicodedata.normalize(form, "CORVÍN é")
    )
    outcome = desk.build()
    assert desk.links() == links
    assert Code.STUDENT_RENAMED not in codes(outcome)


@pytest.mark.parametrize(
    "said",
    ["page: no", pytest.param("page: yes, withdrawn: 2027-05-30", marks=pytest.mark.campaign)],
)
def test_what_was_taken_back_never_comes_up_there_again(desk: Desk, said: str) -> None:
    links = desk.links()
    desk.edit(f"{BRIDA}/student.yml", "page: yes", said)
    desk.build()
    (desk.lessons / BRIDA).rename(desk.lessons / "brida h")
    desk.edit("brida h/student.yml", said, "page: yes")
    desk.build()
    again = desk.links()
    assert again["Brida"] not in links.values()
    shutil.rmtree(desk.out)
    desk.build()
    assert desk.links() == again


@pytest.mark.campaign
def test_a_slip_in_student_yml_takes_nothing_back(desk: Desk) -> None:
    links = desk.links()
    for slip in ("page: maybe", "page: yes, until: 2027-05-30"):
        desk.edit(f"{BRIDA}/student.yml", "page: yes", slip)
        desk.build()
        assert set(desk.links()) == {"Corvin"}
        desk.edit(f"{BRIDA}/student.yml", slip, "page: yes")
        desk.build()
        assert desk.links() == links


@pytest.mark.campaign
def test_a_new_address_is_given_once_each_time_it_is_asked_for(desk: Desk) -> None:
    seen = [desk.links()["Brida"]]
    for _ in range(2):
        desk.edit(f"{BRIDA}/student.yml", "name:", "new address: yes\nname:")
        desk.build()
        seen.append(desk.links()["Brida"])
        desk.edit(f"{BRIDA}/student.yml", "hand:", "archived: yes\nhand:")
        desk.build()
        assert desk.links()["Brida"] == seen[-1]
        desk.edit(f"{BRIDA}/student.yml", "archived: yes\n", "")
        desk.edit(f"{BRIDA}/student.yml", "new address: yes\n", "")
        desk.build()
        assert desk.links()["Brida"] == seen[-1]
    assert len(set(seen)) == 3
    old = desk.out / "site" / seen[0]
    assert {file.name for file in old.iterdir()} == {"index.html", "sw.js"}
    assert seen[2].encode() not in b"".join(tree(old).values())


@pytest.mark.campaign
def test_a_new_address_of_one_lesson(desk: Desk) -> None:
    pages = desk.pages("Brida")
    desk.edit(f"{BRIDA}/{LESSON}/notes.md", "intent:", "new address: yes\nintent:")
    desk.build()
    now = desk.pages("Brida")
    assert len(now) == len(pages) == 2
    assert len(now & pages) == 1


def test_who_was_forgotten_and_comes_again_has_another_link(desk: Desk) -> None:
    link = desk.links()["Brida"]
    (desk.lessons / BRIDA).rename(desk.lessons.parent / "away")
    desk.build()
    assert BRIDA in (desk.lessons / ".recapgen/links.json").read_text("utf-8")
    desk.build(date(2027, 7, 20))
    assert BRIDA not in (desk.lessons / ".recapgen/links.json").read_text("utf-8")
    (desk.lessons.parent / "away").rename(desk.lessons / BRIDA)
    desk.build(date(2027, 7, 20))
    assert desk.links()["Brida"] != link


@pytest.mark.campaign
def test_another_person_in_a_folder_of_the_same_name_is_asked_about(desk: Desk) -> None:
    link = desk.links()["Brida"]
    shutil.rmtree(desk.lessons / BRIDA)
    add_student(desk.lessons, "Dorn")
    (desk.lessons / "dorn-folder").rename(desk.lessons / BRIDA)
    (desk.lessons / BRIDA / LESSON / "shots.csv").unlink()
    notes = desk.lessons / BRIDA / LESSON / "notes.md"
    notes.write_text("---\nintent: Whistle\n---\nSoftly.\n", "utf-8")
    outcome = desk.build()
    assert asked(outcome, Code.LINK_UNSURE) == [f"was called: {BRIDA}", "new address: yes"]
    assert set(desk.links()) == {"Corvin"}
    desk.edit(f"{BRIDA}/student.yml", "name:", "new address: yes\nname:")
    desk.build()
    assert desk.links()["Dorn"] != link


def test_the_copy_with_the_output_stands_in_for_a_lost_record(desk: Desk) -> None:
    links = desk.links()
    (desk.lessons / BRIDA).rename(desk.lessons / "brida h")
    desk.build()
    record = desk.lessons / ".recapgen/links.json"
    for spoilt in (None, "{", "[]"):
        record.unlink() if spoilt is None else record.write_text(spoilt, "utf-8")
        desk.build()
        assert desk.links() == links
    record.write_text("{", "utf-8")
    (desk.out / ".recapgen/links.json").write_text("{", "utf-8")
    up = tree(desk.out / "site")
    outcome = desk.build()
    assert codes(outcome) == [Code.LINKS_UNREADABLE]
    assert tree(desk.out / "site") == up
    assert record.read_text("utf-8") == "{"


@pytest.mark.campaign
def test_on_another_computer(desk: Desk, tmp_path: Path) -> None:
    links = desk.links()
    (desk.lessons / BRIDA).rename(desk.lessons / "brida h")
    desk.build()
    other = Desk(tmp_path / "other")
    shutil.copytree(desk.lessons, other.lessons)
    (other.lessons / "brida h").rename(other.lessons / "b")
    other.build()
    assert other.links() == links
    shutil.copytree(other.lessons, desk.lessons, dirs_exist_ok=True)
    shutil.rmtree(desk.lessons / "brida h")
    desk.build()
    assert desk.links() == links


def test_links_that_an_earlier_version_changed_lead_on(desk: Desk) -> None:
    """As the coach says, and to nowhere once the page comes down."""
    site = desk.out / "site"
    now = desk.links()["Corvin"]
    desk.edit(f"{CORVIN}/student.yml", "name:", "was called: corvin\nname:")
    desk.edit(f"{CORVIN}/{LESSON}/notes.md", "intent:", "was called: 2027-04-10\nintent:")
    desk.build()
    (page,) = desk.pages("Corvin") & {p for p in desk.pages("Corvin") if "04-11" in p}
    (earlier,) = (f for f in site.iterdir() if f"../{now}/" in read(f / "index.html"))
    assert f"../{now}/{page}" in read(earlier / page.replace(page, _only(earlier, "2027-04-11")))
    assert f'url={page}"' in read(site / now / _only(site / now, "2027-04-10"))
    held = "".join(read(file) for file in earlier.iterdir())
    assert "Corvin" not in held
    assert "corvin" not in held
    desk.edit(f"{CORVIN}/student.yml", "page: yes", "page: no")
    desk.build()
    assert now not in "".join(read(file) for file in earlier.iterdir())
    assert {file.name for file in earlier.iterdir()} == {"index.html", "sw.js"}
    desk.edit(f"{CORVIN}/student.yml", "page: no", "page: yes")
    desk.build()
    assert {file.name for file in earlier.iterdir()} == {"index.html", "sw.js"}


def _only(folder: Path, start: str) -> str:
    (name,) = (file.name for file in folder.glob(f"{start}*.html"))
    return name


def read(file: Path) -> str:
    return file.read_text("utf-8") if file.is_file() else ""


@pytest.mark.campaign
def test_an_output_of_an_earlier_version_is_taken_over(desk: Desk) -> None:
    links, pages = desk.links(), desk.pages("Brida")
    for file in (desk.lessons, desk.out):
        (file / ".recapgen/links.json").unlink()
    (desk.lessons / BRIDA).rename(desk.lessons / "brida h")
    desk.build()
    assert (desk.links(), desk.pages("Brida")) == (links, pages)


def test_words_of_drills_go_with_a_renamed_folder(desk: Desk) -> None:
    (desk.lessons / "drills").mkdir()
    drill = desk.lessons / "drills/pram.md"
    drill.write_text("---\ndo: Rock it\ntimes: 8\n---\nSlowly.\n", "utf-8")
    plan = "practice: {sessions a week: 2, balls: 30, steps: [{drill: pram, times: 8}]}\nintent:"
    desk.edit(f"{BRIDA}/{LESSON}/notes.md", "intent:", plan)
    desk.build()
    drill.write_text("---\ndo: Shove it\ntimes: 8\n---\nSlowly.\n", "utf-8")
    (desk.lessons / BRIDA / LESSON).rename(desk.lessons / BRIDA / f"{LESSON} wall")
    (desk.lessons / BRIDA).rename(desk.lessons / "brida h")
    desk.build()
    site = desk.out / "site" / desk.links()["Brida"]
    (page,) = site.glob("2027-04-11*.html")
    assert "Rock it" in read(page)
    kept = sorted(f.relative_to(desk.lessons).as_posix() for f in desk.lessons.rglob("*wall.json"))
    assert kept == [f".recapgen/drills/brida h/{LESSON} wall.json"]
    assert not re.search(r"brida-folder", read(desk.out / ".recapgen/gone.json"))
