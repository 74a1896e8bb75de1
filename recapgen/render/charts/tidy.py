"""Make a chart's SVG fit to stand inside a page.

The converter writes a document for a page of its own: its own ids, roles on every mark,
empty grounds, long decimals. Inside a recap the picture is one image with a title and a
description, sized by the page, with no style and no address from outside.
"""

import re
from itertools import pairwise
from xml.etree import ElementTree as ET

_SVG = "{http://www.w3.org/2000/svg}"
_LONG = re.compile(r"-?\d+\.\d{2,}")
_MOVE = re.compile(r"^translate\(([-\d.]+),\s*([-\d.]+)\)$")
_LINES = re.compile(r"^M[-\d.,]+(L[-\d.,]+)+$")
_CIRCLE = re.compile(r"^M([\d.]+),0A\1,\1,0,1,1,-\1,0A\1,\1,0,1,1,\1,0$")
_DROPPED = ("role", "aria-", "class", "pointer-events", "style")
_NO_OP = {
    ("opacity", "1"),
    ("fill", "none"),
    ("stroke-miterlimit", "10"),
    ("transform", "translate(0,0)"),
    ("font-family", "inherit"),
}
_HATCH = (
    '<defs><pattern id="{uid}-h" width="7" height="7" patternUnits="userSpaceOnUse" '
    'patternTransform="rotate(45)"><path d="M0 0V7" stroke="var(--hatch)" stroke-width="1.2"/>'
    "</pattern></defs>"
)
HATCH_FILL = "url(#hatch)"


def tidy(svg: str, uid: str, title: str, description: str) -> str:
    """``svg`` as an inline image; every id starts with ``uid``.

    Raises ``xml.etree.ElementTree.ParseError`` if ``svg`` is no well-formed document.
    """
    root = ET.fromstring(svg)  # noqa: S314 (our own converter's output, no entities in it)
    view = _LONG.sub(_rounded, root.attrib["viewBox"])
    inner = "".join(_write(child, uid) for child in root)
    hatch = _HATCH.format(uid=uid) if f"url(#{uid}-h)" in inner else ""
    return (
        f'<svg class="chart" viewBox="{view}" role="img" fill="none" '
        f'aria-labelledby="{uid}-t {uid}-d">'
        f'<title id="{uid}-t">{escaped(title)}</title>'
        f'<desc id="{uid}-d">{escaped(description)}</desc>{hatch}{inner}</svg>'
    )


def _write(element: ET.Element, uid: str) -> str:
    if element.attrib.get("class") in ("background", "foreground"):
        return ""
    name = element.tag.removeprefix(_SVG)
    attributes = _attributes(element, uid)
    inner = escaped(element.text or "") + "".join(_write(child, uid) for child in element)
    if name == "g" and not inner:
        return ""
    if name == "g" and not attributes:
        return inner
    if name == "path":
        name, attributes = _shortened(attributes)
    written = "".join(f' {key}="{escaped(value)}"' for key, value in attributes.items())
    return f"<{name}{written}>{inner}</{name}>" if inner else f"<{name}{written}/>"


def _attributes(element: ET.Element, uid: str) -> dict[str, str]:
    kept: dict[str, str] = {}
    for key, value in element.attrib.items():
        if key.startswith(_DROPPED) or (key, value) in _NO_OP:
            continue
        shown = f"url(#{uid}-h)" if value == HATCH_FILL else value
        kept[key] = _LONG.sub(_rounded, shown) if key != "fill" else shown
    return kept


def _shortened(attributes: dict[str, str]) -> tuple[str, dict[str, str]]:
    """A round path as the circle that it is; a drawn line by its steps, which are short."""
    drawn = attributes.get("d", "")
    if _LINES.match(drawn):
        return "path", {**attributes, "d": _stepped(drawn)}
    circle = _CIRCLE.match(drawn)
    move = _MOVE.match(attributes.get("transform", ""))
    if circle is None or move is None:
        return "path", attributes
    rest = {k: v for k, v in attributes.items() if k not in ("d", "transform")}
    return "circle", {"cx": move[1], "cy": move[2], "r": circle[1], **rest}


def _stepped(lines: str) -> str:
    """The same line in relative steps of whole tenths, so that rounding does not add up."""
    tenths = [[round(10 * float(at)) for at in point.split(",")] for point in lines[1:].split("L")]
    steps = " ".join(
        f"{(x - from_x) / 10:g},{(y - from_y) / 10:g}"
        for (from_x, from_y), (x, y) in pairwise(tenths)
    )
    return f"{lines[: lines.index('L')]}l{steps}"


def _rounded(match: re.Match[str]) -> str:
    short = f"{float(match.group()):.1f}".rstrip("0").rstrip(".")
    return "0" if short == "-0" else short


def escaped(text: str) -> str:
    """``text`` for inside an element or a quoted attribute."""
    return (
        text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;").replace('"', "&quot;")
    )
