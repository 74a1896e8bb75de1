"""What stands above the pages while the lessons are watched."""

from msgspec import Struct


class News(Struct, frozen=True):
    """Finished sentences, escaped by nobody yet.

    A page is loaded anew when ``build`` grows; at 0 there is none to show.
    ``problem`` is the newest one (its place and what is said of it), ``lines`` are what may be
    pasted; ``pages`` are names with the paths of their pages below the output.
    """

    build: int
    state: str
    problem: tuple[str, ...] = ()
    lines: tuple[str, ...] = ()
    more: str = ""
    pages: tuple[tuple[str, str], ...] = ()
