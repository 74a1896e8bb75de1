"""What became of a published site since it was signed."""

from msgspec import Struct


class SiteVerified(Struct, frozen=True):
    """The site of ``folder``, as ``program`` made it in ``build``, against what lies there now.

    ``build`` is a number made of the very files: the same files are the same build. Paths are
    those below what was looked at.
    """

    folder: str
    program: str
    build: str
    key: str
    files: int
    changed: tuple[str, ...]
    missing: tuple[str, ...]
    added: tuple[str, ...]

    @property
    def is_whole(self) -> bool:
        """Whether every file is there and as it was, and no other."""
        return not (self.changed or self.missing or self.added)
