"""What phones and messengers do to notes is read, or told: all at once, with lines that work."""

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from recapgen.app.building import check
from recapgen.intake.folder import survey
from recapgen.intake.lesson_folder import read_lesson
from recapgen.intake.phone_typing import as_meant
from recapgen.intake.settings import read_coach
from recapgen.model.fix import mended
from recapgen.model.lesson import Lesson
from recapgen.model.people import Hand, Student
from recapgen.model.problem import Code, Cost, Problem
from recapgen.model.quantity import Quantity

MakeFolder = Callable[[Mapping[str, str | bytes | None]], Path]
NOTES = "Marta/2027-04-11/notes.md"
SHOTS = "Marta/2027-04-11/shots.csv"
STUDENT = "name: Marta Beispiel\nhand: right\nagreed: {page: yes}\n"
BALLS = "Shot,Carry (m)\n" + "".join(f"{n},{100 + n}\n" for n in range(1, 21))
SPANS = "shots: {before: 1-10, after: 11-20}"


def read(root: Path) -> tuple[Lesson | None, tuple[Problem, ...]]:
    found, _ = survey(root)
    coach, _ = read_coach(root)
    assert found is not None
    assert coach is not None
    (paths,) = found.students[0].lessons
    return read_lesson(found.root, paths, coach, Student("Marta", "Marta", Hand.RIGHT))


@pytest.fixture
def write(lessons: MakeFolder) -> Callable[[str], Path]:
    def make(text: str) -> Path:
        return lessons({NOTES: text, SHOTS: BALLS, "Marta/student.yml": STUDENT})

    return make


Write = Callable[[str], Path]


def told(root: Path) -> list[tuple[int | None, Code]]:
    return [(p.where.line, p.code) for p in check(root, None).problems if p.where.file == NOTES]


def pasted(root: Path) -> None:
    """The first way to mend each problem, all at once, as an editor would."""
    edits = {e for p in check(root, None).problems for fix in p.fixes[:1] for e in fix.edits}
    text = (root / NOTES).read_text("utf-8-sig")
    (root / NOTES).write_text(mended(text, edits), "utf-8")


@pytest.mark.parametrize(
    "opens", ["—", "––", "—-", "-—", "–-", "‑‑‑", "----", "−−−", "\ufeff—", "—\u00a0"]
)
@pytest.mark.parametrize("ends", ["—", "––", "—-", "…", "---"])
def test_what_a_phone_makes_of_three_hyphens_is_read(write: Write, opens: str, ends: str) -> None:
    lesson, problems = read(write(f"{opens}\nintent: Hum\n{ends}\nWell done.\n"))
    assert problems == ()
    assert lesson is not None
    assert (lesson.notes.intent, lesson.notes.words) == ("Hum", "Well done.")


@pytest.mark.parametrize(
    "gap", ["\u00a0", "\u202f", "\u3000", "\t", " \u00a0", "\u200b ", "\u2007"]
)
@pytest.mark.parametrize("colon", [":", " :", "："])
def test_odd_blanks_and_wide_colons_are_read(write: Write, gap: str, colon: str) -> None:
    keys = (f"intent{colon}{gap}Hum", f"number{colon}{gap}carry", f"want{colon}{gap}higher", SPANS)
    text = "\n".join(("---", *keys, "---", ""))
    lesson, problems = read(write(text))
    assert problems == ()
    assert lesson is not None
    assert lesson.notes.intent == "Hum"
    assert lesson.notes.declaration is not None
    assert lesson.notes.declaration.quantity is Quantity.CARRY


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("want: “38 to 44 m”", 'want: "38 to 44 m"'),
        ("want: „38 to 44 m“", 'want: "38 to 44 m"'),
        ("left out: {14: “phone rang, twice”}", 'left out: {14: "phone rang, twice"}'),
        ("intent: ‘Hum: one note’", "intent: 'Hum: one note'"),
        ("shots: ｛before： 1-8， after： 9-17｝", "shots: {before: 1-8, after: 9-17}"),
        # words stay as they are
        ("student says: “Flat,” she said", "student says: “Flat,” she said"),
        ("intent: Hum “one” note", "intent: Hum “one” note"),
        ("意図: 左、右（少し）", "意図: 左、右（少し）"),
        ("intent: It’s flat", "intent: It’s flat"),
    ],
)
def test_signs_are_read_as_meant_and_keep_their_place(typed: str, meant: str) -> None:
    assert as_meant(typed) == meant
    assert len(as_meant(typed)) == len(typed)


def test_a_value_in_curly_quotes_may_hold_a_colon(write: Write) -> None:
    lesson, problems = read(write("---\nintent: “Hum: one even note”\n---\n"))
    assert problems == ()
    assert lesson is not None
    assert lesson.notes.intent == "Hum: one even note"


def test_a_wide_colon_without_a_blank_is_told_with_the_line(write: Write) -> None:
    root = write("---\nintent：Hum\nnumber：carry\nwant：higher\n---\n")
    assert told(root) == [(line, Code.NO_SPACE_AFTER_COLON) for line in (2, 3, 4)]
    pasted(root)
    assert (root / NOTES).read_text(
        "utf-8"
    ) == "---\nintent: Hum\nnumber: carry\nwant: higher\n---\n"


CHAT = """[11.04.27, 10:21:33] Ines Muster: —
intent: Hum
[11.04.27, 10:22:01] Ines Muster: number: carry
[11.04.27, 10:22:40] Ines Muster: wantt: sideways
10:23 club: broomstick
—
[11.04.27, 10:25:01] Ines Muster: Well done.
"""


def test_a_chat_is_told_with_all_else_that_is_wrong_in_it(write: Write) -> None:
    root = write(CHAT)
    assert told(root) == [
        (1, Code.MESSENGER_TIMES),
        (4, Code.KEY_MISSPELT),
        (4, Code.WANT_UNREADABLE),
        (5, Code.WORD_UNKNOWN),
    ]
    (misspelt,) = [p for p in check(root, None).problems if p.code is Code.KEY_MISSPELT]
    assert misspelt.where.column == CHAT.split("\n")[3].index("wantt") + 1
    times = next(p for p in check(root, None).problems if p.code is Code.MESSENGER_TIMES)
    assert times.cost is Cost.STUDENT
    text = mended(CHAT, times.fixes[0].edits)
    assert (
        text == "—\nintent: Hum\nnumber: carry\nwantt: sideways\nclub: broomstick\n—\nWell done.\n"
    )


@pytest.mark.parametrize(
    "stamp",
    [
        "[11.04.27, 10:21:33] Ines: ",
        "11/04/2027, 10:21 - Ines Muster: ",
        "[10:21, 11/4/2027] Ines: ",
        "\u200e[4/11/27, 3:21\u202fPM] Ines: ",
        "2027. 4. 11. 오후 3:21, 이네스 : ",
        "2027/04/11 10:21 イネス: ",
        "[11.04.27, 10:21] ",
        "10:21 ",
    ],
)
def test_an_intent_behind_a_messengers_time_is_never_lost(write: Write, stamp: str) -> None:
    root = write(f"{stamp}intent: Hum\n{stamp}number: carry\n\nWell done.\n")
    codes = [code for _, code in told(root)]
    assert {Code.MESSENGER_TIMES, Code.NOTES_UNMARKED} <= set(codes)


def test_a_chat_in_the_words_alone_costs_nothing(write: Write) -> None:
    root = write(
        "---\nintent: Hum\n---\nOn 11.4.2027 at 10:21 we began.\n[11.04.27, 10:21] Bo: Hi\n"
    )
    (problem,) = [p for p in check(root, None).problems if p.where.file == NOTES]
    assert (problem.code, problem.cost, problem.where.line) == (
        Code.MESSENGER_TIMES, Cost.NOTHING, 5,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("text", "faults"),
    [
        ("intent: Hum\nnumber: carry\nwant: sideways\n\nWell done.\n",
         [(1, Code.NOTES_UNMARKED), (3, Code.WANT_UNREADABLE)]),
        ("---\nintent: Hum\nnumber: carry\nwant: sideways\n\nWell done.\n",
         [(1, Code.NOTES_NOT_CLOSED), (4, Code.WANT_UNREADABLE)]),
        ("Absicht：Summen\nZahl: carry\n\nGut gemacht.\n",
         [(1, Code.NOTES_UNMARKED), (1, Code.NO_SPACE_AFTER_COLON), (1, Code.KEY_FOREIGN),
          (2, Code.KEY_FOREIGN)]),
        ('---\nintent: Hum: low\nclub: broomstick\nwant: "38 to 44 m\n---\n',
         [(2, Code.COLON_IN_WORDS), (3, Code.WORD_UNKNOWN), (4, Code.QUOTE_NOT_CLOSED)]),
        ("- **intent:** Hum\n- **number:** carry\n", [(1, Code.NOTES_UNMARKED)]),
        ("Great lesson today.\n" * 20 + "---\nintent: Hum\n---\n", [(22, Code.NOTES_UNMARKED)]),
    ],
)  # fmt: skip
def test_all_faults_are_told_in_one_go(
    write: Write, text: str, faults: list[tuple[int, Code]]
) -> None:
    seen = told(write(text))
    assert [fault for fault in faults if fault not in seen] == []


@pytest.mark.parametrize(
    "text",
    [
        ("intent: Hum\nnumber: carry\nwant: higher\nshots:\n  before: 1-10\n  after: 11-20\n\n"
        "Well done.\n"),
        "---\nintent: Hum\nnumber: carry\nwant: higher\n" + SPANS + "\n\nWell done.\n",
        ("Absicht: Hum\nZahl: carry\nSoll: higher\nSchläge: {before: 1-10, after: 11-20}\n\n"
        "Well done.\n"),
        "[11.04.27, 10:21] Ines: ---\nintent: Hum\nnumber: carry\nwant: higher\n" + SPANS
        + "\n---\n[11.04.27, 10:25] Ines: Well done.\n",
    ],
)  # fmt: skip
def test_what_is_offered_at_once_makes_the_lesson_whole(write: Write, text: str) -> None:
    root = write(text)
    pasted(root)
    assert told(root) == []
    lesson, _ = read(root)
    assert lesson is not None
    assert (lesson.notes.intent, lesson.notes.words) == ("Hum", "Well done.")
    assert lesson.notes.declaration is not None
    assert len(lesson.notes.spans) == 2


def test_words_that_are_no_keys_stay_words(write: Write) -> None:
    text = "Today: a good start.\nAnother time: more.\nBall: position forward.\n- one\n"
    lesson, problems = read(write(text))
    assert problems == ()
    assert lesson is not None
    assert lesson.notes.words == text.strip()


# What a trial with notes as busy coaches type them brought to light.


def test_lines_for_one_place_do_not_take_each_other_back(write: Write) -> None:
    root = write("---\nSchläge：{vorher: 1-10, nachher: 11-20}\nZahl: carry\nSoll: höher\n---\n")
    by_line: dict[int, set[str]] = {}
    for problem in check(root, None).problems:
        for fix in problem.fixes:
            for edit in fix.edits:
                if edit.file == NOTES:
                    by_line.setdefault(edit.first_line, set()).update(edit.lines)
    assert by_line == {
        2: {"shots: {vorher: 1-10, nachher: 11-20}"},
        3: {"number: carry"},
        4: {"want: higher"},
    }


@pytest.mark.parametrize("line", ["shots：{before: 1-10}", "intent:say: hum", "intent：say: hum"])
def test_a_key_with_another_colon_behind_it_is_not_another_key(write: Write, line: str) -> None:
    faults = [p for p in check(write(f"---\n{line}\n---\n"), None).problems if p.where.line == 2]
    assert [(p.code, p.cost) for p in faults] == [(Code.NO_SPACE_AFTER_COLON, Cost.STUDENT)]
    assert faults[0].fixes


@pytest.mark.parametrize(
    ("shots", "line"),
    [
        ("before 1-10, after 11-20", "shots: {before: 1-10, after: 11-20}"),
        ("before 1 to 10 after 11 to 20", "shots: {before: 1-10, after: 11-20}"),
        ("vorher: 1–10; nachher: 11–20", "shots: {before: 1-10, after: 11-20}"),
        ("前１－１０、後１１－２０", "shots: {before: 1-10, after: 11-20}"),
        ("{before:1-10, after:11-20}", "shots: {before: 1-10, after: 11-20}"),
    ],
)
def test_stretches_without_braces_or_blanks_are_never_lost(
    write: Write, shots: str, line: str
) -> None:
    root = write(f"---\nintent: Hum\nnumber: carry\nwant: higher\nshots: {shots}\n---\n")
    faults = [p for p in check(root, None).problems if p.where.line == 5]
    assert [p.cost for p in faults] == [Cost.STUDENT]
    if faults[0].code is not Code.COLON_IN_WORDS:
        assert [e.lines for f in faults[0].fixes for e in f.edits] == [(line,)]


def test_keys_in_a_list_and_in_bold_are_offered_as_keys(write: Write) -> None:
    root = write(
        "Lesson 11 April\n\n- **Intent**: Hum\n- **Number**: carry\n• Want: higher\n\nDone.\n"
    )
    assert told(root)[0] == (3, Code.NOTES_UNMARKED)
    pasted(root)
    assert (root / NOTES).read_text("utf-8") == (
        "---\nIntent: Hum\nNumber: carry\nWant: higher\n---\nLesson 11 April\n\nDone.\n"
    )


def test_every_fault_of_a_hurried_head_is_told_at_once(write: Write) -> None:
    text = "--\nintent:Hum\nclub;7 iron\nnumbr: carry\nwant higher\nmatters: 3 m\n\nWell done.\n"
    root = write(text)
    assert set(told(root)) == {
        (2, Code.NOTES_UNMARKED),
        (2, Code.NO_SPACE_AFTER_COLON),
        (3, Code.NOT_KEYS),
        (4, Code.KEY_MISSPELT),
        (5, Code.NOT_KEYS),
    }
    pasted(root)
    pasted(root)
    assert (root / NOTES).read_text("utf-8") == (
        "---\nintent: Hum\nclub: 7 iron\nnumber: carry\nwant: higher\nmatters: 3 m\n---\n\n"
        "Well done.\n"
    )


def test_all_tabs_are_offered_as_blanks_at_once(write: Write) -> None:
    root = write("---\nshots:\n\tbefore:\t1-10\n\tafter:\t11-20\n---\n")
    pasted(root)
    assert told(root) == []
    lesson, _ = read(root)
    assert lesson is not None
    assert len(lesson.notes.spans) == 2


def test_nothing_moved_is_read_in_other_tongues_and_offered(write: Write) -> None:
    lesson, problems = read(write("---\nintent: Hum\nmoved: nada\n---\n"))
    assert problems == ()
    assert lesson is not None
    assert lesson.notes.moved == ()
    root = write("---\nintent: Hum\nmoved: zilch\n---\n")
    (problem,) = [p for p in check(root, None).problems if p.where.file == NOTES]
    assert problem.fixes[0].edits[0].lines == ("moved: nothing",)


def test_words_in_straight_quotes_are_left_alone() -> None:
    for line in ('intent: "say:\u00a0“x”, now"', "intent: 'a:\u202fb'", 'want: {"a:\u00a0b": “c”}'):
        assert as_meant(line).count("\u00a0") == line.count("\u00a0")
        assert as_meant(line).count("\u202f") == line.count("\u202f")
