"""Whose shots a file holds: those of the student are kept, the others' never read."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from pathlib import PurePath

from recapgen.golf.quantity_facts import words_of
from recapgen.intake.said_files import IGNORE
from recapgen.intake.table.cells import is_missing
from recapgen.intake.table.header import Heading
from recapgen.intake.table.report import Report, brief
from recapgen.intake.table.section_columns import Setting
from recapgen.model.fix import Put, one_of
from recapgen.model.problem import Code, Cost

MOST_NAMED = 6
_GUESTS = frozenset(
    {
        "", "guest", "player", "user", "default", "me", "golfer", "student", "unknown", "anonymous",
        "guestplayer", "gast", "spieler", "benutzer", "ich", "schuler", "invite", "joueur", "moi",
        "eleve", "invitado", "jugador", "usuario", "yo", "alumno", "ゲスト", "プレーヤー",
        "プレイヤー", "ユーザー", "게스트", "플레이어", "사용자",
    }
)  # fmt: skip


def rows_of_student(
    headings: Sequence[Heading], rows: Sequence[int], row: int, setting: Setting, report: Report
) -> list[int]:
    """Those of ``rows`` whose player is the student; ``row`` is that of the headings.

    Where none of the players named, or more than one, may be the student, all stay and the problem
    holds the page: another's shots would stand on it. A device's guest is nobody else.
    """
    column = next((i for i, heading in enumerate(headings) if heading.role == "player"), None)
    if column is None:
        return list(rows)
    players = {at: player_in(report.grid.rows[at], column) for at in rows}
    shots = Counter(player for player in players.values() if player)
    mine = _mine(shots, setting.players)
    heading = brief(headings[column].text)
    if len(shots) > 1 and len(mine) != 1 and not _folded(mine) & _folded(setting.known_as):
        named = [name for name, _ in shots.most_common()]
        report.add(
            Code.SHOTS_SEVERAL_PLAYERS, row, column,
            one_of(Put(setting.student, ("player",), name) for name in named[:MOST_NAMED]),
            heading=heading, count=str(len(named)),
        )  # fmt: skip
        return list(rows)
    if len(shots) <= 1:
        if shots and not mine and setting.players:
            (name,) = shots
            theirs = Put(setting.student, ("player",), name)
            not_theirs = Put(setting.notes, ("files", PurePath(report.file).name), IGNORE)
            report.add(
                Code.SHOTS_PLAYER_UNKNOWN, row, column, one_of([theirs, not_theirs]),
                costs=Cost.NOTHING if is_nobody(name) else None, heading=heading, found=name,
            )  # fmt: skip
        return list(rows)
    others = [name or "-" for name in dict.fromkeys(players.values()) if name not in mine]
    gone = [at for at in rows if players[at] not in mine]
    if gone:
        report.add(
            Code.SHOTS_OF_OTHERS, gone[0], column,
            rows=str(len(gone)), players=", ".join(others[:MOST_NAMED]), student=", ".join(mine),
        )  # fmt: skip
    return [at for at in rows if players[at] in mine]


def is_nobody(name: str) -> bool:
    """Whether it is a device's default name for a player who has none."""
    words = [word for word in words_of(name) if not word.isdigit()]
    return "".join(words) in _GUESTS


def player_in(cells: Sequence[str], column: int) -> str:
    """Who a row names; "" for nobody."""
    cell = cells[column] if column < len(cells) else ""
    return "" if is_missing(cell) else brief(cell)


def _folded(names: Iterable[str]) -> set[str]:
    return {" ".join(name.split()).casefold() for name in names}


def students_named(player: str, students: Mapping[str, Sequence[str]]) -> tuple[str, ...]:
    """Which of ``students``, each with their names, a file may mean by ``player``.

    Those whose very name it is, else those of whom it may be short or long for one.
    """
    exact = tuple(key for key, names in students.items() if _folded([player]) & _folded(names))
    alike = (key for key, names in students.items() if any(_alike(player, n) for n in names))
    return exact or tuple(alike)


def _mine(names: Iterable[str], students: Sequence[str]) -> list[str]:
    """The names that are one of the student's, else those that may be short or long for one."""
    named = list(names)
    own = _folded(students)
    exact = [name for name in named if name.casefold() in own]
    return exact or [name for name in named if any(_alike(name, student) for student in students)]


def _alike(one: str, other: str) -> bool:
    """Whether every word of the shorter name is in the longer, an initial for a word."""
    shorter, longer = sorted((words_of(one), words_of(other)), key=len)
    return any(len(word) > 1 for word in shorter) and all(
        any(word == long or (min(len(word), len(long)) == 1 and word[0] == long[0])
            for long in longer)
        for word in shorter
    )  # fmt: skip
