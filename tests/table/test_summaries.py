"""Averages and deviations at the foot are no shots, in whatever tongue they are told."""

from statistics import fmean, stdev

import pytest

from recapgen.model.problem import Code
from recapgen.model.quantity import Quantity
from recapgen.model.shots import ReadAs
from tests.table.conftest import Read
from tests.table.readings import column, rows, table_of

CARRY = (150.0, 152.5, 148.0, 155.0, 149.5, 151.0)
PATH = (1.2, -0.4, 2.1, 0.3, 1.7, -1.1)
LABELS = (
    """
Average|Std. Dev.|Mittelwert|Std.-Abw.|Standardabweichung|Standardabw.|Ø|Durchschnitt (6 Schläge)
Stabw.|Min|Maximum|moyenne|Moyenne des coups|écart type|Écart-type|e\u0301cart-type|médiane|somme
media|Promedio|desviación|Desviación estándar|Desv. est.|Desviación típica|Mínimo|Máx.|suma
平均|平均値|標準偏差|最大値|合計|평균|표준편차|표준 편차|합계|Mittelwert 7er Eisen
""".replace("\n", "|")
    .strip("|")
    .split("|")
)


def lines() -> list[str]:
    return [f"{n},{c},{p}" for n, (c, p) in enumerate(zip(CARRY, PATH, strict=True), 1)]


@pytest.mark.parametrize("label", LABELS)
@pytest.mark.parametrize(
    "heading", ["Shot,Carry (m),Path", "Carry (m),Path,Time", "Note,Carry (m),Path"]
)
def test_a_label_at_the_foot(read: Read, label: str, heading: str) -> None:
    shown = {
        "Shot": [*lines(), f"{label},3.1,0.9"],
        "Note": [f"well,{c},{p}" for c, p in zip(CARRY, PATH, strict=True)] + [f"{label},3.1,0.9"],
        "Carry (m)": [f"{c},{p},10:0{n}" for n, (c, p) in enumerate(zip(CARRY, PATH, strict=True))]
        + [f"3.1,0.9,{label}"],
    }[heading.split(",", maxsplit=1)[0]]
    checked = read(rows(heading, shown))
    told = {p.code for p in checked.problems} - {Code.SHOTS_COLUMNS_UNKNOWN}
    assert told == set()
    assert checked.value is not None
    assert column(checked.value, Quantity.CARRY) == list(CARRY)
    assert [one.read_as for one in checked.value.decided] == [ReadAs.SUMMARY]


@pytest.mark.parametrize("label", ["Gjennomsnitt", "Średnia", ""])
@pytest.mark.parametrize("statistic", [fmean, stdev, min, max])
def test_numbers_that_sum_up_are_no_shot_whatever_they_are_called(
    read: Read, label: str, statistic: "object"
) -> None:
    assert callable(statistic)
    foot = f"{label},{statistic(CARRY):.1f},{statistic(PATH):.1f}"
    table = table_of(read(rows("Shot,Carry (m),Path", [*lines(), foot])))
    assert column(table, Quantity.CARRY) == list(CARRY)


def test_words_where_the_shots_have_their_numbers_are_told_and_not_counted(read: Read) -> None:
    checked = read(rows("Shot,Carry (m),Path", [*lines(), "Ziel morgen,170,0"]))
    table = table_of(checked, Code.SHOTS_ROW_NO_SHOT)
    assert column(table, Quantity.CARRY) == list(CARRY)


def test_names_of_shots_that_all_are_words_stay(read: Read) -> None:
    shown = [f"swing {word},{c}" for word, c in zip("abcdef", CARRY, strict=True)]
    table = table_of(read(rows("Shot,Carry (m)", shown)))
    assert len(table.shots) == 6
