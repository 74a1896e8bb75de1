"""What a clip's line says of its pictures: ball, slow, at, mark, blur, face, crop and more."""

from collections.abc import Iterator

from recapgen.golf.written_amounts import read_number
from recapgen.intake.form import Form
from recapgen.intake.spelling import spelling
from recapgen.intake.yaml_map import ListNode, MapNode, Node, Scalar, brief
from recapgen.model.filming import Box, Directions, MarkLine, MarkRing, Pace, Point, Position
from recapgen.model.fix import Cut, one_of
from recapgen.model.problem import Code

DIRECTION_KEYS = ("ball", "slow", "at", "mark", "blur", "face", "crop", "mirror", "download")

_MOMENT_KEYS = spelling("start", "top", "finish", begin="start", takeaway="start", end="finish")
_MARK_KEYS = spelling("line", "ring", "follow", circle="ring")
_SLOW_KEYS = spelling("from", "to", "times", factor="times", start="from", end="to")
_FACE_KEYS = spelling("all along", throughout="all along", fixed="all along")
SPELT_WITHIN_A_CLIP = {
    "at": _MOMENT_KEYS,
    "mark": _MARK_KEYS,
    "slow": _SLOW_KEYS,
    "face": _FACE_KEYS,
}
_FACE_WORDS = {"shown": True}
_SLOWEST = 16
_SHORTEST_SLOW_S = 0.1
_EXAMPLES = {
    "ball": "[0.52, 0.88]",
    "line": "[0.42, 0.55, 0.42, 0.20]",
    "ring": "[0.48, 0.21, 0.06]",
    "follow": "[0.44, 0.16, 0.09, 0.06]",
    "face": "[0.44, 0.16, 0.09, 0.06]",
    "all along": "[0.30, 0.08, 0.40, 0.30]",
    "blur": "[0.00, 0.30, 0.20, 0.45]",
    "crop": "[0.10, 0.00, 0.80, 1.00]",
}
_FOUR, _THREE, _TWO = 4, 3, 2


def read_directions(form: Form, longest_s: float) -> Directions:
    """All of them from one clip's line; what cannot be read is reported and costs the clip."""
    ball = _shares(form, "ball", form.node("ball"), _TWO)
    crop = _box(form, "crop", form.node("crop"))
    mark, follow = _marks(form)
    face = _face(form)
    return Directions(
        ball=Point(*ball) if ball else None,
        slow=_pace(form, longest_s),
        moments=tuple(_moments(form, longest_s)),
        mark=mark,
        blur=tuple(_boxes(form)),
        crop=crop,
        mirror=form.yes_no("mirror") or False,
        download=_download(form),
        follow=follow,
        face=face if isinstance(face, Box) else None,
        face_stays=isinstance(form.node("face"), MapNode),
        face_shown=face is True,
    )


def _pace(form: Form, longest_s: float) -> Pace | None:
    """``slow: 8``, or with the moments between which it plays slowed."""
    if not isinstance(form.node("slow"), MapNode):
        times = form.number("slow", 1, _SLOWEST)
        return None if times is None else Pace(times)
    inner = form.form("slow", _SLOW_KEYS)
    if inner is None or inner.required("times") is None:
        return None
    times = inner.number("times", 1, _SLOWEST)
    from_s = inner.number("from", 0, longest_s, "s") or 0.0
    to_s = inner.number("to", from_s + _SHORTEST_SLOW_S, longest_s, "s")
    return None if times is None else Pace(times, from_s, longest_s if to_s is None else to_s)


def _download(form: Form) -> bool:
    """What is hidden in the film would be seen in the clip."""
    asked = form.yes_no("download") or False
    hides = ", ".join(key for key in ("blur", "crop") if form.has(key))
    if asked and hides:
        where = form.place("download")
        form.report(Code.CLIP_SAVED_UNHIDDEN, where, one_of([Cut(where)]), hidden=hides)
    return asked and not hides


def _moments(form: Form, longest_s: float) -> Iterator[tuple[Position, float]]:
    inner = form.form("at", _MOMENT_KEYS)
    if inner is None:
        return
    for position in (Position.START, Position.TOP, Position.FINISH):
        at_s = inner.number(position, 0, longest_s, "s")
        if at_s is not None:
            yield position, at_s


def _marks(form: Form) -> tuple[MarkLine | MarkRing | None, Box | None]:
    """A line or a ring, and a patch to follow."""
    inner = form.form("mark", _MARK_KEYS)
    if inner is None:
        return None, None
    follow = _box(inner, "follow", inner.node("follow"))
    line = _shares(inner, "line", inner.node("line"), _FOUR)
    if line is not None:
        return MarkLine(Point(line[0], line[1]), Point(line[2], line[3])), follow
    ring = _shares(inner, "ring", inner.node("ring"), _THREE)
    return (None if ring is None else MarkRing(Point(ring[0], ring[1]), ring[2])), follow


def _face(form: Form) -> Box | bool | None:
    """Where the face is, to be followed or all along; True where it may be shown."""
    node = form.node("face")
    if isinstance(node, Scalar):
        return form.meant("face", node, _FACE_WORDS)
    if isinstance(node, MapNode):
        inner = form.inner("face", node, _FACE_KEYS)
        return None if inner is None else _box(inner, "all along", inner.node("all along"))
    return _box(form, "face", node)


def _boxes(form: Form) -> Iterator[Box]:
    """One box, or a list of boxes."""
    node = form.node("blur")
    several = isinstance(node, ListNode) and any(isinstance(item, ListNode) for item in node.items)
    for one in node.items if several and isinstance(node, ListNode) else (node,):
        box = _box(form, "blur", one)
        if box is not None:
            yield box


def _box(form: Form, key: str, node: Node | None) -> Box | None:
    shares = _shares(form, key, node, _FOUR)
    if shares is None or node is None:
        return None
    box = Box(*shares)
    if box.width <= 0 or box.height <= 0 or box.x + box.width > 1 or box.y + box.height > 1:
        _unreadable(form, key, node, shares)
        return None
    return box


def _shares(form: Form, key: str, node: Node | None, count: int) -> list[float] | None:
    """``count`` numbers from 0 to 1."""
    if node is None:
        return None
    items = node.items if isinstance(node, ListNode) else ()
    told = [item.text.strip() for item in items if isinstance(item, Scalar)]
    numbers = [read_number(text) for text in told]
    shares = [number for number in numbers if number is not None and 0 <= number <= 1]
    if len(shares) == len(items) == count:
        return shares
    _unreadable(form, key, node, told)
    return None


def _unreadable(form: Form, key: str, node: Node, told: object) -> None:
    text = node.text if isinstance(node, Scalar) else str(told).replace("'", "")
    form.report(
        Code.CLIP_PLACE_UNREADABLE,
        node.where,
        key=key,
        found=brief(text),
        example=_EXAMPLES[key],
    )
