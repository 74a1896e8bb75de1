"""The coach's mark: one small file of each site, shown in the foot of its pages."""

from recapgen.model.page import Asset
from recapgen.model.people import Coach

MARK_PATH = "assets/coach.webp"


def mark_assets(coach: Coach) -> tuple[Asset, ...]:
    return (Asset(MARK_PATH, coach.mark_picture.path),) if coach.mark_picture else ()
