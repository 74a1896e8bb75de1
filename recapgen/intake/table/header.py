"""Headings of a shots file: which quantity, which role, which unit, which side is plus."""

import re
from collections.abc import Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from recapgen.golf.quantity_facts import key_of, quantities_perhaps, quantity_named, words_of
from recapgen.golf.written_amounts import Unit, unit_named
from recapgen.model.fix import Put
from recapgen.model.people import ColumnRule
from recapgen.model.quantity import Quantity
from recapgen.model.source import SourceRef

_ROLE_WORDS: Mapping[str, str] = {
    "shot": "shot, shot number, shot no, shot nr, shot num, shot id, shot index, #, no, nr, num, "
    "number, n, ball no, ball number, swing, swing number, swing no, stroke, stroke number, index, "
    "seq, sequence, row, schlag, schlagnummer, schlag nr, coup, numéro, coup no, golpe, tiro, "
    "número, ショット, ショット番号, 番号, 샷, 샷 번호, 번호",
    "phase": "phase, block, stage, part, segment, session part, lesson part, set, group, "
    "abschnitt, fase, étape, bloc, bloque, フェーズ, 段階, 区分, ブロック, 단계, 구간, 구분, 블록",
    "club": "club, club name, club type, club used, club id, club selected, schläger, "
    "schlaeger, palo, クラブ, 番手, 클럽",
    "time": "time, date, date time, datetime, timestamp, time stamp, shot time, shot date, day, "
    "clock, hit at, recorded, recorded at, time of day, local time, created at, date and time, "
    "zeit, uhrzeit, datum, zeitpunkt, heure, fecha, hora, fecha y hora, 日時, 時刻, 時間, 日付, "
    "날짜, 시간, 시각, 일시",
    "player": "player, player name, golfer, student, student name, name, user, athlete, spieler, "
    "joueur, nom, jugador, 名前, 이름",
    "tag": "tag, tags, mishit, mis hit, miss hit, mishits, flag, contact, strike quality",
}
_ROLES = {
    (key_of(word) or word): role
    for role, words in _ROLE_WORDS.items()
    for word in words.split(", ")
}
_PLUS: Mapping[str, str] = {
    "right": "right, r, to the right",
    "left": "left, l, to the left",
    "up": "up, upward, upwards",
    "down": "down, downward, downwards",
    "ahead": "ahead, after ball, past ball, in front, forward",
    "behind": "behind, before ball, in back",
    "in-to-out": "in-to-out, in to out, in out, inside out",
    "out-to-in": "out-to-in, out to in, out in, outside in",
    "open": "open, opened",
    "closed": "closed, shut",
}
_PLUS_WORDS = {key_of(word): side for side, words in _PLUS.items() for word in words.split(", ")}
OPPOSITES: Mapping[str, str] = {
    "right": "left",
    "up": "down",
    "ahead": "behind",
    "in-to-out": "out-to-in",
    "open": "closed",
}
_MAY_BE_NAME = re.compile(r"[^\d+\-.]")  # numbers, dates and times begin otherwise
LONGEST_NAME = 80
FEWEST_OF_A_CARD = 2
_CARD_WORDS = (
    "hole, holes, par, score, scores, strokes, putts, putt, penalties, fairway, fairways, gir, "
    "handicap, hcp, stroke index, si, net, gross, stableford, points, tee, loch, schläge, vorgabe, "
    "netto, brutto, punkte, trou, coups, hoyo, golpes, ホール, パー, スコア, "
    "パット, 홀, 파, 스코어, 퍼트"
)
_SCORECARD = {key_of(word) or word for word in _CARD_WORDS.split(", ")}
_BRACKETS = re.compile(r"[(\[{]([^)\]}]*)[)\]}]")


class Heading(Struct, frozen=True):
    """One column's heading, understood as far as it goes.

    ``perhaps`` are the quantities a loose word may stand for; ``plus`` the side that a plus
    means, where stated; ``rule`` the line of coach.yml that settled it; ``misfit`` a unit that
    does not belong to the quantity.
    """

    text: str
    quantity: Quantity | None = None
    role: str | None = None
    unit: Unit | None = None
    plus: str | None = None
    perhaps: tuple[Quantity, ...] = ()
    rule: ColumnRule | None = None
    misfit: Unit | None = None

    @property
    def known(self) -> bool:
        understood = self.quantity is not None or self.role is not None or bool(self.perhaps)
        return understood or self.rule is not None


def is_scorecard(headings: Sequence[Heading]) -> bool:
    """Whether a row of headings is that of a score: holes with their par, putts and lengths."""
    sure = any(h.quantity is not None or h.rule is not None for h in headings)
    words = sum((key_of(h.text) or h.text.strip()) in _SCORECARD for h in headings)
    return not sure and words >= FEWEST_OF_A_CARD


def plain(text: str) -> str:
    """A heading without regard to case, blanks, hyphens and underscores."""
    return " ".join(re.split(r"[\s_\-]+", text.casefold().strip()))


class Headings:
    """Understands headings; ``columns:`` of coach.yml goes before everything else."""

    def __init__(self, rules: Sequence[ColumnRule]) -> None:
        self._rules = {plain(rule.heading): rule for rule in rules if not rule.beside}
        self._beside = [rule for rule in rules if rule.beside]
        self._known: dict[str, Heading] = {}

    def of(self, text: str) -> Heading:
        if text not in self._known:
            self._known[text] = self._read(" ".join(text.split()))
        return self._known[text]

    def count(self, cells: Sequence[str]) -> int:
        """How many of ``cells`` are headings that are understood."""
        return sum(1 for cell in cells if cell and self.of(cell).known)

    def in_file(self, headings: Sequence[Heading]) -> tuple[Heading, ...]:
        """The headings of one file, by the rules that hold for files with all of its kind."""
        there = {plain(heading.text) for heading in headings}
        rules = {
            plain(rule.heading): rule
            for rule in self._beside
            if all(plain(text) in there for text in rule.beside)
        }
        return tuple(
            _by_rule(heading.text, rule, *_take_off_brackets(heading.text[:LONGEST_NAME])[1:3])
            if (rule := rules.get(plain(heading.text))) is not None
            else heading
            for heading in headings
        )

    def _read(self, text: str) -> Heading:
        if len(text) > LONGEST_NAME:
            rule = self._rules.get(plain(text))
            return Heading(text) if rule is None else _by_rule(text, rule, None, None)
        bare, unit, plus, extra = _take_off_brackets(text)
        rule = self._rules.get(plain(text)) or self._rules.get(plain(bare))
        if rule is not None:
            return _by_rule(text, rule, unit, plus)
        if not _MAY_BE_NAME.match(text):
            return Heading(text)
        for name in (f"{bare} {extra}".strip(), bare):
            heading = _named(text, name)
            if heading.known:
                break
        else:
            return Heading(text, unit=unit)
        return _with_unit(replace(heading, plus=plus), unit or heading.unit)


def _take_off_brackets(text: str) -> tuple[str, Unit | None, str | None, str]:
    """The heading without brackets, and from within them: a unit, a sign rule, other words."""
    unit: Unit | None = None
    plus: str | None = None
    extra: list[str] = []
    for inside in _BRACKETS.findall(text):
        found = unit_named(inside)
        if found is not None:
            unit = found
            continue
        for part in re.split(r"[,;]", inside):
            if (side := plus_side(part)) is not None:
                plus = side
            elif (named := unit_named(part)) is not None:
                unit = named
            elif part.strip():
                extra.append(part.strip())
    bare = _BRACKETS.sub(" ", text)
    return " ".join(bare.split()), unit, plus, " ".join(extra)


def plus_side(text: str) -> str | None:
    """The side a plus means, from a remark such as "+ = right", "R+", "left positive", "+R/-L"."""
    bare = text.casefold().strip()
    if not re.search(r"[+]|\bplus\b|\bpos(?:itive)?\b", bare):
        return None
    first = re.split(r"[/|]|(?<=\w)\s*[-−–]\s*(?=\s|=|[lrud]\b)", bare)[0]
    words = re.sub(r"[+=:>]|\bplus\b|\bpos(?:itive)?\b|\bis\b|\bmeans\b", " ", first)
    return _PLUS_WORDS.get(key_of(words)) if words.strip() else None


def _named(text: str, name: str) -> Heading:
    """A heading whose name may carry its unit at the end ("carry_yds", "Club Speed m/s")."""
    whole = _meaning(text, name)
    if whole.known:
        return whole
    if spaced := re.fullmatch(r"(.+?)[\s,;:_/\-]+(\S+)", name):
        unit = unit_named(spaced[2])
        heading = _meaning(text, spaced[1])
        if unit is not None and heading.known:
            return replace(heading, unit=unit)
    words = words_of(name)
    for tail in (1, 2, 3):
        unit = _joined_unit(words[-tail:]) if len(words) > tail else None
        heading = _meaning(text, " ".join(words[:-tail])) if unit else whole
        if unit is not None and heading.known:
            return replace(heading, unit=unit)
    return whole


def _joined_unit(words: Sequence[str]) -> Unit | None:
    return unit_named("/".join(words)) or unit_named("".join(words))


def _meaning(text: str, name: str) -> Heading:
    quantity = quantity_named(name)
    if quantity is not None and quantity.in_tables:
        return Heading(text, quantity)
    role = _ROLES.get(key_of(name) or name.strip())
    if role is not None:
        return Heading(text, role=role)
    return Heading(text, perhaps=quantities_perhaps(name))


def _with_unit(heading: Heading, unit: Unit | None) -> Heading:
    """The heading with its unit; a unit of another dimension is kept apart as a misfit."""
    if unit is None or heading.role is not None:
        return replace(heading, unit=None)
    if heading.quantity is not None and not fits(heading.quantity, unit):
        return replace(heading, unit=None, misfit=unit)
    if heading.perhaps:
        left = tuple(q for q in heading.perhaps if fits(q, unit))
        return replace(heading, unit=unit, perhaps=left)
    return replace(heading, unit=unit)


def fits(quantity: Quantity, unit: Unit) -> bool:
    """Whether ``unit`` can measure ``quantity``."""
    return quantity.dimension is unit.dimension


def with_units_row(heading: Heading, unit: Unit | None) -> Heading:
    """The heading with what a row of units says of it; a unit already stated stays."""
    if unit is None or heading.unit is not None or (heading.rule and heading.rule.unit):
        return heading
    return _with_unit(heading, unit)


def _is_player(text: str) -> bool:
    """Whose shots they are is never passed over."""
    return _ROLES.get(key_of(text) or text.strip()) == "player"


def _by_rule(text: str, rule: ColumnRule, unit: Unit | None, plus: str | None) -> Heading:
    stated = unit_named(rule.unit) if rule.unit else None
    side = _PLUS_WORDS.get(key_of(rule.positive)) if rule.positive else None
    role = rule.role or ("player" if rule.quantity is None and _is_player(text) else None)
    heading = Heading(text, rule.quantity, role, plus=side or plus, rule=rule)
    return _with_unit(heading, stated or unit)


COACH_FILE = SourceRef("coach.yml")


def ruled(heading: str, meaning: str, **more: str) -> Put:
    """The line of ``columns:`` in coach.yml that says what a column is."""
    return Put(COACH_FILE, ("columns", heading), {"is": meaning, **more} if more else meaning)
