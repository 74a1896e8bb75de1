"""Make the pictures of the handbook's chapter on clips from the built sample lessons.

    make pictures

builds ``sample_lessons`` first and then runs this. Everybody in the clips is drawn. Whoever changes
the samples' clips or how they are shown runs it again, looks at the three pictures and keeps them.
"""

import re
import sys
from pathlib import Path

from PIL import Image, ImageDraw, ImageFont

WIDE_PX = 640
QUALITY = 60
LEFTY, RIGHTY = "2027-01-30-", "2027-01-23-"
SAVED_IN = Path(__file__).parents[1] / "recapgen" / "handbook" / "pictures"


def posters(page: Path) -> list[Image.Image]:
    """The still at impact of every film on a page, in the page's order."""
    names = re.findall(r"films/[0-9a-f]+\.webp", page.read_text(encoding="utf-8"))
    return [Image.open(page.parent / name).convert("RGB") for name in dict.fromkeys(names)]


def one_of(pair: Image.Image) -> Image.Image:
    """The earlier swing of a pair, which stands on the left."""
    return pair.crop((0, 0, pair.width // 2, pair.height))


def beside(pictures: list[Image.Image], captions: list[str]) -> Image.Image:
    """Pictures in a row, each with its caption below."""
    wide = WIDE_PX // len(pictures) - 8
    scaled = [p.resize((wide, round(p.height * wide / p.width))) for p in pictures]
    sheet = Image.new("RGB", (WIDE_PX, scaled[0].height + 36), "white")
    pen, font = ImageDraw.Draw(sheet), ImageFont.load_default(17)
    for at, (picture, caption) in enumerate(zip(scaled, captions, strict=True)):
        left = at * (wide + 16)
        sheet.paste(picture, (left, 0))
        middle = left + (wide - pen.textlength(caption, font)) / 2
        pen.text((middle, picture.height + 8), caption, "#1f2421", font)
    return sheet


def keep(picture: Image.Image, name: str) -> None:
    picture.save(SAVED_IN / name, quality=QUALITY, method=6)


def main(site: Path) -> None:
    (lefty,), (righty,) = (tuple(site.glob(f"*/{day}*.html")) for day in (LEFTY, RIGHTY))
    (case,) = (p for p in site.glob("cases/*.html") if "stubborn miss" in p.read_text("utf-8"))
    line, front = posters(lefty)
    keep(
        beside(
            [one_of(front), one_of(line)],
            ["face on before shot 6.mov", "down the line before shot 8.mov"],
        ),
        "clip_names.webp",
    )
    keep(beside([line], ["before and after, both at impact"]), "clip_pair.webp")
    own, told = one_of(posters(righty)[0]), one_of(posters(case)[0])
    keep(
        beside([own, told], ["the student's own page", "the same swing in a case"]),
        "clip_face.webp",
    )


if __name__ == "__main__":
    main(Path(sys.argv[1]))
