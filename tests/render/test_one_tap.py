"""From the front page everything is one tap away, and from everywhere the front page is."""

from pathlib import PurePosixPath

from recapgen.render.student_site import student_site
from recapgen.tools.html_reading import read_html
from recapgen.words.catalogue import words
from tests.render.recaps_fixture import COACH, earlier_path, faster, full_recap, student


def test_every_page_is_one_tap_from_home_and_back() -> None:
    site = student_site(student(earlier_path(), faster(), full_recap()), COACH, words("en"))
    followed = {
        page.path: {p.address.split("#")[0] for p in read_html(page.body).pointers if p.followed}
        for page in site.pages
    }
    others = set(followed) - {"index.html"}
    assert {"practice.html", "log.html", "compare.html", "measured.html"} <= others
    assert len(others) == 7
    assert others <= followed["index.html"]
    assert all("index.html" in followed[path] for path in others)
    assert all(PurePosixPath(path).name == path for path in followed)
