"""What a page fetches from other sites, or sends to them."""

import re
from collections.abc import Iterable

from recapgen.tools.html_reading import ReadPage


def fetched_outside(page: ReadPage) -> Iterable[str]:
    for pointer in page.pointers:
        if outside(pointer.address):
            plain = pointer.address.lower().startswith(("https://", "http://", "mailto:", "tel:"))
            told_on = pointer.address.lower().startswith("http") and not pointer.private
            if not pointer.followed or not plain or told_on:
                yield pointer.address


def outside(address: str) -> bool:
    """Does it leave the site? A picture written into the page itself (data:) does not."""
    compact = re.sub(r"[\x00-\x20]+", "", address).lower()
    leaves = re.match(r"[a-z][a-z0-9+.-]*:|//|\\\\|/\\|\\/", compact) is not None
    return leaves and not compact.startswith(("data:image/", "data:,", "data:font/"))
