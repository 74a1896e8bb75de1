"""Left and right, and the headings over them, in the languages of the place."""

import pytest

from recapgen.model.fix import Put
from recapgen.model.problem import Code, Cost
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block, ShotTable
from tests.table.conftest import Read

CARRY = frozenset({Quantity.CARRY})
SIDE = frozenset({Quantity.CARRY_SIDE})


def table_of(heading: str, *cells: str, carry: str = "Carry (m)") -> str:
    rows = [f"{n};{130 + n};{cell}" for n, cell in enumerate(cells, 1)]
    return "\n".join([f"Shot;{carry};{heading}", *rows, ""])


def sides(table: ShotTable | None) -> list[float | None]:
    assert table is not None
    read = [shot.readings.get(Quantity.CARRY_SIDE) for shot in table.shots]
    return [None if side is None else round(side, 2) for side in read]


@pytest.mark.parametrize(
    "heading",
    [
        "Seitenabweichung", "Seitl. Abweichung", "Abweichung (m)", "Écart latéral", "Écart",
        "Desvío", "Desviación lateral", "左右", "左右ブレ", "좌우", "좌우 편차",
    ],
)  # fmt: skip
def test_a_side_that_may_be_that_of_carry_or_total_is_asked(read: Read, heading: str) -> None:
    table, problems = read(table_of(heading, "2,5", "-3,1", "1,5"), numbers=SIDE)
    assert table is not None
    (asked,) = (p for p in problems if p.code is Code.SHOTS_COLUMN_LOOSE)
    assert asked.cost is Cost.STUDENT
    assert [c.value for offer in asked.offers for c in offer.changes if isinstance(c, Put)] == [
        "carry side", "total side",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("heading", "carry", "left", "right"),
    [
        ("Carry side", "Carry (m)", "2,5 L", "3,1 R"),
        ("Carry seitlich", "Fluglänge (m)", "2,5 links", "3,1 rechts"),
        ("Écart latéral au carry", "Portée (m)", "2,5 G", "3,1 D"),
        ("Écart latéral au carry", "Portée (m)", "G 2,5", "D 3,1"),
        ("Écart latéral au carry", "Portée (m)", "2,5 gauche", "3,1 droite"),
        ("Écart latéral au carry", "Portée (m)", "2,5m G", "3,1mD"),
        ("Desviación lateral de vuelo", "Vuelo (m)", "2,5 I", "3,1 D"),
        ("Desviación lateral de vuelo", "Vuelo (m)", "2,5 izq.", "3,1 dcha."),
        ("キャリーサイド", "キャリー (m)", "左 2.5", "右3.1"),
        ("キャリーサイド", "キャリー (m)", "2.5左", "3.1m 右"),
        ("캐리 좌우", "캐리 (m)", "2.5 좌", "우 3.1"),
        ("Carry side", "Carry (m)", "2,5 G", "3,1 D"),
    ],
)
def test_sides_behind_and_before_a_number(
    read: Read, heading: str, carry: str, left: str, right: str
) -> None:
    text = table_of(f"{heading} (m)", left, right, right, carry=carry)
    table, problems = read(text, numbers=SIDE)
    assert problems == ()
    assert sides(table) == [-2.5, 3.1, 3.1]


@pytest.mark.parametrize("cell", ["3,1 D", "3,1 G", "3,1 I"])
def test_a_letter_alone_in_an_english_file_is_no_side(read: Read, cell: str) -> None:
    """It was read as down, which is minus, which is left: D may be right, or a draw."""
    table, problems = read(table_of("Carry side (m)", cell, cell, cell), numbers=SIDE)
    assert sides(table) == [None] * 3
    assert [p.cost for p in problems if p.code is Code.SHOTS_CELLS_UNREADABLE] == [Cost.STUDENT]


def test_one_letter_is_enough_where_the_headings_tell_the_language(read: Read) -> None:
    text = table_of("Écart latéral au carry (m)", "3,1 D", "1,5 D", "2 D", carry="Portée (m)")
    table, problems = read(text, numbers=SIDE)
    assert problems == ()
    assert sides(table) == [3.1, 1.5, 2.0]


@pytest.mark.parametrize(("left", "right"), [("G", "D"), ("I", "D"), ("左", "右"), ("좌", "우")])
def test_a_column_of_its_own_tells_the_sides(read: Read, left: str, right: str) -> None:
    rows = [f"{n};{130 + n};2,5;{side}" for n, side in enumerate((left, right, right), 1)]
    text = "\n".join(["Shot;Carry (m);Carry side (m);Dir", *rows, ""])
    table, _ = read(text, numbers=SIDE)
    assert sides(table) == [-2.5, 2.5, 2.5]


def phases(heading: str, *words: str) -> str:
    rows = [f"{n};{word};{130 + n}" for n, word in enumerate(words, 1)]
    return "\n".join([f"Shot;{heading};Carry (m)", *rows, ""])


@pytest.mark.parametrize(
    ("heading", "before", "after"),
    [
        ("Bloc", "avant", "après"), ("Bloque", "antes", "después"), ("区分", "前", "後"),
        ("ブロック", "変更前", "変更後"), ("구분", "바꾸기 전", "바꾼 뒤"),
        ("Zeitraum", "vorher", "nachher"), ("Wann?", "before", "after"),
    ],
)  # fmt: skip
def test_the_column_of_blocks_is_known_by_its_heading_or_its_words(
    read: Read, heading: str, before: str, after: str
) -> None:
    table, problems = read(phases(heading, before, before, after, after), numbers=CARRY)
    assert problems == ()
    assert table is not None
    assert [shot.block for shot in table.shots] == [Block.BEFORE] * 2 + [Block.AFTER] * 2


@pytest.mark.parametrize(
    ("heading", "code"),
    [("Zeitraum", Code.SHOTS_COLUMNS_UNKNOWN), ("Phase", Code.SHOTS_BLOCK_UNKNOWN)],
)
def test_words_that_may_be_the_blocks_of_a_verdict_hold_the_student(
    read: Read, heading: str, code: Code
) -> None:
    text = phases(heading, "Warm", "Warm", "Kalt", "Kalt")
    _, problems = read(text, numbers=CARRY)
    assert {p.cost for p in problems if p.code is code} == {Cost.STUDENT}
    _, problems = read(text)  # nothing is compared
    assert {p.cost for p in problems if p.code is code} == {Cost.NOTHING}


def test_a_remark_of_many_words_is_no_block(read: Read) -> None:
    text = phases("Notiz", "dünn", "gut", "fett", "gut", "Wind", "gut", "lang", "kurz")
    _, problems = read(text, numbers=CARRY)
    assert {p.cost for p in problems} == {Cost.NOTHING}


@pytest.mark.parametrize(
    ("heading", "quantity"),
    [
        ("Ballgeschw. (km/h)", Quantity.BALL_SPEED),
        ("Schlägerkopfgeschw. (km/h)", Quantity.CLUB_SPEED),
        ("Vit. balle (km/h)", Quantity.BALL_SPEED),
        ("Vel. palo (km/h)", Quantity.CLUB_SPEED),
    ],
)
def test_shortened_headings(read: Read, heading: str, quantity: Quantity) -> None:
    table, problems = read(f"Shot;{heading}\n1;150\n2;151\n3;149\n")
    assert problems == ()
    assert table is not None
    assert {q for shot in table.shots for q in shot.readings} == {quantity}
