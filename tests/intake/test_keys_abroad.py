"""Keys in another language are told with the English one, hold the student, and are never lost."""

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from recapgen.app.building import check
from recapgen.intake.keys_abroad import in_english
from recapgen.intake.notes import KEYS
from recapgen.intake.settings import read_coach
from recapgen.model.fix import Edit, Sureness
from recapgen.model.problem import Code, Cost, Problem

MakeFolder = Callable[[Mapping[str, str | bytes | None]], Path]
NOTES = "Marta/2027-04-11/notes.md"
STUDENT = "name: Marta Beispiel\nhand: right\nagreed: {page: yes}\n"


@pytest.fixture
def told(lessons: MakeFolder) -> Callable[..., list[Problem]]:
    def make(*lines: str, student: str = STUDENT) -> list[Problem]:
        text = "\n".join(["---", *lines, "---", "Well done.", ""])
        root = lessons({NOTES: text, "Marta/student.yml": student})
        return list(check(root, None).problems)

    return make


@pytest.mark.parametrize(
    ("line", "english"),
    [
        ("Absicht: Summen", "intent: Summen"),
        ("consigne: Fredonner", "intent: Fredonner"),
        ("Intención: Tararear", "intent: Tararear"),
        ("intencion: Tararear", "intent: Tararear"),
        ("意図: ハミング", "intent: ハミング"),
        ("의도: 허밍", "intent: 허밍"),
        ("Gefuehl: leicht", "feels like: leicht"),
        ("Übung: {balls: 30}", "practice: {balls: 30}"),
        ("coups: {avant: 1-4, après: 5-8}", "shots: {avant: 1-4, après: 5-8}"),
        ("vouloir: plus haut", "want: plus haut"),
    ],
)
def test_the_english_line_is_offered_and_the_student_is_held(
    told: Callable[..., list[Problem]], line: str, english: str
) -> None:
    problem = next(p for p in told(line) if p.code is Code.KEY_FOREIGN)
    assert problem.cost is Cost.STUDENT
    (fix,) = problem.fixes
    assert fix.sureness is Sureness.CERTAIN
    assert fix.edits == (Edit(NOTES, 2, 2, (english,)),)


@pytest.mark.parametrize(
    "words",
    [
        ("Absicht", "Zahl", "Wunsch", "Schläge", "Schläger"),
        ("objectif", "chiffre", "souhait", "frappes", "bâton"),
        ("intención", "número", "deseado", "golpes", "palo"),
        ("意図", "数値", "希望", "ショット", "クラブ"),
        ("의도", "숫자", "희망", "샷", "클럽"),
    ],
)
def test_a_lesson_in_another_tongue_gets_all_its_faults_at_once(
    told: Callable[..., list[Problem]], words: tuple[str, ...]
) -> None:
    values = ("Hum", "carry", "sideways", "{before: 9-1}", "broomstick")
    lines = [f"{word}: {value}" for word, value in zip(words, values, strict=True)]
    found = [(p.where.line, p.code) for p in told(*lines) if p.where.file == NOTES]
    assert found == [
        (2, Code.KEY_FOREIGN),
        (3, Code.KEY_FOREIGN),
        (4, Code.KEY_FOREIGN),
        (4, Code.WANT_UNREADABLE),
        (5, Code.KEY_FOREIGN),
        (5, Code.SPAN_BACKWARDS),
        (6, Code.KEY_FOREIGN),
        (6, Code.WORD_UNKNOWN),
    ]


def test_a_students_agreement_in_another_tongue_agrees_to_nothing(
    told: Callable[..., list[Problem]],
) -> None:
    student = "name: Marta\neinverstanden:\n  Seite: ja\n  Videos: nein\n"
    found = {(p.where.line, p.code) for p in told("intent: Hum", student=student)}
    assert {(2, Code.KEY_FOREIGN), (3, Code.KEY_FOREIGN),
            (4, Code.KEY_FOREIGN), (3, Code.AGREEMENT_UNCLEAR)} <= found  # fmt: skip


def test_a_misspelt_key_is_told_with_what_is_wrong_behind_it(
    told: Callable[..., list[Problem]],
) -> None:
    found = {(p.where.line, p.code) for p in told("number: carry", "wantt: sideways")}
    assert {(3, Code.KEY_MISSPELT), (3, Code.WANT_UNREADABLE)} <= found
    assert Code.WANT_MISSING not in {code for _, code in found}


def lines_for(problems: list[Problem], line: int) -> list[tuple[str, ...]]:
    return [fix.edits[0].lines for p in problems if p.where.line == line for fix in p.fixes]


@pytest.mark.parametrize(
    ("lines", "offered"),
    [
        (("Ziel: Summen",), {2: [("intent: Summen",), ("want: Summen",)]}),
        (("目標: 右", "intent: Hum"), {2: [("want: 右",)]}),
        (("objetivo: x", "Vorhaben: Summen"), {2: [("want: x",)], 3: [("intent: Summen",)]}),
        (("Ziel: 1", "objectif: 2"),
         {2: [("intent: 1",), ("want: 1",)], 3: [("want: 2",), ("intent: 2",)]}),
        (("Absicht: x", "Vorhaben: y"), {2: [("intent: x",)], 3: [(), ()]}),
        (("intent: Hum", "Ab wann wichtig: 3 m"), {3: [("matters: 3 m",)]}),
    ],
)  # fmt: skip
def test_a_word_of_several_meanings_offers_each_that_is_not_there_yet(
    told: Callable[..., list[Problem]],
    lines: tuple[str, ...],
    offered: Mapping[int, list[tuple[str, ...]]],
) -> None:
    problems = [p for p in told(*lines) if p.code in {Code.KEY_FOREIGN, Code.KEY_TWICE}]
    assert {p.where.line: lines_for(problems, p.where.line or 0) for p in problems} == offered
    assert all(p.cost is Cost.STUDENT for p in problems)


@pytest.mark.parametrize(
    ("line", "offered"),
    [("Vidéos: {}", [("clips: {}",)]), ("目標：右", [("intent: 右",), ("want: 右",)])],
)
def test_a_foreign_line_is_offered_once_whatever_else_is_mended_in_it(
    told: Callable[..., list[Problem]], line: str, offered: list[tuple[str, ...]]
) -> None:
    assert lines_for(told(line), 2) == offered


def test_a_key_that_a_foreign_one_says_is_not_missing(told: Callable[..., list[Problem]]) -> None:
    problems = told("intent: Hum", student="名前: 健太\nagreed: {page: yes}\n")
    assert Code.KEY_MISSING not in {p.code for p in problems}


@pytest.mark.parametrize(
    ("said", "offered"),
    [
        ("höher", ["higher"]), ("plus bas", ["lower"]), ("más alto", ["higher"]),
        ("低く", ["lower"]), ("낮게", ["lower"]), ("mehr", ["higher", "lower"]),
        ("weniger", ["higher", "lower"]),
    ],
)  # fmt: skip
def test_a_direction_in_another_tongue_is_offered_as_what_it_says(
    told: Callable[..., list[Problem]], said: str, offered: list[str]
) -> None:
    problems = told("intent: Hum", "number: carry", f"want: {said}")
    assert lines_for(problems, 4) == [(f"want: {each}",) for each in offered]


def test_what_is_wanted_is_not_asked_for_where_a_foreign_key_may_say_it(
    told: Callable[..., list[Problem]],
) -> None:
    assert Code.WANT_MISSING not in {p.code for p in told("Ziel: higher", "number: carry")}


@pytest.mark.parametrize("word", ["intent", "weather forecast office", "", "xyz"])
def test_other_words_are_no_key_abroad(word: str) -> None:
    assert in_english(word, KEYS.keys) == ()


def test_a_decorating_key_abroad_costs_nothing_and_is_not_taken(lessons: MakeFolder) -> None:
    root = lessons({"coach.yml": "coach: Ines\nGruß: Hallo\n"})
    coach, problems = read_coach(root)
    assert [(p.code, p.cost) for p in problems] == [(Code.KEY_FOREIGN, Cost.NOTHING)]
    assert coach is not None
    assert coach.greeting is None


@pytest.mark.parametrize(("intent", "cost"), [((), Cost.STUDENT), (("intent: Hum",), Cost.NOTHING)])
def test_a_key_nobody_knows_holds_notes_that_have_no_intent(
    told: Callable[..., list[Problem]], intent: tuple[str, ...], cost: Cost
) -> None:
    found = [p for p in told("zamiar: nucenie", *intent) if p.where.file == NOTES]
    assert [(p.code, p.cost) for p in found] == [(Code.KEY_UNKNOWN, cost)]
