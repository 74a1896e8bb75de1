"""The recovery slip as it is printed: numbered words, lines for locks, and how to keep it."""

from collections.abc import Iterator

from recapgen.model.recovery import Recovered, RecoverySlip
from recapgen.words.catalogue import Words

_IN_A_ROW = 3
_WIDEST = 8  # letters of a word
_OWN_WORDS = "/ own /"


def slip_lines(slip: RecoverySlip) -> Iterator[str]:
    """The words, a few in a row, then a line for each lock."""
    numbered = [f"{number:2} {word:{_WIDEST}}" for number, word in enumerate(slip.words, 1)]
    for at in range(0, len(numbered), _IN_A_ROW):
        yield "   ".join(numbered[at : at + _IN_A_ROW]).rstrip()
    yield from slip.locks


def about_slip(slip: RecoverySlip, words: Words) -> Iterator[str]:
    """What to do with it, and what it cannot bring back."""
    yield words.say("console.slip.keep")
    yield words.say("console.slip.recover")
    if any(_OWN_WORDS in line for line in slip.locks):
        yield words.say("console.slip.own")
    if slip.by_files:
        yield words.say("console.slip.by-files", folders=words.listed(slip.by_files))


def recovered_line(told: Recovered, words: Words) -> str:
    """What is back, and what comes next."""
    key = "new" if told.new else "same"
    return words.count(f"console.recovered.{key}", told.locks, build=told.build)
