"""What a page says of itself, asks of others or fails to get, for a test to find nothing in."""

from playwright.sync_api import ConsoleMessage, Page, Request

GIVEN_UP = "net::ERR_ABORTED"  # by the browser, when the page was left before an answer came


def heard(page: Page, *, own: tuple[str, ...] = ("file:", "data:")) -> list[str]:
    """A list that fills while the page is used; it may ask only addresses that begin with `own`."""
    faults: list[str] = []

    def told(message: ConsoleMessage) -> None:
        if message.type != "log":
            faults.append(message.text)

    def asked(request: Request) -> None:
        if not request.url.startswith(own):
            faults.append(f"outside: {request.url}")

    def failed(request: Request) -> None:
        if request.failure != GIVEN_UP:
            faults.append(f"{request.failure}: {request.url}")

    page.on("console", told)
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.on("request", asked)
    page.on("requestfailed", failed)
    return faults
