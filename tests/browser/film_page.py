"""A page with one film on it, and the plainest of servers to read it from."""

import functools
import http.server
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from recapgen.model.page import SiteKind
from recapgen.publish.policy import guarded
from recapgen.publish.scripts import joined_script
from recapgen.render.film_view import FilmStop, FilmView, Strip
from recapgen.tools.template_folder import template_folder
from recapgen.words.catalogue import words

FPS, FRAMES, STRIKE = 60, 90, 50


PAIR = FilmView(
    video="film.mp4",
    poster="strike.webp",
    fps=FPS,
    frames=FRAMES,
    impact_frame=STRIKE,
    width=540,
    height=480,
    two_sided=True,
    then_caption="Shot 12",
    now_caption="Shot 31",
    heading="Face <b>on</b>",
    guess_note="",
    notes=(),
    strips=(Strip("strip.webp", "then", "The swing"),),
    positions=(FilmStop("top", 30), FilmStop("strike", STRIKE)),
    named=(FilmStop("top", 30), FilmStop("impact", STRIKE)),
    moments_note="Estimated.",
    tempo=(),
    ticks=((28, "before"), (30, "after")),
    marks=("M100 50L100 400",),
    downloads=(),
)


SHEETS = (
    "letters.css",
    "card.css",
    "lesson.css",
    "contents.css",
    "paper.css",
    "film.css",
    "film_keys.css",
)


def page_with(view: FilmView) -> str:
    template = Environment(
        loader=FileSystemLoader(template_folder()), autoescape=True, undefined=StrictUndefined
    ).from_string('{% from "parts/film.html.jinja" import film %}{{ film(view, say) }}')
    skeleton = (
        '<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Film</title>'
        '<meta name="viewport" content="width=device-width">'
        '<link rel="icon" href="data:,">%s<script src="film.js" defer></script></head>'
        "<body><main class=card><div class=take>%s</div></main></body></html>"
    )
    body = template.render(view=view, say=words("en").say)
    links = "".join(f'<link rel="stylesheet" href="{name}">' for name in SHEETS)
    return guarded(skeleton, SiteKind.STUDENT) % (links, body)


def lay_out(folder: Path, view: FilmView) -> Path:
    """The page and its own files into ``folder``, where the film is already."""
    own = [template_folder() / "css" / name for name in SHEETS]
    for source in (*own, *template_folder().glob("fonts/*.woff2")):
        (folder / source.name).write_bytes(source.read_bytes())
    (folder / "film.js").write_text(joined_script(template_folder(), "film"), encoding="utf-8")
    page = folder / "index.html"
    page.write_text(page_with(view), encoding="utf-8")
    return page


class NoRanges(http.server.SimpleHTTPRequestHandler):
    """As the plainest servers are: a file is sent whole or not at all."""

    def log_message(self, *_: object) -> None:
        pass


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """The address of ``folder`` on a server of this machine without ranges."""
    handler = functools.partial(NoRanges, directory=str(folder))
    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler)
    thread = threading.Thread(target=server.serve_forever)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_port}/"
    finally:
        server.shutdown()
        thread.join()
        server.server_close()
