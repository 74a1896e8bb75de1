"""What each kind of intent may ask more of, from the reviewed table of the safety rules."""

from collections.abc import Mapping

from recapgen.model.lesson import IntentKind
from recapgen.model.people import Area

_BENT_OVER = frozenset({Area.LOW_BACK, Area.NECK})

ASKS_MORE_OF: Mapping[IntentKind, frozenset[Area]] = {
    IntentKind.WRIST: frozenset({Area.LEAD_WRIST, Area.TRAIL_WRIST, Area.ELBOW, Area.HAND}),
    IntentKind.STEEPER: frozenset(
        {Area.LEAD_WRIST, Area.HAND, Area.ELBOW, Area.LEAD_SHOULDER, Area.RIBS}
    ),
    IntentKind.ROTATION: frozenset(
        {Area.LOW_BACK, Area.RIBS, Area.LEAD_HIP, Area.LEAD_KNEE, Area.NECK}
    ),
    IntentKind.SIDE_BEND: frozenset({Area.LOW_BACK, Area.RIBS, Area.LEAD_HIP}),
    IntentKind.LEAD_SIDE: frozenset({Area.LEAD_KNEE, Area.LEAD_HIP, Area.LEAD_ANKLE}),
    IntentKind.BACKSWING: frozenset(
        {Area.LEAD_SHOULDER, Area.TRAIL_SHOULDER, Area.LOW_BACK, Area.RIBS}
    ),
    IntentKind.SPEED: frozenset(
        {
            Area.LOW_BACK,
            Area.RIBS,
            Area.ELBOW,
            Area.LEAD_WRIST,
            Area.LEAD_SHOULDER,
            Area.LEAD_KNEE,
            Area.LEAD_HIP,
            Area.NECK,
        }
    ),
    IntentKind.GRIP: frozenset({Area.ELBOW, Area.HAND, Area.LEAD_WRIST}),
    IntentKind.SHORT_GAME: _BENT_OVER,
    IntentKind.PUTTING: _BENT_OVER,
    # Posture is not in the table; whoever works on it stands bent over, so ask the same.
    IntentKind.POSTURE: _BENT_OVER,
    IntentKind.BALANCE: frozenset(),
    IntentKind.SETUP: frozenset(),
}

# The chest as a student may write it, in the languages of the pages, in small letters.
_CHEST = (
    "chest", "breastbone", "sternum", "heart",
    "brust", "herz",
    "pecho", "tórax", "torax", "corazón", "corazon", "esternón", "esternon",
    "poitrine", "thorax", "cœur", "coeur",
    "胸", "心臓",
    "가슴", "흉", "심장",
)  # fmt: skip

JARRED_BY_FIRM_GROUND = frozenset({Area.LEAD_WRIST, Area.TRAIL_WRIST, Area.HAND, Area.ELBOW})


def asked_of(kinds: tuple[IntentKind, ...], flagged: tuple[Area, ...]) -> tuple[Area, ...]:
    """The flagged areas that these kinds may ask more of, in the student's order."""
    asked = {area for kind in kinds for area in ASKS_MORE_OF[kind]}
    return tuple(area for area in flagged if area in asked)


def is_chest(place: str) -> bool:
    """Does a place, as a student typed it, name the chest or the heart?"""
    plain = place.casefold()
    return any(word in plain for word in _CHEST)
