"""``practice:`` the plan until the next lesson."""

import re
from collections.abc import Iterator, Mapping

from msgspec.structs import fields, replace

from recapgen.intake.clearing_lines import clearings
from recapgen.intake.form import Form, instead, meanings_of
from recapgen.intake.near_words import nearest
from recapgen.intake.quantities import club_in
from recapgen.intake.spelling import spelling
from recapgen.intake.yaml_map import ListNode, Node, Scalar, brief, plain_key
from recapgen.model.drill import Drill
from recapgen.model.fix import Swap, one_of
from recapgen.model.lesson import DrillStep, Practice, PracticeOrder
from recapgen.model.problem import Code
from recapgen.model.rounding import whole

PLAN_KEYS = spelling(
    "sessions a week", "balls", "rounds a week", "minutes", "weeks", "steps", "test",
    sessions="sessions a week", sessions_per_week="sessions a week",
    balls_per_session="balls", balls_a_session="balls", rounds="rounds a week",
    rounds_per_week="rounds a week", minutes_a_session="minutes",
    minutes_per_session="minutes", plan="steps",
)  # fmt: skip
_WHAT_A_STEP_SAYS = (
    "do", "balls", "times", "sets", "rest", "club", "speed", "right when", "stop when", "way",
)  # fmt: skip
_SPELT = {
    "what": "do", "ball": "balls", "reps": "times", "set": "sets", "series": "sets",
    "pause": "rest", "at speed": "speed", "right": "right when", "stop": "stop when",
    "order": "way",
}  # fmt: skip
STEP_KEYS = spelling(*_WHAT_A_STEP_SAYS, "weeks", "drill", week="weeks", **_SPELT)
DRILL_KEYS = spelling("name", "show", *_WHAT_A_STEP_SAYS, picture="show", clip="show", **_SPELT)
_WAYS = meanings_of(
    {
        PracticeOrder.BLOCKED: ("blocked", "same", "the same", "same shot"),
        PracticeOrder.VARIED: ("varied", "mixed", "random"),
    }
)
_REST = re.compile(r"(\d{1,4})\s*(s|secs?|seconds?|min|mins|minutes?)")
_WEEKS = re.compile(r"(from\s+)?(\d{1,2})(?:\s*(?:-|–|to)\s*(\d{1,2}))?")
_A_WEEK = (
    r"(?:(?:a|per|each|every|pro|die|in der|par|la|por|a la|/)\s?)?(?:week|woche|semaine|semana)"
)
_TIMES = r"(?:x|×|times|sessions?|mal|einheiten|fois|séances?|veces|sesiones)"
# A plan in words, in the languages of the pages.
_SPOKEN: Mapping[str, re.Pattern[str]] = {
    "sessions a week": re.compile(
        rf"\d{{1,2}}\s?{_TIMES}\s?{_A_WEEK}|週(?:に)?\s?\d{{1,2}}\s?回|주(?:에)?\s?\d{{1,2}}\s?(?:회|번)"
    ),
    "balls": re.compile(
        r"\d{1,4}\s?(?:balls?|bälle|balles|bolas|pelotas|球|개|공)"
        r"(?:\s?(?:each|each time|a session|per session|pro einheit|par séance|por sesión))?"
    ),
    "minutes": re.compile(r"\d{1,3}\s?(?:min|mins|minutes|minuten|minutos|分|분)\.?"),
    "weeks": re.compile(r"(?:for )?\d{1,2}\s?(?:weeks|wochen|semaines|semanas|週間|주)"),
}
_BETWEEN = re.compile(r"[,;+、，]|\band\b|\bund\b|\bet\b|\by\b")
MOST_STEPS = 20
MOST_WEEKS = 52
_MINUTE_S = 60
_NO_PLAN = frozenset({"none", "no plan", "nothing"})
_NOTHING_SAID = DrillStep("", None, None)


def read_practice(form: Form, drills: tuple[Drill, ...] = ()) -> Practice | None:
    """The plan; ``drills`` are those that its steps may name."""
    node = form.node("practice")
    said = _in_words(node) if isinstance(node, Scalar) else {}
    if isinstance(node, Scalar) and said:
        offers = one_of([Swap(node.where, node.text, said)])
        form.report(
            Code.KEYS_EXPECTED, node.where, offers, key="practice", known=", ".join(PLAN_KEYS.keys)
        )
        return None
    if isinstance(node, Scalar) and plain_key(node.text) in _NO_PLAN:
        return None
    inner = form.form("practice", PLAN_KEYS)
    if inner is None:
        return None
    library = {plain_key(drill.name): drill for drill in drills}
    return Practice(
        sessions_per_week=inner.whole("sessions a week", 0, 21),
        balls_per_session=inner.whole("balls", 0, 2000),
        rounds_per_week=inner.whole("rounds a week", 0, 14),
        minutes_per_session=inner.whole("minutes", 0, 600),
        weeks=inner.whole("weeks", 1, MOST_WEEKS),
        steps=tuple(_steps(inner, library)),
        test=_test(inner, library),
    )


def with_words_of(practice: Practice, drills: tuple[Drill, ...]) -> Practice:
    """The plan with its drills in the words of ``drills``, which a lesson may have kept."""
    library = {plain_key(drill.name): drill.step for drill in drills}

    def told(step: DrillStep) -> DrillStep:
        drill = library.get(plain_key(step.drill)) if step.drill else None
        return step if drill is None else replace(step, words=drill.words, show=drill.show)

    test = told(practice.test) if practice.test is not None else None
    return replace(practice, steps=tuple(map(told, practice.steps)), test=test)


def _in_words(words: Scalar) -> Mapping[str, str]:
    """A plan in words ("3x a week, 40 balls") as keys; nothing where a part of it is no such."""
    said: dict[str, str] = {}
    for part in map(str.strip, _BETWEEN.split(words.text.casefold())):
        told = next((key for key, spoken in _SPOKEN.items() if spoken.fullmatch(part)), None)
        number = re.search(r"\d+", part)
        if told is None or number is None or told in said:
            return {}
        said[told] = number[0]
    return said


def read_step(form: Form) -> DrillStep:
    """Everything a step or a drill may say of itself; ``what`` is empty where it says nothing."""
    club = form.words("club")
    speed = form.number("speed", 1, 110, "%")
    return DrillStep(
        what=form.text("do") or "",
        balls=form.whole("balls", 0, 500),
        times=form.whole("times", 1, 500),
        sets=form.whole("sets", 1, 50),
        rest_s=_rest_s(form),
        club=club_in(form, "club", club) if club else None,
        speed_percent=None if speed is None else whole(speed),
        right_when=form.text("right when"),
        stop_when=form.text("stop when"),
        way=form.choice("way", _WAYS),
    )


def _steps(form: Form, library: Mapping[str, Drill]) -> Iterator[DrillStep]:
    node = form.node("steps")
    if node is None:
        return
    if not isinstance(node, ListNode):
        known = "- {do: Half swings off a tee, balls: 12}"
        form.report(Code.KEYS_EXPECTED, node.where, key="steps", known=known)
        return
    if len(node.items) > MOST_STEPS:
        form.report(Code.TOO_MANY, node.where, key="steps", length=str(len(node.items)),
                    most=str(MOST_STEPS))  # fmt: skip
        return
    for item in node.items:
        step = _step(form, "steps", item, library)
        if step is not None:
            yield step


def _test(form: Form, library: Mapping[str, Drill]) -> DrillStep | None:
    node = form.node("test")
    return None if node is None else _step(form, "test", node, library)


def _step(form: Form, key: str, node: Node, library: Mapping[str, Drill]) -> DrillStep | None:
    """One step: words alone, or keys, or a drill with what this plan changes of it."""
    if isinstance(node, Scalar):
        words = form.one(key, node)
        what = form.line(key, words) if words else None
        return DrillStep(what, None, None) if what is not None else None
    inner = form.inner(key, node, STEP_KEYS)
    if inner is None:
        return None
    said = replace(read_step(inner), weeks=_weeks(inner))
    if inner.has("drill"):
        drill = _drill(inner, library)
        return None if drill is None else _taken_over(drill, said)
    return said if inner.required("do") is not None else None


def _drill(form: Form, library: Mapping[str, Drill]) -> Drill | None:
    words = form.words("drill")
    if words is None:
        form.report(Code.KEY_MISSING, form.place("drill"), key="drill")
        return None
    found = plain_key(words.text)
    if found in library:
        _refuse_clearing(form, words, library[found])
        return library[found]
    names = [drill.name for drill in library.values()]
    near = nearest(" ".join(words.text.split()), names)
    facts = {"found": brief(words.text), "known": ", ".join(sorted(names)) or "–"}
    if near is None:
        to_do = one_of([Swap(form.place("drill"), form.typed("drill"), "do")])
        form.report(Code.DRILL_UNKNOWN, words.where, to_do, **facts)
    else:
        form.report(Code.DRILL_MISSPELT, words.where, instead(words, near), near=near, **facts)
    return None


def _refuse_clearing(form: Form, named: Scalar, drill: Drill) -> None:
    """A drill may wave pain away where it is kept; then the plan that names it is held."""
    step = drill.step
    told = (drill.name, step.what, step.right_when, step.stop_when, step.words)
    for met in clearings("\n\n".join(text for text in told if text)):
        form.report(Code.LINE_CLEARS_A_BODY, named.where, found=brief(met.phrase))
        return


def _taken_over(drill: Drill, said: DrillStep) -> DrillStep:
    """The drill's step with whatever the plan says itself."""
    changes = {
        field.name: getattr(said, field.name)
        for field in fields(said)
        if getattr(said, field.name) != getattr(_NOTHING_SAID, field.name)
    }
    return replace(drill.step, **changes)


def _rest_s(form: Form) -> int | None:
    words = form.words("rest")
    if words is None:
        return None
    found = _REST.fullmatch(words.text.strip().casefold())
    if found is None:
        facts = {"key": "rest", "found": brief(words.text), "example": "1 min"}
        units = ("s", "min") if words.text.strip().isdigit() else ()
        offers = instead(words, *(f"{words.text.strip()} {unit}" for unit in units))
        form.report(Code.AMOUNT_UNREADABLE, words.where, offers, **facts)
        return None
    return int(found[1]) * (_MINUTE_S if found[2].startswith("m") else 1)


def _weeks(form: Form) -> tuple[int, int] | None:
    words = form.words("weeks")
    if words is None:
        return None
    found = _WEEKS.fullmatch(words.text.strip().casefold())
    first = int(found[2]) if found else 0
    last = first if found is None else MOST_WEEKS if found[1] else int(found[3] or first)
    if not 1 <= first <= last <= MOST_WEEKS:
        facts = {"key": "weeks", "found": brief(words.text), "known": "3, 1-2, from 3"}
        form.report(Code.WORD_UNKNOWN, words.where, **facts)
        return None
    return first, last
