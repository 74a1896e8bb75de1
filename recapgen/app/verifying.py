"""``verify``: whether a copy of what was published is still what a build made."""

from pathlib import Path

from recapgen.model.problem import Checked
from recapgen.model.verified import SiteVerified
from recapgen.publish.published_copy import verify_copy


def verify(copy: Path, key: str | None) -> Checked[tuple[SiteVerified, ...]]:
    """What became of each signed site in the folder or zip ``copy``.

    A damaged list, or one that another ``key`` than the given one signed, is a problem.
    """
    return verify_copy(copy, key)
