"""Left and right: from a column of letters, and asked about where nothing gives them."""

import re
from collections.abc import Iterable, Mapping, Sequence

from recapgen.golf.quantity_facts import words_of
from recapgen.golf.written_amounts import SIDEWAYS
from recapgen.intake.table.cells import (
    is_missing,
    side_of,
)
from recapgen.intake.table.header import COACH_FILE, plain, ruled
from recapgen.intake.table.report import Report, brief
from recapgen.intake.table.section_columns import Columns, Source
from recapgen.intake.table.units_and_signs import (
    Read,
    open_sides,
)
from recapgen.model.fix import Put, Value, one_of
from recapgen.model.people import ColumnRule
from recapgen.model.problem import Code, Cost
from recapgen.model.quantity import Quantity

# Letters that mean a side in one language alone: "D" is right in French and Spanish, in English
# a draw or down.
_LETTERS: Mapping[str, Mapping[str, float]] = {
    "fr": {"g": -1.0, "d": 1.0},
    "es": {"i": -1.0, "d": 1.0},
}
_TOLD_BY = {
    "fr": frozenset(words_of(
        "vitesse balle bâton portée vol écart latéral latérale hauteur coup coups heure lancement "
        "chemin descente atterrissage déviation tête gauche droite"
    )),
    "es": frozenset(words_of(
        "velocidad bola palo golpe golpes ángulo lanzamiento desvío desviación distancia altura "
        "vuelo hora fecha giro lateralidad izquierda derecha trayectoria ataque"
    )),
}  # fmt: skip
_SIDE_LETTER = re.compile(r"(?<![^\W\d_])([gid])(?![^\W\d_])")


def words_for_sides(source: Source, cells: Iterable[str]) -> Mapping[str, float]:
    """The words for left and right in a column, with single letters of the file's language.

    They are known by both letters of one language in the column, or by the words of the headings;
    without either, a letter that may mean something else is no side.
    """
    letters = {letter for cell in set(cells) for letter in _SIDE_LETTER.findall(cell.casefold())}
    found = [language for language, each in _LETTERS.items() if letters == each.keys()]
    if letters and not found:
        said = {word for heading in source.headings for word in words_of(heading.text)}
        found = [lang for lang, words in _TOLD_BY.items()
                 if said & words and letters <= _LETTERS[lang].keys()]  # fmt: skip
    return {**SIDEWAYS, **_LETTERS[found[0]]} if len(found) == 1 else SIDEWAYS


def side_columns(source: Source) -> dict[int, int]:
    """Columns of nothing but L and R, by the number column they stand beside."""
    sides: dict[int, int] = {}
    for index, cells in enumerate(source.cells):
        first = next((c for c in cells if not is_missing(c)), "")
        if any(c.isdigit() for c in first):
            continue
        words = words_for_sides(source, cells)
        if side_of(first, words) is None or any(
            side_of(c, words) is None for c in set(cells) if not is_missing(c)
        ):
            continue
        for beside in (index - 1, index + 1):
            if 0 <= beside < len(source.headings) and beside not in sides:
                heading = source.headings[beside]
                meant = {heading.quantity, *heading.perhaps} - {None}
                if any(q is not None and q.mirrored for q in meant):
                    sides[beside] = index
                    break
    return sides


def take_sides(read: Read, cells: Sequence[str], source: Source) -> None:
    """Signs from the column of L and R beside the numbers."""
    read.sided = True
    words = words_for_sides(source, cells)
    signs = [side_of(cell, words) for cell in cells]
    read.values = [
        abs(value) * sign if sign else value for value, sign in zip(read.values, signs, strict=True)
    ]


def close_sides(found: Sequence[Read], source: Source, columns: Columns, report: Report) -> None:
    """Takes out and reports the columns whose side is not known."""
    kept = {r.quantity: r for r in found if columns.readings.get(r.quantity) is r.values}
    needed = set(source.setting.sides)
    worked_out = Quantity.FACE_TO_PATH in needed - kept.keys()
    if worked_out:
        needed |= {Quantity.FACE_ANGLE, Quantity.CLUB_PATH}
    for read in open_sides(kept, needed):
        del columns.readings[read.quantity]
        columns.kept.append(read.index)
        columns.asked.add(Quantity.FACE_TO_PATH if worked_out else read.quantity)
        offers = _sides_offered(read, source)
        if read.quantity not in needed:
            offers = [*offers, ruled(read.heading.text, "ignore")]
        report.add(
            Code.SHOTS_SIDE_OPEN, source.row, read.index, one_of(offers),
            costs=Cost.STUDENT if read.quantity in needed else None,
            heading=brief(read.heading.text),
        )  # fmt: skip


def _sides_offered(read: Read, source: Source) -> list[Put]:
    """What a plus may mean, for files with the same headings: another device may differ."""
    heading = read.heading
    beside = tuple(
        h.text for h in source.headings if h.text and h.role is None and h.text != heading.text
    )
    unit = read.unit.sign if read.unit is not None and heading.unit is None else ""
    known: dict[str, Value] = {"is": read.quantity.value, **({"unit": unit} if unit else {})}
    if heading.rule is not None and heading.rule.calculated:
        known["source"] = "calculated"
    others = [
        _as_written(rule)
        for rule in source.setting.coach.columns
        if rule.beside and plain(rule.heading) == plain(heading.text)
    ]
    rules = ({**known, "plus": side, "beside": beside} for side in ("right", "left"))
    place = ("columns", heading.text)
    return [Put(COACH_FILE, place, (*others, rule) if others else rule) for rule in rules]


def _as_written(rule: ColumnRule) -> Value:
    """A line of ``columns:`` as the coach wrote it, or as it was offered."""
    said = {"is": str(rule.quantity), "unit": rule.unit, "plus": rule.positive}
    source = {"source": "calculated"} if rule.calculated else {}
    return {**{k: v for k, v in said.items() if v}, **source, "beside": rule.beside}
