"""Small sites of every kind, built once for the tests that read them back."""

from pathlib import Path

from recapgen.model.page import Asset, Page, Site, SiteKind
from recapgen.publish.site_builder import build_site
from recapgen.tools.template_folder import template_folder

HOSTILE = '</title><script>alert(1)</script> & "Lou\'s"'
BODY = (
    '<main id="top"><h1>Hum one note</h1><p>3 &lt; 4</p>'
    '<a href="2027-04-11-bcdf.html#sure">lesson</a><video src="films/a%20b.mp4"></video></main>'
)
LESSON = (
    '<main><h1>Lesson</h1><details id="sure"><p>x</p></details><a href="index.html">home</a></main>'
)


def student_site(film: Path, accent: str | None = "#9c4221", *, body: str = BODY) -> Site:
    return Site(
        SiteKind.STUDENT,
        HOSTILE,
        "en",
        (Page("index.html", HOSTILE, body), Page("2027-04-11-bcdf.html", "11 April", LESSON)),
        (Asset("films/a b.mp4", film),),
        accent,
    )


def book_site() -> Site:
    people = ("Marta", "Zoë Ängström", f"Will {HOSTILE}")
    pages = [Page("index.html", "All students", "<p>Start here.</p>")]
    for number, name in enumerate(people):
        pages += [
            Page(f"s{number}.html", name, "<h1>Student</h1><p>Every lesson.</p>", name),
            Page(
                f"s{number}-1.html",
                "Hum one even note",
                "<h1>Hum</h1><table><tr><td>6.3 right</td></tr></table>"
                f"<p>Wedge number {number} from the mat, quartz.</p><svg><text>inked</text></svg>",
                name,
            ),
        ]
    return Site(SiteKind.BOOK, "Ines' book", "en", tuple(pages), ())


def built(site: Site, into: Path) -> Path:
    into.mkdir()
    build_site(site, into, template_folder())
    return into


def files_in(folder: Path) -> dict[str, bytes]:
    return {
        file.relative_to(folder).as_posix(): file.read_bytes()
        for file in folder.rglob("*")
        if file.is_file()
    }
