"""A site that changes with the program alone: built once, kept, and unpacked where it belongs."""

from pathlib import Path
from zipfile import ZipFile

from recapgen.model.page import Site
from recapgen.publish.build_state import recipe
from recapgen.publish.site_builder import build_site
from recapgen.tools.cache import Cache, key_for
from recapgen.tools.leftovers import temporary_folder
from recapgen.tools.walking import files_below

_PACKED = "site.zip"


def unpack_site(site: Site, into: Path, template: Path, cache: Cache) -> None:
    """Put ``site`` into the folder ``into``, from the cache where this version built it before.

    Raises OSError where the disk fails.
    """

    def make(entry: Path) -> None:
        with temporary_folder() as built, ZipFile(entry / _PACKED, "w") as packed:
            build_site(site, built, template)
            for file in sorted(files_below(built)):
                packed.write(file, file.relative_to(built).as_posix())

    key = key_for("site", recipe(template), repr(site))
    with ZipFile(cache.find_or_make(key, make) / _PACKED) as packed:
        packed.extractall(into)
