"""The five invented golfers who are filmed: build, clothes, club and the place they play at."""

from sample_making.camera import FACE_ON
from sample_making.draw_swing import Scene
from sample_making.figure import Outfit
from sample_making.golfer import Club

_DRIVER = Club(1.03, 0.24, "wood", tee_m=0.035)
_HYBRID = Club(0.92, 0.21, "wood")
_SEVEN = Club(0.86, 0.20, "iron")
_WEDGE = Club(0.80, 0.15, "iron")

MIRA = Scene(
    "stays down",
    FACE_ON,
    _DRIVER,
    Outfit(shirt=(172, 80, 58), trousers=(62, 70, 82), cap=(244, 240, 230)),
    "morning meadow",
    start_mps=(57.0, 11.5),
)
JONAS = Scene(
    "centred",
    FACE_ON,
    _SEVEN,
    Outfit(
        shirt=(70, 104, 122),
        trousers=(196, 180, 152),
        cap=(52, 60, 72),
        skin=(160, 112, 82),
        hair=(40, 32, 28),
    ),
    "indoor bay",
    left_handed=True,
    start_mps=(44.0, 15.0),
    screen_m=3.2,
)
PIA = Scene(
    "even pitch",
    FACE_ON,
    _WEDGE,
    Outfit(
        shirt=(214, 162, 62),
        trousers=(74, 86, 112),
        cap=(196, 84, 66),
        hair=(150, 104, 62),
        long_sleeves=True,
    ),
    "winter green",
    size=0.82,
    start_mps=(17.5, 11.0),
)
GUNNAR = Scene(
    "turns far",
    FACE_ON,
    _HYBRID,
    Outfit(
        shirt=(118, 134, 104),
        trousers=(96, 84, 74),
        cap=(232, 224, 208),
        shoes=(92, 70, 56),
        hair=(206, 202, 196),
        long_sleeves=True,
    ),
    "coast",
    start_mps=(47.0, 13.0),
)
LENE = Scene(
    "sweeps up",
    FACE_ON,
    _DRIVER,
    Outfit(
        shirt=(98, 76, 112),
        trousers=(226, 218, 204),
        cap=(74, 60, 88),
        skin=(198, 148, 112),
        hair=(46, 34, 32),
    ),
    "evening field",
    start_mps=(50.0, 10.0),
)
