"""Where a phone finds this computer, and the picture of that address."""

import errno
import socket
from collections.abc import Callable
from typing import Self

import pytest

from recapgen.serving.phone import code_of, local_ip


@pytest.mark.parametrize(
    ("found", "told"),
    [("192.168.1.7", "192.168.1.7"), ("8.8.8.8", None), ("127.0.0.1", None), (None, None)],
)
def test_a_phone_is_served_in_the_local_network_alone(
    found: str | None, told: str | None, set_ip: Callable[[str | None], None]
) -> None:
    set_ip(found)
    assert local_ip() == told


@pytest.fixture
def set_ip(monkeypatch: pytest.MonkeyPatch) -> Callable[[str | None], None]:
    """Have the system tell this address as the one by which it would ask others."""

    class Asking:
        ip: str | None = None

        def __init__(self, *_: object) -> None: ...
        def __enter__(self) -> Self:
            return self

        def __exit__(self, *_: object) -> None: ...
        def connect(self, _: object) -> None:
            if self.ip is None:
                raise OSError(errno.ENETUNREACH, "Network is unreachable")

        def getsockname(self) -> tuple[str | None, int]:
            return self.ip, 1

    monkeypatch.setattr(socket, "socket", Asking)
    return lambda ip: setattr(Asking, "ip", ip)


def test_the_code_is_square_with_room_around_it() -> None:
    lines = code_of("http://192.168.1.20:41234/AbCdEfGhIjKlMnOpQrStUv/").splitlines()
    drawn = [line for line in lines if line]
    assert {len(line) for line in drawn} == {33}  # 29 modules, and two on each side
    assert len(drawn) == 17
    assert set("".join(drawn)) == set("█▀▄ ")
    assert code_of("http://192.168.1.20:41234/other/") != "\n".join(lines)
