"""What is told before somebody is forgotten, and what the receipt says: nobody's name in it."""

from collections.abc import Iterator

from recapgen.model.receipt import ForgetStudent, Receipt, StudentTrace, TraceKind
from recapgen.words.catalogue import Words

_FOR_THE_COACH = ("host", "backups", "messages", "public", "others")


def what_goes(question: ForgetStudent, words: Words) -> tuple[str, ...]:
    """All that is to be erased, a line each, and that there is no way back."""
    traces = tuple(f"  {_line(trace, words)}" for trace in question.traces)
    shared = (words.say("forget.shared", file=file) for file in question.shared)
    elsewhere = (words.say("forget.elsewhere", file=file) for file in question.elsewhere)
    own = words.say("forget.folder-stays", folder=question.folder)
    return (
        words.say("forget.list", folder=question.folder),
        *traces,
        *shared,
        *elsewhere,
        *((own,) if question.stays else ()),
        words.say("forget.for-good"),
    )


def receipt_lines(receipt: Receipt, words: Words) -> tuple[str, ...]:
    """What was erased, how much of it and when."""
    day = receipt.on.isoformat()
    return (words.say("forget.receipt", number=receipt.number, day=day), *_erased(receipt, words))


def left_to_do(words: Words, folder: str | None) -> tuple[str, ...]:
    """What only the coach can do; ``folder`` is the student's own where it still lies."""
    own = () if folder is None else (words.say("forget.left.folder", folder=folder),)
    rest = (words.say(f"forget.left.{what}") for what in _FOR_THE_COACH)
    return (words.say("forget.left"), *(f"- {line}" for line in (*own, *rest)))


def receipt_text(receipt: Receipt, words: Words, *, left: bool) -> str:
    """The receipt as a file, from which nobody can tell whose it is."""
    folder = words.say("forget.left.a-folder") if left else None
    lines = [
        *receipt_lines(receipt, words),
        "",
        *left_to_do(words, folder),
        "",
        words.say("forget.nameless"),
    ]
    return "\n".join(lines) + "\n"


def _erased(receipt: Receipt, words: Words) -> Iterator[str]:
    for kind in TraceKind:
        count = receipt.erased.get(kind, 0)
        if count:
            yield f"  {words.count(f'forget.what.{kind.value}', count)}"


def _line(trace: StudentTrace, words: Words) -> str:
    return f"{words.count(f'forget.what.{trace.kind.value}', trace.count)}: {trace.place}"
