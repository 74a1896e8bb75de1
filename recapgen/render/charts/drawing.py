"""Pictures drawn as inline SVG, by the converter that Altair comes with.

Both are loaded only when something has to be drawn: what was drawn before, in this build or an
earlier one, is found again by what went into it.
"""

import json
from functools import cache, partial
from importlib.metadata import version
from pathlib import Path

from recapgen.render.charts import specification
from recapgen.render.charts.chart_parts import Dot, Picture
from recapgen.render.charts.specification import Filling, filled, filling
from recapgen.render.charts.tidy import escaped, tidy
from recapgen.tools.cache import Cache, digest_of_file, key_for


def draw(
    picture: Picture, uid: str, title: str, description: str, kept: Cache | None = None
) -> str:
    """The picture as SVG for inside a page; ``uid`` is unique on that page.

    ``kept`` is where finished drawings are; without it each is drawn anew.
    """
    put_in = filling(picture)
    convert = partial(_converted, put_in)
    svg = kept.find_or_make_text(_key(put_in), convert) if kept is not None else convert()
    return _with_shots(tidy(svg, uid, title, description), picture.dots)


def _converted(put_in: Filling) -> str:
    import vl_convert  # noqa: PLC0415 (a tenth of a second that most runs do not need)

    return str(vl_convert.vega_to_svg(filled(put_in)))


def _key(put_in: Filling) -> str:
    """What the drawing hangs on: the specification, by its source, its libraries, the data."""
    told = json.dumps([put_in.width, put_in.height, put_in.parameters, put_in.tables])
    return key_for("picture", *_made_by(), told)


@cache
def _made_by() -> tuple[str, ...]:
    source = digest_of_file(Path(specification.__file__))
    return (source, *(f"{name} {version(name)}" for name in ("altair", "vl-convert-python")))


def _with_shots(svg: str, dots: tuple[Dot, ...]) -> str:
    """Names the shot on each circle; the converter draws circles in the order given."""
    before, *circles = svg.split("<circle ")
    if len(circles) != len(dots):
        raise ValueError(f"{len(dots)} dots became {len(circles)} circles")
    marked = [
        f'<circle data-shot="{escaped(dot.told)}" '
        + (f'data-clip="{dot.film}" ' if dot.film else "")
        + circle
        if dot.told
        else f"<circle {circle}"
        for dot, circle in zip(dots, circles, strict=True)
    ]
    return before + "".join(marked)
