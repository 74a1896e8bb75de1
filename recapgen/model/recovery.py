"""What a coach keeps on paper against the loss of a computer."""

from msgspec import Struct


class RecoverySlip(Struct, frozen=True):
    """``words`` give the secret, ``locks`` are lines for the locks that it does not give alone.

    ``by_files`` are folders whose link or lock comes back only with the files in ``.recapgen``.
    """

    words: tuple[str, ...]
    locks: tuple[str, ...]
    by_files: tuple[str, ...]


class Recovered(Struct, frozen=True):
    """``new`` is False where the same secret was there; so many ``locks`` were made again."""

    new: bool
    locks: int
    build: str
