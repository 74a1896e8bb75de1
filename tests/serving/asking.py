"""A request as any program may send it, with nothing put right on the way."""

import socket
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit

from recapgen.model.news import News
from recapgen.model.notes_sent import SheetDesk
from recapgen.serving.page_host import PageHost, hosting
from recapgen.words.catalogue import words
from recapgen.words.watch_sentences import frame_labels

HERE = "127.0.0.1"


@dataclass(frozen=True, slots=True)
class Answer:
    """Header names are in lower case."""

    status: int
    headers: Mapping[str, str]
    body: bytes


@contextmanager
def shown(
    folders: Mapping[str, Path], news: News | None = None, sheets: SheetDesk | None = None
) -> Iterator[PageHost]:
    """A host of these folders on this computer."""
    told = news or News(1, "Built at 10:21")
    host = PageHost(HERE, folders, frame_labels(words("en")), told, sheets)
    with hosting(host):
        yield host


def ask(host: PageHost, path: str, method: str = "GET", **headers: str) -> Answer:
    """``path`` is below the token.

    An underscore in the name of a header stands for a hyphen; an empty one is not sent.
    """
    return ask_for(host, urlsplit(host.address).path + path, method, **headers)


def ask_for(host: PageHost, target: str, method: str = "GET", **headers: str) -> Answer:
    """The same for all of a request's target."""
    return send_to(host, target, method, headers, b"")


def send_to(
    host: PageHost, target: str, method: str, headers: Mapping[str, str], body: bytes
) -> Answer:
    """The same with a ``body``."""
    at = urlsplit(host.address)
    sent = {"Host": at.netloc, "Connection": "close"}
    sent |= {name.replace("_", "-"): value for name, value in headers.items()}
    lines = [f"{method} {target} HTTP/1.1", *(f"{n}: {v}" for n, v in sent.items() if v), "", ""]
    with socket.create_connection((HERE, host.server_port), timeout=30) as line:
        line.sendall("\r\n".join(lines).encode("utf-8", "surrogateescape") + body)
        with line.makefile("rb") as answer:
            return parsed(answer.read())


def parsed(answer: bytes) -> Answer:
    head, _, body = answer.partition(b"\r\n\r\n")
    first, *rest = head.decode("latin-1").split("\r\n")
    headers = {}
    for each in rest:
        name, _, value = each.partition(": ")
        assert name.lower() not in headers, f"{name} is said twice"
        headers[name.lower()] = value
    return Answer(int(first.split()[1]), headers, body)
