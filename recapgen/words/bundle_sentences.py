"""What is said of a published site that was put into one file."""

from recapgen.model.public import Bundle
from recapgen.words.catalogue import Words


def bundle_line(bundle: Bundle, words: Words) -> str:
    """Whose it is, what it weighs, and who can read it."""
    key = "locked" if bundle.locked else "open"
    size = f"{bundle.size_bytes / 1e6:.1f}"
    return f"{bundle.student}: {words.count(f'console.bundle.{key}', bundle.files, size=size)}"
