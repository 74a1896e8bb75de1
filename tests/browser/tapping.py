"""A coach's hand on a worksheet: everything that can be tapped or drawn there."""

from playwright.sync_api import Page


def tap_everything(page: Page) -> None:
    """As much of each part as a lesson has."""
    shots = page.locator("[data-shot]")
    if shots.count():
        shots.nth(2).click()
        page.click("[data-mishit=thin]")
        shots.nth(3).click()
        page.click("[data-reason] >> nth=0")
        if page.locator("[data-edge]").count():
            page.locator("[data-edge]").first.focus()
            page.keyboard.press("ArrowLeft")
    if page.locator("[data-clip]").count():
        clip = page.locator("[data-clip]").first
        clip.locator("[data-by='1']").click()
        clip.locator("[data-impact-here]").click()
        draw(page, "blur", (0.1, 0.1), (0.3, 0.25))
        draw(page, "ball", (0.5, 0.8), (0.5, 0.8))
        draw(page, "line", (0.4, 0.2), (0.42, 0.7))
    page.fill("[data-text=intent]", 'Say "now", then: hum # softly')
    page.fill("[data-plan=balls]", "25")
    page.select_option("[data-drill]", "tea tray")


def draw(page: Page, tool: str, first: tuple[float, float], last: tuple[float, float]) -> None:
    clip = page.locator("[data-clip]").first
    clip.locator(f"[data-tool={tool}]").click()
    stage = clip.locator("[data-stage]")
    stage.scroll_into_view_if_needed()
    box = stage.bounding_box()
    assert box is not None
    (x0, y0), (x1, y1) = (
        (box["x"] + x * box["width"], box["y"] + y * box["height"]) for x, y in (first, last)
    )
    page.mouse.move(x0, y0)
    page.mouse.down()
    page.mouse.move((x0 + x1) / 2, (y0 + y1) / 2)
    page.mouse.move(x1, y1)
    page.mouse.up()
