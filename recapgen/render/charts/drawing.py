"""Pictures drawn as inline SVG, by the converter that Altair comes with.

Both are loaded only when something has to be drawn: a run that changes nothing is quick.
"""

from recapgen.render.charts.picture import Dot, Picture
from recapgen.render.charts.specification import filled, filling
from recapgen.render.charts.tidy import escaped, tidy


def draw(picture: Picture, uid: str, title: str, description: str) -> str:
    """The picture as SVG for inside a page; ``uid`` is unique on that page."""
    import vl_convert  # noqa: PLC0415 (a tenth of a second that most runs do not need)

    svg = tidy(vl_convert.vega_to_svg(filled(filling(picture))), uid, title, description)
    return _with_shots(svg, picture.dots)


def _with_shots(svg: str, dots: tuple[Dot, ...]) -> str:
    """Each circle told which shot it is: the converter draws them in the order given."""
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
