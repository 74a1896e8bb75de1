"""What ``recapgen verify`` says of a site: whole or not, file by file."""

from recapgen.model.verified import SiteVerified
from recapgen.words.catalogue import Words

_GROUP = 8


def verified_lines(site: SiteVerified, words: Words) -> list[str]:
    """First the answer and which build it was, then every file that is other."""
    whole = "whole" if site.is_whole else "other"
    lines = [words.count(f"verify.{whole}", site.files, folder=site.folder)]
    lines.append(words.say("verify.build", program=site.program, build=site.build))
    for kind, paths in (
        ("changed", site.changed),
        ("missing", site.missing),
        ("added", site.added),
    ):
        lines += [words.say(f"verify.{kind}", path=path) for path in paths]
    return lines


def key_in_groups(key: str) -> str:
    """A public key as it is shown, in groups that can be compared by eye."""
    return " ".join(key[at : at + _GROUP] for at in range(0, len(key), _GROUP))
