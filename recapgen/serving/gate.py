"""Which requests are answered: the right Host, the secret token in the path, GET or HEAD alone.

Where notes may be saved, POST as well, from a page of ours and no other.
"""

from collections.abc import Sequence
from email.message import Message
from hmac import compare_digest
from http import HTTPStatus
from urllib.parse import unquote_to_bytes

from msgspec import Struct

READING = ("GET", "HEAD")
WRITING = "POST"
MOST_SENT_BYTES = 4_000_000
_OUR_OWN = ("same-origin", "none")  # a link of our pages, or an address somebody typed
_SAME, _LENGTH, _SENT_AS = "same-origin", "Content-Length", "application/json"
_OF_A_BODY = (_LENGTH, "Transfer-Encoding")
_LONGEST_NAME = 255


class Gate(Struct, frozen=True):
    """``host`` is the one name and port by which these pages may be asked for.

    A page elsewhere that has its own name lead here (DNS rebinding) still asks by that name.
    """

    host: str
    token: str
    writes: bool = False

    def refuses(self, method: str, headers: Message) -> HTTPStatus | None:
        """The status to refuse a request with; None where it is to be answered."""
        if method == WRITING and self.writes:
            return self._refuses_to_write(headers)
        faults = (
            (headers.get_all("Host") != [self.host], HTTPStatus.MISDIRECTED_REQUEST),
            (headers.get("Origin", self.origin) != self.origin, HTTPStatus.FORBIDDEN),
            (headers.get("Sec-Fetch-Site", "none") not in _OUR_OWN, HTTPStatus.FORBIDDEN),
            (method not in READING, HTTPStatus.METHOD_NOT_ALLOWED),
            (any(name in headers for name in _OF_A_BODY), HTTPStatus.BAD_REQUEST),
            # It would keep pages on the phone, and go on showing them as they were.
            ("Service-Worker" in headers, HTTPStatus.FORBIDDEN),
        )
        return next((status for is_met, status in faults if is_met), None)

    def _refuses_to_write(self, headers: Message) -> HTTPStatus | None:
        """A page elsewhere can send no JSON without asking first, and nobody answers that."""
        length = headers.get("Content-Length", "")
        counted = length.isascii() and length.isdigit() and len(headers.get_all(_LENGTH, [])) == 1
        faults = (
            (headers.get_all("Host") != [self.host], HTTPStatus.MISDIRECTED_REQUEST),
            (headers.get_all("Origin") != [self.origin], HTTPStatus.FORBIDDEN),
            (headers.get("Sec-Fetch-Site", _SAME) != _SAME, HTTPStatus.FORBIDDEN),
            (headers.get("Content-Type") != _SENT_AS, HTTPStatus.UNSUPPORTED_MEDIA_TYPE),
            ("Transfer-Encoding" in headers or not counted, HTTPStatus.LENGTH_REQUIRED),
            (counted and int(length) > MOST_SENT_BYTES, HTTPStatus.REQUEST_ENTITY_TOO_LARGE),
        )
        return next((status for is_met, status in faults if is_met), None)

    def path_asked(self, target: str) -> tuple[str, ...] | None:
        """The names below the token in a request's ``target``; None where it may not be followed.

        A folder's own address ends with an empty name.
        """
        path = target.partition("?")[0]
        if not path.startswith("/") or "#" in path:
            return None
        token, *names = path[1:].split("/")
        if not compare_digest(token.encode(), self.token.encode()) or not names:
            return None
        return _followed(names)

    @property
    def origin(self) -> str:
        return f"http://{self.host}"


def _followed(names: Sequence[str]) -> tuple[str, ...] | None:
    known = [name for each in names if (name := _name(each)) is not None]
    return tuple(known) if len(known) == len(names) and all(known[:-1]) else None


def _name(written: str) -> str | None:
    """One name as it is in a folder; None for what could lead elsewhere or is hidden."""
    try:
        name = unquote_to_bytes(written).decode("utf-8")
    except UnicodeDecodeError:
        return None
    leads_elsewhere = name.startswith(".") or any(c in '/\\:*?"<>|' for c in name)
    if leads_elsewhere or not all(c.isprintable() for c in name) or len(name) > _LONGEST_NAME:
        return None
    return name
