"""Files that cost far more to read than they weigh, or seem to."""

import io
import zipfile
from collections.abc import Callable, Mapping

HEAD = "Shot,Club,Club Path (deg)"
_ROW = "1,7 Iron,2.5"
_BIG = 1_000_000


def _csv(*rows: str, head: str = HEAD) -> bytes:
    return "\n".join((head, *rows)).encode()


def _cell(text: str, rows: int = 1) -> bytes:
    return _csv(*(f'{n},"{text}",2.5' for n in range(1, rows + 1)))


def _sheet(rows: str, dimension: str = "A1:C2", **parts: str) -> bytes:
    """A workbook of one sheet whose rows are given as XML."""
    main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
    package = "http://schemas.openxmlformats.org/package/2006"
    office = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
    types = "application/vnd.openxmlformats-officedocument.spreadsheetml"
    files = {
        "[Content_Types].xml": f'<Types xmlns="{package}/content-types">'
        '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.'
        'relationships+xml"/><Default Extension="xml" ContentType="application/xml"/>'
        f'<Override PartName="/xl/workbook.xml" ContentType="{types}.sheet.main+xml"/>'
        f'<Override PartName="/xl/worksheets/sheet1.xml" ContentType="{types}.worksheet+xml"/>'
        f'<Override PartName="/xl/sharedStrings.xml" ContentType="{types}.sharedStrings+xml"/>'
        "</Types>",
        "_rels/.rels": f'<Relationships xmlns="{package}/relationships"><Relationship Id="r1" '
        f'Type="{office}/officeDocument" Target="xl/workbook.xml"/></Relationships>',
        "xl/workbook.xml": f'<workbook xmlns="{main}" xmlns:r="{office}"><sheets>'
        '<sheet name="Shots" sheetId="1" r:id="r1"/></sheets></workbook>',
        "xl/_rels/workbook.xml.rels": f'<Relationships xmlns="{package}/relationships">'
        f'<Relationship Id="r1" Type="{office}/worksheet" Target="worksheets/sheet1.xml"/>'
        f'<Relationship Id="r2" Type="{office}/sharedStrings" Target="sharedStrings.xml"/>'
        "</Relationships>",
        "xl/worksheets/sheet1.xml": f'<worksheet xmlns="{main}"><dimension ref="{dimension}"/>'
        f"<sheetData>{rows}</sheetData></worksheet>",
        "xl/sharedStrings.xml": f'<sst xmlns="{main}">{parts.get("strings", "")}</sst>',
    }
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as book:
        for name, text in files.items():
            book.writestr(name, text)
    return packed.getvalue()


def _said(*cells: str, row: int = 1) -> str:
    inside = "".join(f'<c t="inlineStr"><is><t>{cell}</t></is></c>' for cell in cells)
    return f'<row r="{row}">{inside}</row>'


_SAID_HEAD = _said(*HEAD.split(","))


def _zeros() -> bytes:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as book:
        for n in range(20):
            book.writestr(f"xl/worksheets/sheet{n}.xml", b"\0" * 100_000_000)
    return packed.getvalue()


TABLES: Mapping[str, Callable[[], bytes]] = {
    "brackets.csv": lambda: _cell("(" * 200_000),
    "brackets in many cells.csv": lambda: _cell("(" * 1_900, 500),
    "brackets in headings.csv": lambda: _csv(_ROW, head=",".join(["(" * 1_900 + "x"] * 250)),
    "curly brackets.csv": lambda: _cell("{[(" * 60_000),
    "blanks.csv": lambda: _cell(" " * 1_900 + "x", 500),
    "digits.csv": lambda: _cell("9" * 1_900, 500),
    "points.csv": lambda: _cell("1." * 900, 500),
    "commas.csv": lambda: _cell("1," * 900, 500),
    "minus signs.csv": lambda: _cell("-" * 1_900, 500),
    "primes.csv": lambda: _cell("1'" * 900, 500),
    "capitals.csv": lambda: _cell("aB" * 900, 500),
    "accents.csv": lambda: _cell("e" + "\u0301" * 1_900, 500),
    "months.csv": lambda: _cell("1 jan " * 300, 500),
    "columns.csv": lambda: _csv(_ROW, head=HEAD + "," + ",".join(f"c{n}" for n in range(100_000))),
    "as many columns as may be.csv": lambda: _csv(
        *(_ROW + ",1.5" * 290 for _ in range(2_000)),
        head=HEAD + "," + ",".join(f"loftiness of the {n}th" for n in range(290)),
    ),
    "headings everywhere.csv": lambda: _csv(
        *(",".join(f"speed {row} {n} of something" for n in range(250)) for row in range(80))
    ),
    "delimiters.csv": lambda: b"," * 20 * _BIG,
    "rows of delimiters.csv": lambda: (b"," * 290 + b"\n") * 60_000,
    "one long line.csv": lambda: b"x" * 40 * _BIG,
    "line ends.csv": lambda: HEAD.encode() + b"\n" * 20 * _BIG,
    "quotes.csv": lambda: HEAD.encode() + b'\n"' * 2 * _BIG,
    "only quotes.csv": lambda: b'"' * 20 * _BIG,
    "open quotes.csv": lambda: _csv(*[f'1,"{"x" * 60},2.5'] * 200_000),
    "sections.csv": lambda: _csv(*[_ROW, HEAD] * 30_000),
    "averages.csv": lambda: _csv(*["average,,2.5"] * 200_000),
    "remarks.csv": lambda: _csv(*["words, more words"] * 200_000),
    "every row another club.csv": lambda: _csv(*(f"{n},club {n},2.5" for n in range(50_000))),
    "impossible rows.csv": lambda: _csv(*(f"{n},7 Iron,9{n}" for n in range(100_000))),
    "one number for all.csv": lambda: _csv(*[_ROW] * 100_000),
    "wide marks.csv": lambda: _csv(*["1,\U0001f3cc,2.5"] * 300_000),
    "rows.csv": lambda: _csv(*(f"{n},7 Iron,2.{n % 10}" for n in range(1_500_000))),
    "claimed.xlsx": lambda: _sheet(
        _SAID_HEAD + _said("1", row=1_048_576), dimension="A1:XFD1048576"
    ),
    "far rows.xlsx": lambda: _sheet(_SAID_HEAD + _said("1", row=10**15)),
    "far cells.xlsx": lambda: _sheet(
        "".join(f'<row r="{n}"><c r="XFD{n}"><v>1</v></c></row>' for n in range(1, 20_000))
    ),
    "wide.xlsx": lambda: _sheet(_said(*["x"] * 16_384) * 200),
    "tall.xlsx": lambda: _sheet(_SAID_HEAD + "<row><c><v>1</v></c></row>" * 2 * _BIG),
    "long cell.xlsx": lambda: _sheet(_said("(" * 30_000)),
    "strings.xlsx": lambda: _sheet(_SAID_HEAD, strings="<si><t>ab</t></si>" * 8 * _BIG),
    "deep.xlsx": lambda: _sheet("<row>" * _BIG),
    "bomb.xlsx": _zeros,
    "cut.xlsx": lambda: _sheet(_SAID_HEAD)[:-40],
}
