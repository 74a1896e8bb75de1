"""A part of all students: some that are named, or one of several equal shards."""

from collections.abc import Sequence
from difflib import get_close_matches

from msgspec import Struct

from recapgen.app.consent_first import ConsentNow
from recapgen.model.naming import folded
from recapgen.model.problem import Checked, Code, Problem
from recapgen.model.source import SourceRef
from recapgen.publish.shards import KeptShard


class Shard(Struct, frozen=True):
    """Of all students, in the order of their folders, every ``of``-th, beginning at ``number``."""

    number: int  # from 1
    of: int

    def __str__(self) -> str:
        return f"{self.number}/{self.of}"


class Scope(Struct, frozen=True):
    """What a build is to make: everything, the sites of those ``only``, or of one ``shard``.

    Everything may begin with what ``joined`` shares made.
    """

    only: tuple[str, ...] = ()
    shard: Shard | None = None
    joined: tuple[KeptShard, ...] = ()

    @property
    def is_some(self) -> bool:
        return bool(self.only) or self.shard is not None


EVERYTHING = Scope()


class Chosen(Struct, frozen=True):
    """Whose sites are made, and whose recaps are looked at on the way."""

    keys: frozenset[str]
    needed: tuple[ConsentNow, ...]


def choose(
    consents: Sequence[ConsentNow], only: Sequence[str], shard: Shard | None
) -> Checked[Chosen]:
    """The students whom ``only`` names, by folder or shown name, or those of a ``shard``.

    A shard knows of its own students' cases alone: who joins the shards makes every link.
    """
    if shard is not None:
        keys = sorted(consent.paths.key for consent in consents)
        own = frozenset(keys[shard.number - 1 :: shard.of])
        return Checked(Chosen(own, tuple(c for c in consents if c.paths.key in own)), ())
    found, problems = set(), []
    for name in only:
        named = {c.paths.key for c in consents if folded(name) in _names(c)}
        found |= named
        if not named:
            problems.append(_unknown(name, consents))
    if problems:
        return Checked(None, tuple(problems))
    return Checked(Chosen(frozenset(found), tuple(consents)), ())


def _names(consent: ConsentNow) -> set[str]:
    return {folded(consent.paths.key), folded(consent.student.name)}


def _unknown(name: str, consents: Sequence[ConsentNow]) -> Problem:
    known = [consent.paths.key for consent in consents]
    near = get_close_matches(name, known, n=3, cutoff=0.4) or known[:3]
    facts = {"found": name, "near": ", ".join(near)}
    return Problem(Code.STUDENT_NOT_KNOWN, SourceRef(""), facts)
