"""Whatever is published is read before it is: every kind of file, for names and private words."""

from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image, PngImagePlugin

from recapgen.model.page import Asset, Page, Site, SiteKind, WrittenFile
from recapgen.model.people import Coach, Student
from recapgen.model.problem import Code, Cost
from recapgen.model.source import SourceRef
from recapgen.privacy.forbidden import Named, forbidden_in
from recapgen.publish.checks import check_site, vocabulary
from tests.publish.small_sites import built

PRIVATE = "She is thinking of giving up after the winter"
CALENDAR = "BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\nSUMMARY:Hum\r\n{}\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n"
FILM = "films/abcd.mp4"


def box(kind: bytes, content: bytes) -> bytes:
    return (8 + len(content)).to_bytes(4) + kind + content


def film(title: str = "", tables: bytes = b"") -> bytes:
    remarks = box(b"udta", box(b"\xa9nam", title.encode()))
    sizes = box(b"trak", box(b"mdia", box(b"minf", box(b"stbl", box(b"stsz", tables)))))
    return box(b"ftyp", b"isom") + box(b"mdat", tables) + box(b"moov", sizes + remarks)


def picture(kind: str, title: str) -> bytes:
    into, told = BytesIO(), Image.Exif()
    told[0x010E] = title  # what is shown, in Exif
    png = PngImagePlugin.PngInfo()
    png.add_text("Title", title)
    Image.new("RGB", (8, 8)).save(
        into, kind, **({"pnginfo": png} if kind == "PNG" else {"exif": told})
    )
    return into.getvalue()


def problems(tmp_path: Path, change: Callable[[Path], None]) -> list[tuple[Code, str]]:
    """What speaks against a small site once it was changed."""
    (tmp_path / "film.mp4").write_bytes(film())
    site = Site(
        SiteKind.STUDENT,
        "Your lessons",
        "en",
        (Page("index.html", "Hum", "<main><h1>Hum one note</h1></main>"),),
        (Asset(FILM, tmp_path / "film.mp4"),),
        None,
        (
            WrittenFile("practice.ics", CALENDAR.format("UID:1")),
            WrittenFile("a.json", '{"club": "driver"}'),
        ),
    )
    folder = built(site, tmp_path / "new")
    change(folder)
    forbidden = forbidden_in(
        Student("jonas", "Jonas"),
        [Named("Jonas", "jonas"), Named("Zorba", "zorba-k")],
        coach=Coach("Ines Falk"),
        private=[PRIVATE],
        root="/home/ines/lessons",
        vocabulary=vocabulary("en"),
    )
    found = check_site(
        folder, site.kind, forbidden, where=SourceRef("jonas/student.yml"), costs=Cost.STUDENT
    )
    return [(problem.code, problem.facts["page"]) for problem in found]


def write(path: str, content: str | bytes) -> Callable[[Path], None]:
    raw = content.encode() if isinstance(content, str) else content

    def change(folder: Path) -> None:
        (folder / path).write_bytes(raw)

    return change


def instead(path: str, old: str, new: str) -> Callable[[Path], None]:
    def change(folder: Path) -> None:
        text = (folder / path).read_text("utf-8")
        assert old in text
        (folder / path).write_text(text.replace(old, new), "utf-8")

    return change


def test_a_sound_site_passes(tmp_path: Path) -> None:
    assert problems(tmp_path, write(FILM, film("Hum", b"..Zorba.."))) == []


@pytest.mark.parametrize(
    ("path", "change"),
    [
        ("practice.ics", write("practice.ics", CALENDAR.format("DESCRIPTION:as Zorba does"))),
        ("practice.ics", write("practice.ics", CALENDAR.format("X-WR-CALNAME:Zorba"))),
        ("practice.ics", write("practice.ics", CALENDAR.format("ATTENDEE;CN=Zorba:mailto:x@y.z"))),
        ("a.json", write("a.json", '{"club": ["driver", {"note": "as Zorba does"}]}')),
        ("sw.js", instead("sw.js", "lesson cards", "the cards of Zorba")),
        ("sw.js", instead("sw.js", "const FILES = {", 'const FILES = {"zorba.html":["0",1],')),
        ("assets/card.js", instead("assets/card.js", "(()=>{", "// Zorba\n(()=>{")),
        ("card.webmanifest", instead("card.webmanifest", "Your lessons", "Lessons of Zorba")),
        ("card.webmanifest", instead("card.webmanifest", '"index.html"', '"zorba.html"')),
        (FILM, write(FILM, film("Swing of Zorba"))),
        ("films/a.webp", write("films/a.webp", picture("WEBP", "Zorba on the range"))),
        ("films/a.jpg", write("films/a.jpg", picture("JPEG", "Zorba on the range"))),
        ("assets/icon-180.png", write("assets/icon-180.png", picture("PNG", "Zorba"))),
        ("films/a.srt", write("films/a.srt", "Zorba, at last")),
        ("a.svg", write("a.svg", "<svg><title>Zorba</title><circle r='5'/></svg>")),
        ("b.svg", write("b.svg", "<svg><!-- by Zorba --><circle r='5'/></svg>")),
    ],
)  # fmt: skip
def test_another_students_name_is_met_in_every_kind_of_file(
    path: str, change: Callable[[Path], None], tmp_path: Path
) -> None:
    assert (Code.OTHER_STUDENT_NAMED, path) in problems(tmp_path, change)


@pytest.mark.parametrize(
    ("path", "change"),
    [
        ("index.html", instead("index.html", "<h1>", f"<ol><li>{PRIVATE}</li></ol><h1>")),
        ("index.html", instead("index.html", "<h1>",
                               f"<ol><li>{PRIVATE.replace(' ', '</li><li>')}</ol><h1>")),
        ("practice.ics", write("practice.ics", CALENDAR.format(f"DESCRIPTION:1. {PRIVATE}"))),
        ("a.json", write("a.json", f'{{"plan": ["{PRIVATE}"]}}')),
        (FILM, write(FILM, film(PRIVATE))),
    ],
)  # fmt: skip
def test_private_words_are_met_in_a_plans_step_and_in_every_file(
    path: str, change: Callable[[Path], None], tmp_path: Path
) -> None:
    assert (Code.PRIVATE_WORDS_SHOWN, path) in problems(tmp_path, change)


@pytest.mark.parametrize("instead_of", ["", '<meta name="referrer" content="unsafe-url">'])
def test_a_page_that_tells_where_its_reader_came_from_is_no_page(
    instead_of: str, tmp_path: Path
) -> None:
    dropped = instead("index.html", '<meta name="referrer" content="no-referrer">', instead_of)
    assert problems(tmp_path, dropped) == [(Code.PAGE_UNGUARDED, "index.html")]
