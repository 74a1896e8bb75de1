"""A site made on top of the last one is the site made anew, and no page is trusted for nothing."""

from pathlib import Path

import pytest
from msgspec.structs import replace

from recapgen.model.page import Site
from recapgen.model.people import Coach
from recapgen.model.problem import Code, Cost, Problem
from recapgen.model.source import SourceRef
from recapgen.privacy.forbidden import forbidden_in
from recapgen.publish.checks import check_site, vocabulary
from recapgen.publish.last_site import LastSite, NewSite, inventory_of, read_last_site
from recapgen.publish.renewal import found_clean, read_already, renew, stands
from recapgen.tools.template_folder import template_folder
from tests.publish.small_sites import BODY, LESSON, book_site, built, files_in, student_site

LESSON_PAGE = "2027-04-11-bcdf.html"


def renewed(site: Site, last: LastSite, into: Path) -> NewSite:
    into.mkdir()
    new = NewSite(into, last)
    renew(site, new, template_folder())
    return new


def last_of(new: NewSite) -> LastSite:
    return read_last_site(new.folder, inventory_of(new, new.folder))


@pytest.fixture
def film(tmp_path: Path) -> Path:
    file = tmp_path / "film.mp4"
    file.write_bytes(b"film")
    return file


@pytest.fixture
def first(tmp_path: Path, film: Path) -> NewSite:
    return renewed(student_site(film), read_last_site(tmp_path / "nothing", None), tmp_path / "1")


def test_a_site_with_one_other_page_is_the_site_made_anew(
    tmp_path: Path, film: Path, first: NewSite
) -> None:
    other = student_site(film, body=BODY.replace("one note", "two notes"))
    second = renewed(other, last_of(first), tmp_path / "2")
    assert files_in(tmp_path / "2") == files_in(built(other, tmp_path / "anew"))
    assert (second.folder / LESSON_PAGE).samefile(first.folder / LESSON_PAGE)
    assert not (second.folder / "index.html").samefile(first.folder / "index.html")


def test_a_book_with_one_other_page_is_the_book_made_anew(tmp_path: Path) -> None:
    site = book_site()
    last = last_of(renewed(site, read_last_site(tmp_path, None), tmp_path / "1"))
    front = replace(site.pages[0], body="<p>Start there.</p>")
    other = replace(site, pages=(front, *site.pages[1:]))
    renewed(other, last, tmp_path / "2")
    assert files_in(tmp_path / "2") == files_in(built(other, tmp_path / "anew"))


def test_a_page_that_stands_needs_no_body(tmp_path: Path, film: Path) -> None:
    site = student_site(film)
    known = replace(site.pages[1], made_of="all of it")
    last = last_of(
        renewed(
            replace(site, pages=(site.pages[0], known)),
            read_last_site(tmp_path, None),
            tmp_path / "1",
        )
    )
    assert stands(last, template_folder(), LESSON_PAGE, "all of it")
    assert not stands(last, template_folder(), LESSON_PAGE, "all but a word")
    bare = replace(site, pages=(site.pages[0], replace(known, body="")))
    second = renewed(bare, last, tmp_path / "2")
    assert LESSON in (second.folder / LESSON_PAGE).read_text("utf-8")


@pytest.mark.parametrize("harm", ["edited", "removed", "inventory"])
def test_what_is_not_as_it_was_left_is_made_again(
    tmp_path: Path, film: Path, first: NewSite, harm: str
) -> None:
    inventory = inventory_of(first, first.folder)
    page = first.folder / LESSON_PAGE
    if harm == "edited":
        page.write_text(page.read_text("utf-8").replace("Lesson", "Lessen"), encoding="utf-8")
    elif harm == "removed":
        page.unlink()
    else:
        inventory = inventory.replace("made_of", "made_for")
    renewed(student_site(film), read_last_site(first.folder, inventory), tmp_path / "2")
    assert files_in(tmp_path / "2") == files_in(built(student_site(film), tmp_path / "anew"))


def test_a_page_is_not_read_again_only_where_it_was_searched_for_the_same(
    tmp_path: Path, film: Path, first: NewSite
) -> None:
    met = Problem(Code.OTHER_STUDENT_NAMED, SourceRef(""), {"page": "index.html", "word": "Ann"})
    searched = last_of(found_clean(first, (met,), "for Ann"))
    second = renewed(student_site(film), searched, tmp_path / "2")
    assert set(read_already(second, "for Ann")) == {LESSON_PAGE}
    assert not read_already(second, "for Ann and Bea")
    read = read_already(second, "for Ann")[LESSON_PAGE]
    assert [pointer.address for pointer in read.pointers if pointer.tag == "a"]
    assert read.referrer == "no-referrer"


def test_a_page_that_was_clean_is_clean_again(tmp_path: Path, film: Path) -> None:
    beyond = '<a href="https://example.org/cases/" rel="noreferrer">a lesson like yours</a></main>'
    site = student_site(film, body=BODY.replace("</main>", beyond))
    forbidden = forbidden_in(
        None, (), coach=Coach("Ines Falk"), private=(), root="/x/y", vocabulary=vocabulary("en")
    )

    def problems(new: NewSite) -> tuple[Problem, ...]:
        read = read_already(new, "for nobody")
        return check_site(
            new.folder, site.kind, forbidden, where=SourceRef(""), costs=Cost.STUDENT, read=read
        )

    first = renewed(site, read_last_site(tmp_path, None), tmp_path / "1")
    assert problems(first) == ()
    second = renewed(site, last_of(found_clean(first, (), "for nobody")), tmp_path / "2")
    assert len(read_already(second, "for nobody")) == len(site.pages)
    assert problems(second) == ()


def test_a_file_of_which_nothing_is_known_is_laid_anew(tmp_path: Path) -> None:
    (tmp_path / "1").mkdir()
    first = NewSite(tmp_path / "1", read_last_site(tmp_path, None))
    first.lay("data/a.json", "", lambda: b"before")
    first.lay("data/b.json", "b", lambda: b"before")
    (tmp_path / "2").mkdir()
    second = NewSite(tmp_path / "2", last_of(first))
    second.lay("data/a.json", "", lambda: b"after")
    second.lay("data/b.json", "b", lambda: b"after")
    laid = files_in(second.folder)
    assert laid == {"data/a.json": b"after", "data/b.json": b"before"}
