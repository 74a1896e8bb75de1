"""A worksheet offers the view that a clip's picture suggests, and applies nothing by itself."""

import shutil
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from recapgen.publish.output import OutputPlaces
from recapgen.tools.cache import Cache
from tests.browser.sheets import lay_out_sheets
from tests.end_to_end.small_lessons import ROOT

pytestmark = pytest.mark.browser

LESSON = "mira/2027-01-23 driver"
UNSAID = "MOV_0034.mov"


def test_the_view_is_offered_and_taken_by_a_tap(
    browser: Browser, tmp_path: Path, sample_out: Path
) -> None:
    lessons = tmp_path / "lessons"
    shutil.copytree(ROOT / "sample_lessons" / LESSON, lessons / LESSON)
    for name in ("coach.yml", "mira/student.yml"):
        shutil.copy(ROOT / "sample_lessons" / name, lessons / name)
    shutil.copytree(ROOT / "sample_lessons/drills", lessons / "drills")
    notes = lessons / LESSON / "notes.md"
    said = notes.read_text("utf-8")
    notes.write_text(said.replace(f"{UNSAID}, view: face on", UNSAID), encoding="utf-8")
    kept = Cache(tmp_path / "kept", behind=OutputPlaces(sample_out).cache)
    sheets = lay_out_sheets(lessons, tmp_path / "sheets", kept)

    page = browser.new_page()
    page.goto(sheets.at(LESSON))
    clip = page.locator(f'[data-clip="{UNSAID}"]')
    offer = clip.locator("[data-likely]")
    view = clip.locator('[data-field="view"]')
    expect(offer).to_have_text("Looks face on to us. Use that")
    expect(view).to_have_value("")
    expect(page.locator("[data-likely]:visible")).to_have_count(1)
    offer.click()
    expect(view).to_have_value("face on")
    expect(view).to_be_focused()
    expect(offer).to_be_hidden()
    line = next(each for each in page.inner_text("[data-text-now]").split("\n") if UNSAID in each)
    assert line.endswith(", view: face on}")
