"""The filming sheet of the coach's book: one page for the bag, where the phone stands."""

from recapgen.model.page import Page
from recapgen.render.environment import fill
from recapgen.words.catalogue import Words

FILMING_PAGE = "filming.html"
_PLACE = ("height", "distance", "level", "whole", "mark", "clear")
_PHONE = ("format", "rate", "light", "sound", "clock")
_AFTER = ("still", "trim", "original")


def filming_page(words: Words) -> Page:
    title = words.say("book.filming.title")
    return Page(
        path=FILMING_PAGE,
        title=title,
        body=fill(
            "book/pages/filming.html.jinja",
            words,
            title=title,
            lists=(("place", _PLACE), ("phone", _PHONE), ("after", _AFTER)),
        ),
    )
