"""Builds every kind of page from invented recaps and photographs it, for one's own eyes.

python -m tests.render.look_at_pages FOLDER
"""

import sys
from pathlib import Path

from msgspec.structs import replace
from playwright.sync_api import sync_playwright

from recapgen.publish.site_builder import build_site
from recapgen.render.card_site import card_site
from recapgen.render.cases_site import cases_site
from recapgen.render.student_site import student_site
from recapgen.tools.template_folder import template_folder
from recapgen.words.catalogue import words
from tests.render.recaps_fixture import COACH, mara, what_stuck
from tests.render.test_public_pages import case

SIZES = [(320, "light"), (390, "light"), (390, "dark"), (1200, "light"), (1200, "dark")]


def build(root: Path) -> list[Path]:
    english = words("en")
    files = root / "files"
    files.mkdir(parents=True)
    told = replace(case(), retention=what_stuck())
    sites = {
        "student": student_site(mara(files), COACH, english),
        "plain": student_site(mara(files), replace(COACH, accent=None, greeting=None), english),
        "cases": cases_site([told], COACH, english),
        "card": card_site(COACH, english, with_cases=True),
    }
    for name, site in sites.items():
        (root / name).mkdir()
        build_site(site, root / name, template_folder())
    return [root / name / page.path for name, site in sites.items() for page in site.pages]


def photograph(pages: list[Path]) -> None:
    with sync_playwright() as engine:
        browser = engine.chromium.launch(executable_path="/usr/bin/chromium", args=["--no-sandbox"])
        for width, scheme in SIZES:
            page = browser.new_page(
                viewport={"width": width, "height": 800},
                color_scheme="dark" if scheme == "dark" else "light",
            )
            for path in pages:
                page.goto(path.as_uri())
                page.screenshot(path=path.with_suffix(f".{width}-{scheme}.png"), full_page=True)
                if (width, scheme) == SIZES[0]:
                    page.pdf(path=path.with_suffix(".pdf"), format="A4")
            page.close()
        browser.close()


if __name__ == "__main__":
    photograph(build(Path(sys.argv[1])))
