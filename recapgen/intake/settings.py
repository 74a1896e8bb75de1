"""coach.yml: the coach, units, the look, and what the columns of a shots file are."""

import re
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

from msgspec.structs import replace

from recapgen.golf.unit_words import unit_words
from recapgen.golf.written_amounts import unit_named
from recapgen.intake.clearing_lines import check_lines
from recapgen.intake.drills import read_drills
from recapgen.intake.folder import named_file
from recapgen.intake.form import NAME_LENGTH, PARAGRAPH_LENGTH, Form, instead, meanings_of, shown
from recapgen.intake.keys_abroad import in_english
from recapgen.intake.mark import read_mark
from recapgen.intake.quantities import amount_in, quantity_in, size_in
from recapgen.intake.spelling import spelling, with_colons
from recapgen.intake.text_file import read_text
from recapgen.intake.usually import read_usual
from recapgen.intake.yaml_map import ListNode, MapNode, Scalar, brief, plain_key, read_map
from recapgen.model.book import intent_key
from recapgen.model.drill import Drill
from recapgen.model.fix import Cut, Put, one_of
from recapgen.model.people import Coach, ColumnRule, Review
from recapgen.model.problem import Checked, Code, Cost, Problem, Severity
from recapgen.model.quantity import Dimension, Quantity
from recapgen.model.source import SourceRef
from recapgen.model.units import LengthUnit, SpeedUnit, TemperatureUnit, Units

_KEYS = spelling(
    "coach", "contact", "greeting", "footer", "accent", "mark", "language", "units", "place",
    "published at", "columns", "accuracy", "intents", "misses", "reviewed by", "usually", "lock",
    locked="lock", locks="lock", passphrase="lock", password="lock",  # noqa: S106
    usual="usually", reviewed="reviewed by", reviewer="reviewed by",
    name="coach", logo="mark", colour="accent", color="accent",
    address="published at", email="contact",
    published="published at", url="published at",
)  # fmt: skip
_DECORATION = frozenset({"contact", "greeting", "footer", "accent", "mark"})
_UNIT_KEYS = spelling("speed", "length", "temperature", speeds="speed", distance="length",
                      lengths="length", distances="length")  # fmt: skip
_PLACE_KEYS = spelling("name", "altitude", "emergency number", height="altitude",
                       elevation="altitude", emergency="emergency number")  # fmt: skip
_REVIEW_KEYS = spelling("name", "as", "on", role="as", profession="as", date="on", day="on")
_COLUMN_KEYS = spelling(
    "is", "unit", "plus", "source", "beside", units="unit", positive="plus", sign="plus"
)
_SOURCES = meanings_of(
    {
        True: ("calculated", "computed", "estimated", "worked out"),
        False: ("measured", "read"),
    }
)

_SPEEDS = meanings_of(
    {
        SpeedUnit.MPH: ("mph", "miles per hour"),
        SpeedUnit.MPS: ("m/s", "mps", "metres per second", "meters per second"),
        SpeedUnit.KMH: ("km/h", "kmh", "kph", "kilometres per hour", "kilometers per hour"),
        SpeedUnit.FTPS: ("ft/s", "fps", "feet per second"),
    }
)
_LENGTHS = meanings_of(
    {
        LengthUnit.METRE: ("m", "metre", "metres", "meter", "meters"),
        LengthUnit.YARD: ("yd", "yard", "yards", "yds"),
        LengthUnit.FOOT: ("ft", "foot", "feet"),
    }
)
_TEMPERATURES = meanings_of(
    {
        TemperatureUnit.CELSIUS: ("C", "°C", "celsius"),
        TemperatureUnit.FAHRENHEIT: ("F", "°F", "fahrenheit"),
    }
)
ROLES = meanings_of(
    {
        "shot": ("shot", "shot number", "number"),
        "phase": ("phase", "block"),
        "club": ("club",),
        "time": ("time", "date", "date and time"),
        "tag": ("tag", "mishit", "strike"),
    }
)
_USUAL_UNITS = (
    {"speed": "mph", "length": "yd", "temperature": "F"},
    {"speed": "mph", "length": "m", "temperature": "C"},
    {"speed": "km/h", "length": "m", "temperature": "C"},
)
_ASKED = (Dimension.SPEED, Dimension.LENGTH)
_IGNORE = frozenset({"ignore", "ignored", "nothing", "skip"})
_PLUS = {plain_key(w): w for w in ("right", "left", "up", "down", "ahead", "behind",
                                   "in-to-out", "out-to-in", "open", "closed")}  # fmt: skip
LANGUAGES = meanings_of(
    {
        "en": ("en", "english"),
        "es": ("es", "spanish", "español", "espanol", "castellano"),
        "de": ("de", "german", "deutsch"),
        "fr": ("fr", "french", "français", "francais"),
        "ja": ("ja", "japanese", "日本語"),
        "ko": ("ko", "korean", "한국어"),
    }
)
_HOST = r"[\w-]+(\.[\w-]+)+(/[\w./~-]*)?"
_A_COLUMN = "Ball Spd: {is: ball speed, unit: mph}"
NUMBER_LENGTH = 30
HEADING_LENGTH = 900  # a key that YAML still takes for one
HIGHEST_PLACE_M = 6000.0
LOWEST_PLACE_M = -500.0


def read_coach(root: Path) -> Checked[Coach]:
    """The coach's settings and drills from the lessons folder.

    A problem that costs the run goes with a value all the same, by which everything else can be
    checked: what is in doubt is at its default, and no unit is asked for. None only where
    coach.yml cannot be read as keys at all.
    """
    drills, found = read_drills(root)
    coach, problems = _read_settings(root, drills or ())
    if coach is None:
        return Checked(None, problems)
    return Checked(replace(coach, drills=drills or ()), (*problems, *found))


def _read_settings(root: Path, drills: tuple[Drill, ...]) -> Checked[Coach]:
    """What coach.yml says.

    Without a coach.yml: everything at its default, and a warning with the lines to write.
    What only decorates a page is left out where it is in doubt; any other doubt costs the run,
    since every student's page would be wrong.
    """
    path, twice = named_file(root, root, "coach")
    problems = _all_stop(twice)
    if path is None:
        where = SourceRef("coach.yml")
        offers = one_of(Put(where, ("units",), units) for units in _USUAL_UNITS)
        missing = Problem(Code.COACH_FILE_MISSING, where, offers=offers)
        return Checked(Coach(name="", units_unsaid=_ASKED), (missing, *problems))
    text, faults = read_text(root, path)
    if text is None:
        return Checked(None, _all_stop(faults))
    file = path.relative_to(root).as_posix()
    keyed, faults = read_map(text, file)
    faults = tuple(with_colons(faults, text.split("\n"), _KEYS.names))
    if keyed is None:
        return Checked(None, _all_stop(faults))
    found = [*problems, *check_lines(text, file, text.count("\n") + 2, Cost.RUN)]
    coach = _decorated(root, keyed, _coach(_part(keyed, found, decoration=False), drills), found)
    if any(p.severity is Severity.ERROR for p in found):
        coach = replace(coach, units_unsaid=())
    return Checked(coach, tuple(found))


def _part(keyed: MapNode, found: list[Problem], *, decoration: bool) -> Form:
    """The keys that decorate, or all the others; a near miss counts as what it is near to."""
    entries = tuple(
        entry for entry in keyed.entries if decoration is (_meant(entry.name) in _DECORATION)
    )
    costs = Cost.NOTHING if decoration else Cost.RUN
    return Form(replace(keyed, entries=entries), _KEYS, found, costs)


def _meant(name: str) -> str | None:
    return _KEYS.key(name) or next(iter(in_english(name, _KEYS.keys)), None) or _KEYS.nearest(name)


def _decorated(root: Path, keyed: MapNode, coach: Coach, found: list[Problem]) -> Coach:
    form = _part(keyed, found, decoration=True)
    return replace(
        coach,
        contact=form.text("contact"),
        greeting=form.text("greeting", PARAGRAPH_LENGTH),
        footer=form.text("footer"),
        accent=_accent(form),
        mark=read_mark(form, root),
    )


def _all_stop(problems: tuple[Problem, ...]) -> tuple[Problem, ...]:
    return tuple(replace(problem, costs=Cost.RUN) for problem in problems)


def read_units(form: Form, key: str, otherwise: Units) -> Units | None:
    """``units:`` as in coach.yml and student.yml; None where the key is absent."""
    inner = form.form(key, _UNIT_KEYS)
    if inner is None:
        return None
    return Units(
        speed=inner.choice("speed", _SPEEDS) or otherwise.speed,
        length=inner.choice("length", _LENGTHS) or otherwise.length,
        temperature=inner.choice("temperature", _TEMPERATURES) or otherwise.temperature,
    )


def read_altitude_m(form: Form, key: str, coach: Coach) -> float | None:
    """Metres above the sea ("90 m", "300 ft"); a bare number takes the coach's unit."""
    words = form.words(key)
    height = None if words is None else size_in(form, key, words, Dimension.LENGTH, coach)
    if words is None or height is None:
        return None
    if not LOWEST_PLACE_M <= height <= HIGHEST_PLACE_M:
        least, most = f"{LOWEST_PLACE_M:g} m", f"{HIGHEST_PLACE_M:g} m"
        found = {"key": key, "found": brief(words.text)}
        form.report(Code.AMOUNT_OUT_OF_RANGE, words.where, least=least, most=most, **found)
        return None
    return height


def _coach(form: Form, drills: tuple[Drill, ...]) -> Coach:
    coach = Coach(
        name=form.required("coach", NAME_LENGTH) or "",
        units=read_units(form, "units", Units()) or Units(),
        language=form.choice("language", LANGUAGES) or "en",
        address=_address(form),
        columns=tuple(_columns(form)),
        intents=_joined(form, "intents", "bar stool: [Sit back onto a bar stool]"),
        misses=_joined(form, "misses", "slice: [a big slice, curves away to the right]"),
        reviewed=_review(form),
        units_unsaid=_unsaid(form),
        locks=form.yes_no("lock") or False,
    )
    place = form.form("place", _PLACE_KEYS)
    return replace(
        coach,
        place=place.text("name", NAME_LENGTH) if place else None,
        emergency_number=place.text("emergency number", NUMBER_LENGTH) if place else None,
        altitude_m=read_altitude_m(place, "altitude", coach) if place else None,
        accuracy=tuple(_accuracy(form, coach)),
        usual=read_usual(form, coach, drills),
    )


def _joined(form: Form, key: str, example: str) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The coach's own short names, each with the wordings that are pooled as one.

    ``intents: {bar stool: [Sit back onto a bar stool, Lean on the stool]}``
    """
    first: dict[str, str] = {}
    joined = []
    for entry in form.pairs(key, example):
        name, wordings = " ".join(entry.key.split()), []
        items = entry.value.items if isinstance(entry.value, ListNode) else (entry.value,)
        for words in filter(None, (form.one(entry.key, item) for item in items)):
            wording = form.line(entry.key, words) or name
            other = first.setdefault(intent_key(wording), name)
            if other != name:
                facts = {"found": brief(wording), "name": name, "other": other, "key": key}
                offers = one_of([Cut(words.where)] if isinstance(entry.value, ListNode) else ())
                form.report(Code.INTENT_TWICE, words.where, offers, **facts)
            wordings.append(wording)
        joined.append((name, tuple(wordings)))
    return tuple(joined)


def _unsaid(form: Form) -> tuple[Dimension, ...]:
    """What ``units:`` leaves open; bare numbers of these are asked about, never guessed."""
    node = form.node("units")
    said = (
        {_UNIT_KEYS.key(entry.name) for entry in node.entries} if isinstance(node, MapNode) else ()
    )
    return tuple(dimension for dimension in _ASKED if dimension not in said)


def _review(form: Form) -> Review | None:
    """Who read the safety notes: a name, what they are, and the day, or nothing at all."""
    inner = form.form("reviewed by", _REVIEW_KEYS)
    if inner is None:
        return None
    name, role = inner.required("name", NAME_LENGTH), inner.required("as", NAME_LENGTH)
    on = inner.day("on")
    if not inner.has("on"):
        inner.report(Code.KEY_MISSING, inner.where, key="on")
    return Review(name, role, on) if name and role and on else None


def _accent(form: Form) -> str | None:
    words = form.words("accent")
    if words is None:
        return None
    colour = words.text.strip().lower()
    if short := re.fullmatch(r"#([0-9a-f])([0-9a-f])([0-9a-f])", colour):
        colour = "#" + "".join(digit * 2 for digit in short.groups())
    if not re.fullmatch(r"#[0-9a-f]{6}", colour):
        whole = f"#{colour}"
        offers = instead(words, whole) if re.fullmatch(r"#[0-9a-f]{6}", whole) else ()
        form.report(Code.ACCENT_UNREADABLE, words.where, offers, found=brief(words.text))
        return None
    return colour


def _address(form: Form) -> str | None:
    words = form.words("published at")
    if words is None:
        return None
    address = words.text.strip().rstrip("/")
    try:
        parts = urlsplit(address)
        host = parts.hostname
    except ValueError:
        host, parts = None, urlsplit("")
    plain = not re.search(r"[\s<>\"'\\^`{|}]", address) and not (parts.query or parts.fragment)
    if parts.scheme not in {"http", "https"} or not host or not plain or parts.username:
        whole = () if "://" in address else (f"https://{address}",)
        offers = instead(words, *(each for each in whole if re.fullmatch(_HOST, address)))
        form.report(Code.ADDRESS_UNREADABLE, words.where, offers, found=brief(words.text))
        return None
    return address


def _columns(form: Form) -> Iterator[ColumnRule]:
    for entry in form.pairs("columns", _A_COLUMN, HEADING_LENGTH):
        if isinstance(entry.value, Scalar):
            words = form.one(entry.key, entry.value)
            if words is None:
                continue
            meaning = plain_key(words.text)
            quantity, role = _meaning(form, entry.key, words)
            if quantity or role or meaning in _IGNORE:
                yield ColumnRule(entry.key, quantity, role, None, None, entry.where)
            continue
        several = entry.value.items if isinstance(entry.value, ListNode) else ()
        each = several if all(isinstance(item, MapNode) for item in several) else ()
        for item in each or (entry.value,):
            rule = form.inner(brief(entry.key), item, _COLUMN_KEYS)
            found = None if rule is None else _column(form, rule, entry.key, entry.where)
            if found is not None:
                yield found


def _column(form: Form, rule: Form, heading: str, where: SourceRef) -> ColumnRule | None:
    words = rule.words("is")
    if words is None:
        rule.report(Code.KEY_MISSING, rule.where, key="is")
        return None
    quantity, role = _meaning(form, heading, words)
    unit = rule.words("unit")
    if unit is not None and quantity is not None:
        named = unit_named(unit.text)
        dimension = quantity.dimension
        if named is None or named.dimension is not dimension:
            rule.misread("unit", unit, ", ".join(unit_words(dimension).known), None)
    plus = rule.choice("plus", _PLUS)
    if quantity is None and role is None and plain_key(words.text) not in _IGNORE:
        return None
    stated = unit.text.strip() if unit else None
    calculated = rule.choice("source", _SOURCES) or False
    beside = tuple(words.text for words in rule.several("beside"))
    return ColumnRule(heading, quantity, role, stated, plus, where, calculated, beside)


def _meaning(form: Form, heading: str, words: Scalar) -> tuple[Quantity | None, str | None]:
    plain = plain_key(words.text)
    if plain in _IGNORE:
        return None, None
    if plain in ROLES:
        return None, ROLES[plain]
    quantity = quantity_in(form, brief(heading), words, also=(shown(ROLES), "ignore"))
    if quantity is not None and not quantity.in_tables:
        columns = (str(each) for each in Quantity if each.in_tables)
        form.misread(brief(heading), words, ", ".join((*columns, shown(ROLES), "ignore")), None)
        return None, None
    return quantity, None


def _accuracy(form: Form, coach: Coach) -> Iterator[tuple[Quantity, float]]:
    for entry in form.pairs("accuracy", "club path: 1 deg"):
        quantity = quantity_in(form, "accuracy", Scalar(entry.key, entry.where, quoted=True))
        value = form.one(entry.key, entry.value)
        if quantity is None or value is None:
            continue
        amount = amount_in(form, brief(entry.key), value, quantity, coach)
        if amount is not None:
            yield quantity, amount
