"""Where a phone in the same network finds this computer."""

import socket
from io import StringIO
from ipaddress import ip_address

import segno

_ELSEWHERE = ("192.0.2.1", 9)  # an address kept for examples (RFC 5737); nothing is sent to it


def local_ip() -> str | None:
    """The address of this computer in its local network.

    None where it is in none, or where its address is one of the whole internet's.
    """
    try:
        with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
            asking.connect(_ELSEWHERE)
            found = ip_address(asking.getsockname()[0])
    except OSError:
        return None
    inside = found.is_private and not found.is_loopback and not found.is_unspecified
    return str(found) if inside else None


def code_of(address: str) -> str:
    """``address`` as a QR code of half blocks, dark where the window is."""
    drawn = StringIO()
    segno.make(address, micro=False).terminal(drawn, compact=True, border=2)
    return drawn.getvalue()
