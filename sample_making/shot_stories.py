"""Which swings were made in which lesson: the part of the samples that decides the verdicts."""

from dataclasses import dataclass, replace
from datetime import datetime

from sample_making.invent_shots import Scatter, Stretch, Swing


@dataclass(frozen=True, slots=True)
class ShotStory:
    """``folder`` is below sample_lessons; ``shows`` is what the lesson is there to show."""

    folder: str
    shows: str
    seed: int
    stretches: tuple[Stretch, ...]


def _at(day: str, clock: str) -> datetime:
    return datetime.fromisoformat(f"{day}T{clock}")


_MIRA_UP = Swing(
    speed_mps=Scatter(41.5, 0.6),
    attack_deg=Scatter(1.0, 1.1),
    path_deg=Scatter(6.2, 1.5),
    face_to_path_deg=Scatter(-1.4, 1.5),
    loft_deg=Scatter(14.5, 1.0),
)
_MIRA_DOWN = replace(_MIRA_UP, path_deg=Scatter(0.7, 1.3), face_to_path_deg=Scatter(-0.1, 1.4))
_MIRA_KEPT = replace(_MIRA_UP, path_deg=Scatter(1.6, 1.3), face_to_path_deg=Scatter(-0.4, 1.4))

_JONAS_DRIFTING = Swing(
    speed_mps=Scatter(35.6, 0.6),
    attack_deg=Scatter(0.4, 1.1),
    path_deg=Scatter(-1.2, 1.8),
    face_to_path_deg=Scatter(0.5, 1.8),
    loft_deg=Scatter(26.5, 1.2),
    strike=Scatter(0.965, 0.02),
)
_JONAS_CENTRED = replace(
    _JONAS_DRIFTING,
    attack_deg=Scatter(-3.3, 1.0),
    loft_deg=Scatter(23.8, 1.1),
    strike=Scatter(0.985, 0.012),
)
_JONAS_FADED = replace(_JONAS_DRIFTING, attack_deg=Scatter(0.1, 1.1))
_JONAS_PART = replace(_JONAS_CENTRED, attack_deg=Scatter(-1.9, 1.1), loft_deg=Scatter(24.8, 1.1))
_JONAS_LONGER = replace(_JONAS_CENTRED, attack_deg=Scatter(-3.1, 1.2))

_JONAS_HOLDING = replace(_JONAS_LONGER, speed_mps=Scatter(34.1, 1.1), strike=Scatter(0.955, 0.02))
_JONAS_HALF = replace(_JONAS_LONGER, speed_mps=Scatter(26.0, 0.8))
_JONAS_BREATHING = replace(_JONAS_LONGER, speed_mps=Scatter(35.6, 0.6))

_PIA_BROKEN_NOTE = Swing(
    speed_mps=Scatter(20.6, 1.0),
    attack_deg=Scatter(-5.0, 1.3),
    path_deg=Scatter(-0.5, 1.8),
    face_to_path_deg=Scatter(0.6, 2.0),
    loft_deg=Scatter(45.5, 1.6),
    strike=Scatter(0.97, 0.02),
)
_PIA_EVEN_NOTE = replace(
    _PIA_BROKEN_NOTE,
    speed_mps=Scatter(24.0, 0.55),
    attack_deg=Scatter(-4.0, 1.0),
    strike=Scatter(0.98, 0.012),
)
_PIA_PART = replace(_PIA_BROKEN_NOTE, speed_mps=Scatter(22.3, 0.7))
_PIA_NINE = Swing(
    speed_mps=Scatter(27.0, 0.5),
    attack_deg=Scatter(-2.2, 1.3),
    path_deg=Scatter(1.0, 1.8),
    face_to_path_deg=Scatter(0.2, 2.0),
    loft_deg=Scatter(34.0, 1.4),
    strike=Scatter(0.945, 0.035),
)
_PIA_BELL = replace(_PIA_NINE, attack_deg=Scatter(-3.4, 1.2), strike=Scatter(0.965, 0.03))

_GUNNAR_HYBRID = Swing(
    speed_mps=Scatter(36.4, 0.5),
    attack_deg=Scatter(-2.0, 1.1),
    path_deg=Scatter(-1.5, 1.6),
    face_to_path_deg=Scatter(1.2, 1.6),
    loft_deg=Scatter(19.0, 1.1),
)
_GUNNAR_TURNED = replace(_GUNNAR_HYBRID, speed_mps=Scatter(36.5, 0.5))
_GUNNAR_SEVEN = Swing(
    speed_mps=Scatter(31.6, 0.5),
    attack_deg=Scatter(-2.8, 1.1),
    path_deg=Scatter(-1.0, 1.6),
    face_to_path_deg=Scatter(0.8, 1.7),
    loft_deg=Scatter(25.0, 1.1),
    strike=Scatter(0.970, 0.015),
)
_GUNNAR_PEDAL = replace(_GUNNAR_SEVEN, attack_deg=Scatter(-4.6, 1.4), strike=Scatter(0.915, 0.025))
_GUNNAR_MIDDLING = replace(_GUNNAR_SEVEN, strike=Scatter(0.935, 0.024))
_GUNNAR_TRAY = replace(_GUNNAR_SEVEN, strike=Scatter(0.958, 0.020))

_LENE_AXE = Swing(
    speed_mps=Scatter(37.0, 0.7),
    attack_deg=Scatter(-3.4, 1.2),
    path_deg=Scatter(1.0, 1.8),
    face_to_path_deg=Scatter(0.8, 1.8),
    loft_deg=Scatter(13.5, 1.2),
    strike=Scatter(0.965, 0.02),
)
_LENE_FEATHER = replace(_LENE_AXE, attack_deg=Scatter(-1.9, 1.2), loft_deg=Scatter(14.3, 1.2))
_LENE_WEDGE = Swing(
    speed_mps=Scatter(28.5, 0.8),
    attack_deg=Scatter(-3.5, 1.2),
    path_deg=Scatter(0.5, 1.8),
    face_to_path_deg=Scatter(0.5, 2.0),
    loft_deg=Scatter(38.0, 1.5),
    strike=Scatter(0.97, 0.02),
)
_LENE_RIGHT = replace(
    _LENE_AXE,
    attack_deg=Scatter(-0.8, 1.1),
    path_deg=Scatter(4.4, 1.6),
    face_to_path_deg=Scatter(0.4, 1.5),
    loft_deg=Scatter(14.5, 1.1),
)
_LENE_SLOT = replace(_LENE_RIGHT, path_deg=Scatter(0.6, 1.5), face_to_path_deg=Scatter(0.2, 1.5))

_OTTO = Swing(
    speed_mps=Scatter(34.8, 0.7),
    attack_deg=Scatter(-3.0, 1.2),
    path_deg=Scatter(0.0, 2.0),
    face_to_path_deg=Scatter(0.0, 2.0),
    loft_deg=Scatter(27.0, 1.4),
    strike=Scatter(0.97, 0.02),
)

STORIES: tuple[ShotStory, ...] = (
    ShotStory(
        "mira/2027-01-23 driver",
        "a clear change into a window, sealed, the guard held, a ball left out, a case",
        111,
        (
            Stretch("warm-up", "driver", 6, _MIRA_UP, _at("2027-01-23", "10:02:10")),
            Stretch("before", "driver", 10, _MIRA_UP, _at("2027-01-23", "10:08:40"), {6: "toe"}),
            Stretch("drill", "driver", 8, _MIRA_DOWN, _at("2027-01-23", "10:24:30")),
            Stretch("after", "driver", 12, _MIRA_DOWN, _at("2027-01-23", "10:37:20"), {9: "heel"}),
        ),
    ),
    ShotStory(
        "mira/2027-02-20",
        "what stuck; too early to tell inside the window; two files in one order of time",
        12,
        (
            Stretch("warm-up", "driver", 4, _MIRA_KEPT, _at("2027-02-20", "09:31:05")),
            Stretch("before", "driver", 10, _MIRA_KEPT, _at("2027-02-20", "09:36:40")),
            Stretch("after", "driver", 12, _MIRA_DOWN, _at("2027-02-20", "09:58:15")),
        ),
    ),
    ShotStory(
        "jonas/2027-01-30",
        "a left-hander; a change held back to probable, because it was chosen afterwards",
        21,
        (
            Stretch(
                "before", "6 iron", 10, _JONAS_DRIFTING, _at("2027-01-30", "17:05:00"), {4: "thin"}
            ),
            Stretch("drill", "6 iron", 6, _JONAS_CENTRED, _at("2027-01-30", "17:22:00")),
            Stretch("after", "6 iron", 11, _JONAS_CENTRED, _at("2027-01-30", "17:33:00")),
        ),
    ),
    ShotStory(
        "jonas/2027-03-06",
        "what faded; a clear change on the coach's word; a case without clips",
        22,
        (
            Stretch("warm-up", "6 iron", 5, _JONAS_FADED, _at("2027-03-06", "11:02:00")),
            Stretch("before", "6 iron", 10, _JONAS_FADED, _at("2027-03-06", "11:08:00")),
            Stretch("after", "6 iron", 12, _JONAS_CENTRED, _at("2027-03-06", "11:31:00")),
        ),
    ),
    ShotStory(
        "jonas/2027-05-08",
        "a probable change from eight balls a side, with a club not tried before",
        272,
        (
            Stretch("before", "8 iron", 8, _JONAS_PART, _at("2027-05-08", "10:33:00")),
            Stretch("after", "8 iron", 8, _JONAS_LONGER, _at("2027-05-08", "10:52:00")),
        ),
    ),
    ShotStory(
        "jonas/2027-06-12",
        "a drill of half swings; the morning warmed up, so the carries are told in the same air",
        33,
        (
            Stretch("before", "8 iron", 10, _JONAS_HOLDING, _at("2027-06-12", "07:31:00")),
            Stretch("drill", "8 iron", 6, _JONAS_HALF, _at("2027-06-12", "07:48:00")),
            Stretch("after", "8 iron", 12, _JONAS_BREATHING, _at("2027-06-12", "08:02:00")),
        ),
    ),
    ShotStory(
        "pia/2027-02-06 pitching",
        "a junior; carry into a window, sealed, the spread guarded",
        31,
        (
            Stretch("warm-up", "sand wedge", 5, _PIA_BROKEN_NOTE, _at("2027-02-06", "13:52:00")),
            Stretch(
                "before",
                "sand wedge",
                10,
                _PIA_BROKEN_NOTE,
                _at("2027-02-06", "13:57:30"),
                {7: "fat"},
            ),
            Stretch("drill", "sand wedge", 7, _PIA_EVEN_NOTE, _at("2027-02-06", "14:14:00")),
            Stretch("after", "sand wedge", 12, _PIA_EVEN_NOTE, _at("2027-02-06", "14:26:00")),
        ),
    ),
    ShotStory(
        "pia/2027-03-20",
        "too early to tell: four balls and five",
        32,
        (
            Stretch("before", "9 iron", 4, _PIA_NINE, _at("2027-03-20", "14:03:00")),
            Stretch("after", "9 iron", 5, _PIA_BELL, _at("2027-03-20", "14:15:00")),
        ),
    ),
    ShotStory(
        "pia/2027-05-15 pitching again",
        "some of it still there; the old feel repeated at the end of the day",
        33,
        (
            Stretch("warm-up", "sand wedge", 4, _PIA_PART, _at("2027-05-15", "14:01:00")),
            Stretch("before", "sand wedge", 10, _PIA_PART, _at("2027-05-15", "14:06:00")),
            Stretch("after", "sand wedge", 12, _PIA_EVEN_NOTE, _at("2027-05-15", "14:25:00")),
            Stretch("closing", "sand wedge", 5, _PIA_PART, _at("2027-05-15", "14:41:00")),
        ),
    ),
    ShotStory(
        "gunnar/2027-02-13",
        "no change; a senior whose flagged back meets the intent",
        414,
        (
            Stretch("warm-up", "7 iron", 6, _GUNNAR_SEVEN, _at("2027-02-13", "10:31:00")),
            Stretch("before", "4 hybrid", 12, _GUNNAR_HYBRID, _at("2027-02-13", "10:39:00")),
            Stretch("drill", "4 hybrid", 6, _GUNNAR_TURNED, _at("2027-02-13", "10:55:00")),
            Stretch("after", "4 hybrid", 13, _GUNNAR_TURNED, _at("2027-02-13", "11:05:00")),
        ),
    ),
    ShotStory(
        "gunnar/2027-03-27",
        "went the other way, sealed",
        42,
        (
            Stretch("before", "7 iron", 12, _GUNNAR_SEVEN, _at("2027-03-27", "09:32:00")),
            Stretch(
                "after",
                "7 iron",
                12,
                _GUNNAR_PEDAL,
                _at("2027-03-27", "09:58:00"),
                {3: "heel", 8: "thin"},
            ),
        ),
    ),
    ShotStory(
        "gunnar/2027-05-01",
        "no lesson gain to keep; a probable change",
        4795,
        (
            Stretch("before", "7 iron", 10, _GUNNAR_MIDDLING, _at("2027-05-01", "10:05:00")),
            Stretch("after", "7 iron", 10, _GUNNAR_TRAY, _at("2027-05-01", "10:24:00")),
        ),
    ),
    ShotStory(
        "lene/2027-02-27",
        "a probable change, because the ball was moved; miles and yards",
        5375,
        (
            Stretch("warm-up", "driver", 4, _LENE_AXE, _at("2027-02-27", "15:32:00")),
            Stretch("before", "driver", 10, _LENE_AXE, _at("2027-02-27", "15:37:00")),
            Stretch("drill", "driver", 6, _LENE_FEATHER, _at("2027-02-27", "15:52:00")),
            Stretch("after", "driver", 12, _LENE_FEATHER, _at("2027-02-27", "16:04:00")),
        ),
    ),
    ShotStory(
        "lene/2027-04-10 wedges",
        "shots without a number; a units row",
        52,
        (Stretch("", "pitching wedge", 15, _LENE_WEDGE, _at("2027-04-10", "15:10:00")),),
    ),
    ShotStory(
        "lene/2027-05-22",
        "a clear change in the start line, sealed; a past case to read",
        53,
        (
            Stretch("warm-up", "driver", 5, _LENE_RIGHT, _at("2027-05-22", "11:04:00")),
            Stretch(
                "before", "driver", 12, _LENE_RIGHT, _at("2027-05-22", "11:10:00"), {6: "heel"}
            ),
            Stretch("after", "driver", 14, _LENE_SLOT, _at("2027-05-22", "11:38:00"), {7: "toe"}),
        ),
    ),
    ShotStory(
        "otto/2027-03-13",
        "three balls and three, for the coach's book only",
        61,
        (
            Stretch("before", "8 iron", 3, _OTTO, _at("2027-03-13", "18:05:00")),
            Stretch("after", "8 iron", 3, _OTTO, _at("2027-03-13", "18:15:00")),
        ),
    ),
)
