"""Which shots belong to which block, which are left out, and which were mishits."""

import re
from collections.abc import Iterator

from recapgen.intake.blocks import block_in
from recapgen.intake.by_the_clock import check_apart
from recapgen.intake.clock_words import ClockFault, read_clock_span, says_time, turned
from recapgen.intake.form import Form, instead
from recapgen.intake.table.cell_words import block_named
from recapgen.intake.yaml_map import ListNode, MapEntry, MapNode, Node, Scalar, brief
from recapgen.model.clock_marks import ClockMarkKind, ClockSpan, TimedBlock, TimedMark
from recapgen.model.fix import Cut, Offer, Swap, certain, one_of
from recapgen.model.lesson import LeftOut, MishitTag, ShotSpan
from recapgen.model.problem import Code
from recapgen.model.shots import Block
from recapgen.model.source import SourceRef

_SPAN_OF_A_BLOCK = re.compile(
    r"(?P<block>[^\W\d]+(?:[ -][^\W\d]+)*)\s*[:：=]?\s*(?P<first>\d{1,6})"
    r"\s*(?:[-–—~〜～－−‑]|to|bis|à|a)\s*(?P<last>\d{1,6})"
)
_EXAMPLE = "before: 1-10"
HIGHEST_SHOT = 1_000_000
MOST_AT_ONCE = 500
REASON_LENGTH = 120
_SPAN = re.compile(
    r"(?:shots?\s*|#\s*)?(\d{1,7})(?:\s*(?:[-–—~〜～－−‑]|to|\.\.+)\s*(\d{1,7}))?", re.IGNORECASE
)


def read_spans(form: Form) -> tuple[tuple[ShotSpan, ...], tuple[TimedBlock, ...]]:
    """``shots: {before: 7-16, after: 26-37}``; a block may have several spans.

    Or by the clock, ``{before: 10:02-10:11, after: 10:20-10:31}``; never some of each.
    """
    written = form.node("shots")
    if isinstance(written, Scalar):
        told = _without_braces(written.text)
        offers = one_of([Swap(written.where, written.text, told)] if told else ())
        form.report(Code.KEYS_EXPECTED, written.where, offers, key="shots", known=_EXAMPLE)
        return (), ()
    spans: list[ShotSpan] = []
    timed: list[TimedBlock] = []
    above: list[MapEntry] = []
    for entry in form.pairs("shots", _EXAMPLE):
        named = Scalar(entry.key, entry.where, quoted=True)
        if _SPAN.fullmatch(entry.key):
            above.append(entry)
            offers = _in_brackets(above)
            form.report(Code.SPANS_WITHOUT_BRACKETS, entry.where, offers, found=brief(entry.key))
            continue
        above = [entry]
        block = block_in(form, "shots", named)
        if block is None:
            continue
        _read_block(form, block, entry, spans, timed)
    _report_overlaps(form, spans)
    if spans and timed:
        found = brief(timed[0].span.text)  # blocks are told one way or the other
        form.report(Code.SPAN_UNREADABLE, timed[0].span.where, found=found)
        timed = []
    for problem in check_apart(timed):
        form.report(problem.code, problem.where, problem.offers, **problem.facts)
    return tuple(spans), tuple(timed)


def _read_block(
    form: Form, block: Block, entry: MapEntry, spans: list[ShotSpan], timed: list[TimedBlock]
) -> None:
    """The stretches of one block, to whichever list they belong."""
    for words in _parts(form, entry):
        if says_time(words.text):
            by_clock = _clock_span(form, words)
            if by_clock is not None:
                timed.append(TimedBlock(block, by_clock))
            continue
        span = _span(form, words)
        if span is not None:
            spans.append(ShotSpan(block, span[0], span[1], words.where))


def _clock_span(form: Form, words: Scalar) -> ClockSpan | None:
    span = read_clock_span(words)
    if span is ClockFault.BACKWARDS:
        other = turned(words.text)
        found = brief(words.text)
        offers = instead(words, other)
        form.report(Code.SPAN_BACKWARDS, words.where, offers, found=found, turned=other)
    elif span is ClockFault.NO_SUCH_TIME:
        form.report(Code.SPAN_UNREADABLE, words.where, found=brief(words.text))
    return span if isinstance(span, ClockSpan) else None


def _without_braces(text: str) -> dict[str, str]:
    """As "before 1-8, after 9-17" was meant; nothing where any of it may be something else."""
    told: dict[str, str] = {}
    rest = text
    for found in _SPAN_OF_A_BLOCK.finditer(text):
        block = block_named(found["block"])
        if block is None or block.value in told:
            return {}
        told[block.value] = f"{int(found['first'])}-{int(found['last'])}"
        rest = rest.replace(found[0], "", 1)
    return told if not re.search(r"\w", rest) else {}


def _in_brackets(entries: list[MapEntry]) -> tuple[Offer, ...]:
    """The first's block with its own stretch and those behind it that lost their brackets."""
    block, *bare = entries
    if not isinstance(block.value, Scalar):
        return ()
    stretches = (block.value.text.strip(), *(entry.key.strip() for entry in bare))
    whole = Swap(block.value.where, block.value.text, stretches)
    return certain(whole, *(Cut(entry.where) for entry in bare))


def _parts(form: Form, entry: MapEntry) -> Iterator[Scalar]:
    items: tuple[Node, ...] = (entry.value,)
    if isinstance(entry.value, ListNode):
        items = entry.value.items
    for item in items:
        words = form.one(entry.key, item)
        if words is not None and not words.empty:
            for part in words.text.split(","):
                yield Scalar(part.strip(), words.where, words.quoted)


def _span(form: Form, words: Scalar) -> tuple[int, int] | None:
    match = _SPAN.fullmatch(words.text.strip())
    if match is None or int(match[1]) == 0:
        form.report(Code.SPAN_UNREADABLE, words.where, found=brief(words.text))
        return None
    first, last = int(match[1]), int(match[2] or match[1])
    if last < first:
        turned = f"{last}-{first}"
        offers = instead(words, turned)
        form.report(Code.SPAN_BACKWARDS, words.where, offers, found=brief(words.text),
                    turned=turned)  # fmt: skip
        return None
    return first, last


def _report_overlaps(form: Form, spans: list[ShotSpan]) -> None:
    in_order = sorted(spans, key=lambda span: (span.first, span.last))
    reach: ShotSpan | None = None
    for span in in_order:
        if reach is not None and span.first <= reach.last:
            later, other = (span, reach) if _after(span.where, reach.where) else (reach, span)
            form.report(
                Code.SPANS_OVERLAP,
                later.where,
                _apart(reach, span),
                block=later.block,
                other=other.block,
                span=_as_span(later.first, later.last),
                other_span=_as_span(other.first, other.last),
                shared=_as_span(span.first, min(span.last, reach.last)),
            )
        if reach is None or span.last > reach.last:
            reach = span


def _apart(one: ShotSpan, other: ShotSpan) -> tuple[Offer, ...]:
    """The shared shots with the earlier stretch alone, or with the later."""
    ways = []
    if other.last > one.last:
        ways.append((other, one.last + 1, other.last))
    if other.first > one.first and other.last >= one.last:
        ways.append((one, one.first, other.first - 1))
    return one_of(
        Swap(span.where, _as_span(span.first, span.last), _as_span(first, last))
        for span, first, last in ways
    )


def _as_span(first: int, last: int) -> str:
    return str(first) if first == last else f"{first}-{last}"


def _after(one: SourceRef, other: SourceRef) -> bool:
    return (one.line or 0, one.column or 0) >= (other.line or 0, other.column or 0)


def read_marks(form: Form) -> tuple[TimedMark, ...]:
    """Mishits and left-outs by the clock: ``mishits: {10:24: thin}``."""
    return tuple(
        TimedMark(kind, words, span)
        for kind in ClockMarkKind
        for span, words in _by_time(form, kind)
    )


def _by_time(form: Form, key: str) -> Iterator[tuple[ClockSpan, str]]:
    if not isinstance(form.node(key), MapNode):
        return
    for entry in form.pairs(key, "10:24: thin"):
        if not says_time(entry.key):
            continue
        span = _clock_span(form, Scalar(entry.key, entry.where, quoted=True))
        words = form.one(entry.key, entry.value, REASON_LENGTH)
        reason = form.line(entry.key, words) if words else None
        if span is not None and reason is not None:
            yield span, reason
        elif span is not None and words is not None:
            form.report(Code.REASON_MISSING, entry.where, key=key, found=brief(entry.key))


def read_left_out(form: Form) -> tuple[LeftOut, ...]:
    """``left out: {14: phone rang}``: each with the coach's reason."""
    return tuple(LeftOut(shot, reason, where) for shot, reason, where in _by_shot(form, "left out"))


def read_mishits(form: Form) -> tuple[MishitTag, ...]:
    """``mishits: {9: thin, 22: heel}``."""
    return tuple(MishitTag(shot, tag, where) for shot, tag, where in _by_shot(form, "mishits"))


def _by_shot(form: Form, key: str) -> Iterator[tuple[int, str, SourceRef]]:
    node = form.node(key)
    if isinstance(node, (Scalar, ListNode)):
        form.report(Code.REASON_MISSING, node.where, key=key, found=_first(node))
        return
    seen: set[int] = set()
    for entry in form.pairs(key, "14: phone rang"):
        if says_time(entry.key):
            continue
        span = _span(form, Scalar(entry.key, entry.where, quoted=True))
        words = form.one(entry.key, entry.value, REASON_LENGTH)
        reason = form.line(entry.key, words) if words else None
        if span is None or words is None:
            continue
        if reason is None or words.empty:
            form.report(Code.REASON_MISSING, entry.where, key=key, found=brief(entry.key))
            continue
        if span[1] - span[0] >= MOST_AT_ONCE:
            length = {"length": str(span[1] - span[0] + 1), "most": str(MOST_AT_ONCE)}
            form.report(Code.TOO_MANY, entry.where, key=key, **length)
            continue
        for shot in range(span[0], span[1] + 1):
            if shot in seen:
                offers = one_of([Cut(entry.where)] if span[0] == span[1] else ())
                form.report(Code.SHOT_TWICE, entry.where, offers, key=key, shot=str(shot))
            else:
                seen.add(shot)
                yield shot, reason, entry.where


def _first(node: Scalar | ListNode) -> str:
    if isinstance(node, Scalar):
        return brief(node.text)
    first = next((item.text for item in node.items if isinstance(item, Scalar)), "")
    return brief(first)


def block_of(spans: tuple[ShotSpan, ...], shot: int) -> Block | None:
    """The block whose span holds ``shot``."""
    return next((s.block for s in spans if s.first <= shot <= s.last), None)
