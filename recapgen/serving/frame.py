"""The frame of ``recapgen watch``: news on top, and a published page below."""

from collections.abc import Mapping, Sequence
from pathlib import Path

from markupsafe import Markup

from recapgen.model.news import News

_HERE = Path(__file__).parent
FRAME_FILES = {name: (_HERE / name).read_text("utf-8") for name in ("frame.css", "frame.js")}
_PAGE = Markup((_HERE / "frame.html").read_text("utf-8"))  # noqa: S704  a file of ours
_LINK = Markup('<a class="waiting" hidden href="{folder}/" target="page">{label}</a>')


def frame_page(labels: Mapping[str, str], news: News, folders: Sequence[str]) -> str:
    """The frame, with a link to the front page of each folder; the last one is shown first."""
    links = Markup("\n").join(_LINK.format(folder=each, label=labels[each]) for each in folders)
    return str(_PAGE.format(**labels, links=links, start=folders[-1], build=news.build))
