"""``practice:`` the plan until the next lesson."""

from collections.abc import Iterator

from recapgen.intake.form import Form, spelling
from recapgen.intake.yaml_map import Listed, Words
from recapgen.model.lesson import DrillStep, Practice
from recapgen.model.problem import Code

_KEYS = spelling(
    "sessions a week", "balls", "rounds a week", "minutes", "weeks", "steps",
    sessions="sessions a week", sessions_per_week="sessions a week",
    balls_per_session="balls", balls_a_session="balls", rounds="rounds a week",
    rounds_per_week="rounds a week", minutes_a_session="minutes",
    minutes_per_session="minutes", plan="steps",
)  # fmt: skip
_STEP_KEYS = spelling("do", "balls", "times", what="do", ball="balls", reps="times")
MOST_STEPS = 20


def read_practice(form: Form) -> Practice | None:
    inner = form.form("practice", _KEYS)
    if inner is None:
        return None
    return Practice(
        sessions_per_week=inner.whole("sessions a week", 0, 21),
        balls_per_session=inner.whole("balls", 0, 2000),
        rounds_per_week=inner.whole("rounds a week", 0, 14),
        minutes_per_session=inner.whole("minutes", 0, 600),
        weeks=inner.whole("weeks", 1, 52),
        steps=tuple(_steps(inner)),
    )


def _steps(form: Form) -> Iterator[DrillStep]:
    node = form.node("steps")
    if node is None:
        return
    if not isinstance(node, Listed):
        known = "- {do: Half swings off a tee, balls: 12}"
        form.report(Code.KEYS_EXPECTED, node.where, key="steps", known=known)
        return
    if len(node.items) > MOST_STEPS:
        form.report(Code.TEXT_TOO_LONG, node.where, key="steps", length=str(len(node.items)),
                    most=str(MOST_STEPS))  # fmt: skip
        return
    for item in node.items:
        if isinstance(item, Words):
            words = form.one("steps", item)
            what = form.line("steps", words) if words else None
            if what is not None:
                yield DrillStep(what, None, None)
            continue
        step = form.inner("steps", item, _STEP_KEYS)
        what = step.required("do") if step else None
        if step is not None and what is not None:
            yield DrillStep(what, step.whole("balls", 0, 500), step.whole("times", 1, 500))
