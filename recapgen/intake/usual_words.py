"""``kind:``, ``moved:`` and the ground: words that notes and ``usually:`` have in common."""

from recapgen.intake.form import Form, meanings_of
from recapgen.model.lesson import IntentKind, Surface

_KINDS = meanings_of(
    {
        IntentKind.WRIST: ("more wrist action", "wrist", "wrists", "hinge"),
        IntentKind.STEEPER: ("steeper strike", "steeper", "steep"),
        IntentKind.ROTATION: ("more rotation", "rotation", "turn", "more turn"),
        IntentKind.SIDE_BEND: ("more side bend", "side bend", "side tilt"),
        IntentKind.LEAD_SIDE: ("more lead-side pressure", "lead side pressure", "lead side",
                               "pressure"),
        IntentKind.BACKSWING: ("longer or wider backswing", "backswing", "longer backswing",
                               "wider backswing"),
        IntentKind.SPEED: ("more speed", "speed", "faster"),
        IntentKind.GRIP: ("firmer grip", "grip"),
        IntentKind.POSTURE: ("posture",),
        IntentKind.BALANCE: ("balance",),
        IntentKind.SETUP: ("aim or setup", "aim", "setup", "set up", "alignment"),
        IntentKind.SHORT_GAME: ("short game", "chipping", "pitching", "bunker"),
        IntentKind.PUTTING: ("putting", "putt", "putts"),
    }
)  # fmt: skip
_NOTHING = "nothing"
_MOVABLE = meanings_of(
    {
        _NOTHING: (
            "nothing", "none", "no", "nothing at all", "nichts", "rien", "nada", "niente",
            "niets", "なし", "無し", "없음",
        ),
        "device": ("device", "the device"),
        "ball": ("ball", "the ball", "ball position"),
        "target": ("target", "the target", "aim"),
        "mat": ("mat", "the mat", "tee"),
    }
)  # fmt: skip
SURFACES = meanings_of(
    {
        Surface.MAT: ("mat", "mats"),
        Surface.GRASS: ("grass", "turf", "fairway"),
        Surface.TEE: ("tee", "tees", "tee box"),
        Surface.FIRM: ("firm ground", "firm", "hard ground"),
    }
)


def read_kinds(form: Form) -> tuple[IntentKind, ...]:
    """What the intent asks of the body."""
    found = [form.meant("kind", words, _KINDS) for words in form.several("kind")]
    return tuple(dict.fromkeys(kind for kind in found if kind is not None))


def read_moved(form: Form) -> tuple[str, ...]:
    """What was moved between before and after; "nothing" is nothing."""
    found = [form.meant("moved", words, _MOVABLE) for words in form.several("moved")]
    return tuple(dict.fromkeys(thing for thing in found if thing not in {None, _NOTHING}))
