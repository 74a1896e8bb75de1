"""What a student told about the body meets what the intent and the ground ask of it."""

import pytest
from msgspec.structs import replace

from recapgen.care.areas import ASKS_MORE_OF
from recapgen.model.care import Level, NoteCode, NoteFacts
from recapgen.model.lesson import IntentKind, Surface
from recapgen.model.people import AgeBand, Area, Condition
from tests.care.setting import (
    INDOORS,
    OPEN,
    PLAIN,
)

# The reviewed table, written out again by hand as the rules print it.
MAP = {
    IntentKind.WRIST: "lead wrist, trail wrist, elbow, hand",
    IntentKind.STEEPER: "lead wrist, hand, elbow, lead shoulder, ribs",
    IntentKind.ROTATION: "low back, ribs, lead hip, lead knee, neck",
    IntentKind.SIDE_BEND: "low back, ribs, lead hip",
    IntentKind.LEAD_SIDE: "lead knee, lead hip, lead ankle",
    IntentKind.BACKSWING: "lead shoulder, trail shoulder, low back, ribs",
    IntentKind.SPEED: "low back, ribs, elbow, lead wrist, lead shoulder, lead knee, lead hip, neck",
    IntentKind.GRIP: "elbow, hand, lead wrist",
    IntentKind.SHORT_GAME: "low back, neck",
    IntentKind.PUTTING: "low back, neck",
    IntentKind.POSTURE: "low back, neck",
    IntentKind.BALANCE: "",
    IntentKind.SETUP: "",
}


@pytest.mark.parametrize("kind", IntentKind)
def test_an_intent_meets_exactly_the_flags_of_its_row(kind: IntentKind) -> None:
    asked = {area for area in Area if area in MAP[kind].split(", ")}
    assert set(ASKS_MORE_OF[kind]) == asked
    for area in Area:
        fired = replace(PLAIN, kinds=(kind,), student=replace(OPEN, areas=(area,))).fired()
        meets = fired.get(NoteCode.INTENT_MEETS_FLAG)
        assert (meets is not None) is (area in asked)
        flagged = fired[NoteCode.FLAGGED_AREA]
        assert flagged.level is Level.CARE
        if meets:
            assert (meets.level, meets.facts) == (Level.ASK_FIRST, NoteFacts(areas=(area,)))
        assert flagged.shown is (meets is None), "the page says it once"


def test_flags_beyond_the_intent_keep_a_note_of_their_own() -> None:
    student = replace(OPEN, areas=(Area.LEAD_KNEE, Area.NECK, Area.LEAD_KNEE))
    fired = replace(PLAIN, kinds=(IntentKind.PUTTING,), student=student).fired()
    assert fired[NoteCode.INTENT_MEETS_FLAG].facts == NoteFacts(areas=(Area.NECK,))
    assert fired[NoteCode.FLAGGED_AREA].facts == NoteFacts(areas=(Area.LEAD_KNEE,))
    assert fired[NoteCode.FLAGGED_AREA].shown


@pytest.mark.parametrize(
    ("band", "areas", "conditions", "level"),
    [
        (AgeBand.ADULT, (), (), Level.CARE),
        (AgeBand.ADULT, (Area.LEAD_ANKLE,), (), Level.CARE),
        (AgeBand.SENIOR, (), (), Level.CARE),
        (AgeBand.SENIOR, (Area.LEAD_ANKLE,), (), Level.ASK_FIRST),
        (AgeBand.SENIOR, (), (Condition.HEART,), Level.ASK_FIRST),
        (None, (), (), Level.CARE),
    ],
)
def test_speed_work(
    band: AgeBand | None,
    areas: tuple[Area, ...],
    conditions: tuple[Condition, ...],
    level: Level,
) -> None:
    student = replace(OPEN, age_band=band, areas=areas, conditions=conditions)
    fired = replace(PLAIN, kinds=(IntentKind.SPEED,), student=student).fired()
    assert fired[NoteCode.SPEED_WORK].level is level
    assert NoteCode.SPEED_WORK not in replace(PLAIN, student=student).fired()


@pytest.mark.parametrize("surface", [None, *Surface])
@pytest.mark.parametrize("kind", [None, *IntentKind])
def test_firm_surface_by_intent(surface: Surface | None, kind: IntentKind | None) -> None:
    setting = replace(
        PLAIN, kinds=(kind,) if kind else (), conditions=replace(INDOORS, surface=surface)
    )
    fires = surface in (Surface.MAT, Surface.FIRM) and kind in (IntentKind.STEEPER, IntentKind.GRIP)
    assert (NoteCode.FIRM_SURFACE in setting.fired()) is fires


@pytest.mark.parametrize("area", Area)
def test_firm_surface_by_flag(area: Area) -> None:
    student = replace(OPEN, areas=(area,))
    on_mat = replace(PLAIN, student=student, conditions=replace(INDOORS, surface=Surface.MAT))
    hands = {Area.LEAD_WRIST, Area.TRAIL_WRIST, Area.HAND, Area.ELBOW}
    assert (NoteCode.FIRM_SURFACE in on_mat.fired()) is (area in hands)


@pytest.mark.parametrize("band", [None, *AgeBand])
def test_age_bands(band: AgeBand | None) -> None:
    fired = replace(PLAIN, student=replace(OPEN, age_band=band)).fired()
    assert (NoteCode.JUNIOR in fired) is (band is AgeBand.JUNIOR)
    assert (NoteCode.SENIOR in fired) is (band is AgeBand.SENIOR)


def test_conditions_each_ask_first() -> None:
    fired = replace(PLAIN, student=replace(OPEN, conditions=tuple(Condition))).fired()
    notes = [note for code, note in fired.items() if code.startswith("CONDITION_")]
    assert len(notes) == 4
    assert {(note.level, note.body) for note in notes} == {(Level.ASK_FIRST, True)}
