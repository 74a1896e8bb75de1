"""Whose link a folder has: its own of before, one of its own, or the coach is asked."""

from datetime import date

import pytest
from msgspec.structs import replace

from recapgen.privacy.lasting_links import Memory, OldPage, SaidOfLink, forget
from recapgen.privacy.remembering_links import LessonNow, Remembered, StudentNow, remember

SECRET = bytes(range(32))
NOTHING = SaidOfLink()


def lesson(key: str, *files: str, lines: str = "", said: SaidOfLink = NOTHING) -> LessonNow:
    on = date.fromisoformat(key[:10])
    return LessonNow(key, on, tuple(sorted(files)), tuple(sorted(lines.split())), "", said)


def student(key: str, who: str, *lessons: LessonNow, **more: object) -> StudentNow:
    files = (f"{who}.yml", *(file for each in lessons for file in each.files))
    now = StudentNow(key, who, tuple(sorted(files)), NOTHING, True, False, lessons)
    return replace(now, **more)


ADA = student(
    "ada", "Ada", lesson("2027-04-11", "n1", "t1"), lesson("2027-05-02", "n2", lines="a b c d")
)
BO = student("bo", "Bo", lesson("2027-04-11", "n3", "t3"))
BEFORE = remember(Memory({}), [ADA, BO], SECRET)


def after(*now: StudentNow, memory: Memory = BEFORE.memory) -> Remembered:
    return remember(memory, now, SECRET)


def at(told: Remembered, key: str) -> str:
    return told.links.address(key)


WAS = {each: at(BEFORE, each) for each in ("ada", "bo")}


def test_a_folder_has_the_link_of_its_name_first() -> None:
    assert len({*WAS.values()}) == 2
    assert after(ADA, BO).memory == BEFORE.memory
    assert (after(ADA, BO).renamed, after(ADA, BO).asked) == ({}, {})


@pytest.mark.parametrize(
    ("now", "renamed"),
    [
        (replace(ADA, key="ada h"), {"ada h": "ada"}),
        (replace(ADA, key="ADA"), {}),
        (replace(ADA, key="ada h", files=(*ADA.files, "more", "and more")), {"ada h": "ada"}),
        (replace(ADA, key="a", files=("Ada.yml", "n1", "x", "y", "z")), {"a": "ada"}),
    ],
)
def test_a_student_is_known_again(now: StudentNow, renamed: dict[str, str]) -> None:
    told = after(now, BO)
    assert {k: v for k, v in told.renamed.items() if "/" not in k} == renamed
    assert at(told, now.key) == WAS["ada"]
    assert at(after(now, BO, memory=told.memory), now.key) == WAS["ada"]


def test_changed_places_and_in_a_ring() -> None:
    told = after(replace(ADA, key="bo"), replace(BO, key="ada"))
    assert (at(told, "bo"), at(told, "ada")) == (WAS["ada"], WAS["bo"])
    told = after(replace(ADA, key="bo"), replace(BO, key="cy"))
    assert (at(told, "bo"), at(told, "cy")) == (WAS["ada"], WAS["bo"])


def test_one_renamed_in_place_of_one_who_is_gone() -> None:
    """The link of the one who is gone is nobody's any more."""
    told = after(replace(ADA, key="bo"))
    assert at(told, "bo") == WAS["ada"]
    back = after(replace(ADA, key="bo"), replace(BO, key="b"), memory=told.memory)
    assert at(back, "b") != WAS["bo"]


@pytest.mark.parametrize(
    ("now", "asked"),
    [
        ([replace(ADA, key="dora", who="Dora")], {"dora": ("ada",)}),
        ([replace(ADA, key="one"), replace(ADA, key="two")], {"one": ("ada",), "two": ("ada",)}),
        ([replace(ADA, key="a", files=("Ada2.yml", "x"))], {"a": ("ada",)}),
        ([ADA, replace(ADA, key="copy")], {"copy": ()}),
        ([student("ada", "Dora", lesson("2027-06-01", "x"))], {"ada": ("ada",)}),
    ],
)
def test_what_may_be_another_is_asked(
    now: list[StudentNow], asked: dict[str, tuple[str, ...]]
) -> None:
    told = after(*now, BO)
    assert told.asked == asked
    assert not any(at(told, key) in WAS.values() for key in asked)
    again = after(*now, BO, memory=told.memory)
    assert again.asked == asked  # until there is an answer


@pytest.mark.parametrize(
    "now",
    [
        student("dora", "Dora", lesson("2027-06-01", "x")),
        replace(ADA, key="dora", who="Dora", said=SaidOfLink(new_address=True)),
    ],
)
def test_who_is_new_has_a_link_of_their_own(now: StudentNow) -> None:
    told = after(now, BO)
    assert told.asked == {}
    assert at(told, "dora") not in WAS.values()


def test_a_namesake_of_a_renamed_folder_does_not_get_its_link() -> None:
    moved = replace(ADA, key="ada h")
    told = after(moved, BO)
    other = student("ada", "Ada B.", lesson("2027-06-01", "x"))
    later = after(moved, BO, other, memory=told.memory)
    assert later.asked == {}
    assert at(later, "ada h") == WAS["ada"] != at(later, "ada")


def test_the_coach_says_which_it_was() -> None:
    one = replace(ADA, key="one", said=SaidOfLink(was_called="Ada"))
    two = replace(ADA, key="two", who="Eve", said=SaidOfLink(new_address=True))
    told = after(one, two, BO)
    assert told.asked == {}
    assert at(told, "one") == WAS["ada"] != at(told, "two")


def test_what_was_taken_back_or_forgotten_never_comes_again() -> None:
    back = replace(ADA, shown=False, took_back=True)
    told = after(back, BO)
    assert at(told, "ada") == WAS["ada"]
    again = after(replace(ADA, key="ada h"), BO, memory=told.memory)
    assert at(again, "ada h") != WAS["ada"]
    assert at(after(replace(ADA, key="a"), BO, memory=again.memory), "a") == at(again, "ada h")
    gone = forget(after(BO).memory, ["ada"], SECRET)
    assert "ada" not in gone.students
    assert at(after(ADA, BO, memory=gone), "ada") != WAS["ada"]


def test_a_page_that_is_not_to_be_seen_for_a_while_keeps_its_link() -> None:
    told = after(replace(ADA, shown=False), BO)
    assert at(after(ADA, BO, memory=told.memory), "ada") == WAS["ada"]


def test_an_earlier_name_leads_on_unless_it_is_somebodys() -> None:
    told = after(replace(ADA, said=SaidOfLink(was_called="a")), BO)
    (earlier,) = told.links.former_addresses("ada")
    assert earlier not in WAS.values()
    assert not after(replace(ADA, said=SaidOfLink(was_called="bo")), BO).links.former_addresses(
        "ada"
    )
    back = after(replace(ADA, shown=False, took_back=True), BO, memory=told.memory)
    again = after(replace(ADA, said=SaidOfLink(was_called="a")), BO, memory=back.memory)
    assert again.links.former_addresses("ada") == {}


def pages(told: Remembered) -> dict[str, str]:
    return {
        key: told.links.page("ada", key, link.on)
        for key, link in told.memory.students["ada"].lessons.items()
    }


FIRST, SECOND = ADA.lessons
MOVED = replace(FIRST, key="2027-04-12 x", on=date(2027, 4, 12))


@pytest.mark.parametrize(
    ("lessons", "same"),
    [
        ((MOVED, SECOND), {"2027-04-12 x": "2027-04-11"}),
        ((replace(MOVED, files=("other", "t1")), SECOND), {"2027-04-12 x": "2027-04-11"}),
        (
            (replace(FIRST, key="2027-05-02"), replace(SECOND, key="2027-04-11")),
            {"2027-05-02": "2027-04-11", "2027-04-11": "2027-05-02"},
        ),
    ],
)
def test_a_lesson_is_known_again(lessons: tuple[LessonNow, ...], same: dict[str, str]) -> None:
    told = after(replace(ADA, lessons=lessons), BO)
    assert told.asked == {}
    assert {new: pages(told)[new] for new in same} == {
        new: pages(BEFORE)[old] for new, old in same.items()
    }


def test_lines_alone_are_no_proof() -> None:
    now = lesson("2027-05-03", "n2 edited", lines="a b c e")
    told = after(replace(ADA, lessons=(FIRST, now)), BO)
    assert told.asked == {"ada/2027-05-03": ("2027-05-02",)}
    said = replace(now, said=SaidOfLink(was_called="2027-05-02"))
    answered = after(replace(ADA, lessons=(FIRST, said)), BO)
    assert pages(answered)["2027-05-03"] == pages(BEFORE)["2027-05-02"]


def test_a_copied_lesson_has_a_page_of_its_own() -> None:
    told = after(replace(ADA, lessons=(FIRST, replace(FIRST, key="2027-06-01"), SECOND)), BO)
    assert told.asked == {}
    assert len(set(pages(told).values())) == 3


def test_a_lesson_keeps_its_page_when_its_copy_is_deleted_while_its_notes_are_broken() -> None:
    whole = student("ada", "Ada", lesson("2027-04-11", "n", "t"), lesson("2027-04-18", "n", "t"))
    first = remember(Memory({}), [whole], SECRET)
    broken = student("ada", "Ada", lesson("2027-04-18", "broken", "t"))
    mended = student("ada", "Ada", lesson("2027-04-18", "n", "t"))
    told = after(mended, memory=after(broken, memory=first.memory).memory)
    assert told.renamed == {}
    assert pages(told)["2027-04-18"] == pages(first)["2027-04-18"]


def test_an_earlier_page_leads_on() -> None:
    now = replace(FIRST, said=SaidOfLink(was_called="2027-04-10 first"))
    told = after(replace(ADA, lessons=(now, SECOND)), BO)
    assert told.memory.students["ada"].lessons["2027-04-11"].former == (
        OldPage("2027-04-10 first", date(2027, 4, 10)),
    )
    assert list(told.links.former_pages("ada").values()) == [pages(BEFORE)["2027-04-11"]]
