"""Make the README's two pictures from the sample lessons: a lesson's page and the book's first.

    make pictures

Both are what a phone shows at first sight, on a day shortly after the lessons.
"""

import io
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

from PIL import Image
from playwright.sync_api import sync_playwright

ROOT = Path(__file__).parents[1]
SAVED_IN = ROOT / "recapgen" / "handbook" / "pictures"
DAY = "2027-05-20"
LESSON = "Set the ball down on the far bank"
WIDE_PX, HIGH_PX, SCALE = 390, 844, 1.5
QUALITY = 60


def main() -> None:
    with TemporaryDirectory() as folder, sync_playwright() as playwright:
        out = Path(folder) / "out"
        build = ("build", ROOT / "sample_lessons", "--out", out, "--today", DAY)
        subprocess.run([sys.executable, "-m", "recapgen", *map(str, build)], check=True)  # noqa: S603
        lesson = next(
            page
            for page in sorted((out / "site").glob("*/2027-*.html"))
            if LESSON in page.read_text("utf-8")
        )
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium")
        size = {"width": WIDE_PX, "height": HIGH_PX}
        page = browser.new_page(viewport=size, device_scale_factor=SCALE)
        for name, shown in (("lesson", lesson), ("book", out / "coach_book" / "index.html")):
            page.goto(shown.as_uri())
            page.evaluate("document.fonts.ready.then(() => true)")
            picture = Image.open(io.BytesIO(page.screenshot())).convert("RGB")
            picture.save(SAVED_IN / f"{name}.webp", quality=QUALITY, method=6)
        browser.close()


if __name__ == "__main__":
    main()
