"""What no longer belongs in the site folder comes down; what we did not make is left alone."""

from collections.abc import Collection
from datetime import date

from recapgen.model.naming import printable
from recapgen.model.problem import Code, Problem
from recapgen.model.public import CASES, FRONT_PAGE
from recapgen.model.source import SourceRef
from recapgen.privacy.addresses import looks_like_address
from recapgen.publish.emptying import clear_emptied, empty_out, is_emptied
from recapgen.publish.output import Output
from recapgen.publish.swap import take_down

_OURS = frozenset({FRONT_PAGE, "assets", CASES})


def is_ours(name: str) -> bool:
    """Can ``name`` be something that a build put directly into ``site``?"""
    return name in _OURS or looks_like_address(name)


def clear_strays(
    output: Output, keep: Collection[str], language: str, today: date
) -> tuple[Problem, ...]:
    """Take down everything of ours in ``site`` that is not among ``keep``; name the rest.

    ``keep`` are the names that belong: the card's, the cases' and every address still in use.
    Ours is known by its name alone, so a lost build state leaves nobody's pages up. Where a
    student's site was, what empties phones stays for a year, its one line in ``language``.
    Raises OSError.
    """
    strange = []
    for entry in sorted(output.site.iterdir()):
        if entry.name in keep or entry.name == ".DS_Store":
            continue
        if looks_like_address(entry.name) and entry.is_dir():
            if is_emptied(entry):
                clear_emptied(output, entry.name, today)
            else:
                empty_out(output, entry.name, language, today)
        elif is_ours(entry.name):
            take_down(entry, output.staging)
        else:
            strange.append(printable(entry.name))
    return tuple(Problem(Code.STRANGE_IN_SITE, SourceRef(""), {"found": name}) for name in strange)
