from collections.abc import Iterator

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recapgen.intake.yaml_map import ListNode, MapNode, Node, Scalar, plain_key, read_map
from recapgen.model.problem import Code
from recapgen.model.source import SourceRef


def keyed(text: str) -> MapNode:
    value, problems = read_map(text, "f")
    assert problems == ()
    assert value is not None
    return value


def texts(text: str) -> dict[str, str]:
    return {e.key: e.value.text for e in keyed(text).entries if isinstance(e.value, Scalar)}


def fault(text: str) -> tuple[Code, int | None, int | None]:
    value, (problem,) = read_map(text, "f")
    assert value is None
    return problem.code, problem.where.line, problem.where.column


def places(node: Node) -> Iterator[SourceRef]:
    yield node.where
    if isinstance(node, Scalar) and node.cut is not None:
        yield node.cut
    for item in node.items if isinstance(node, ListNode) else ():
        yield from places(item)
    for entry in node.entries if isinstance(node, MapNode) else ():
        yield entry.where
        yield from places(entry.value)


def test_values_stay_as_typed() -> None:
    assert texts("target: 070\ntime: 10:30\nindoors: yes\nsize: 1e3\nnone: ~\nday: 2027-04-11") == {
        "target": "070",
        "time": "10:30",
        "indoors": "yes",
        "size": "1e3",
        "none": "~",
        "day": "2027-04-11",
    }


def test_keys_and_values_know_their_place() -> None:
    first, second = keyed("club: 7 iron\nclips:\n  - {file: a.mov, shot: 12}\n").entries
    assert (first.where, first.value.where) == (SourceRef("f", 1, 1), SourceRef("f", 1, 7))
    assert isinstance(second.value, ListNode)
    clip = second.value.items[0]
    assert isinstance(clip, MapNode)
    assert [e.where.column for e in clip.entries] == [6, 19]
    assert [e.value.where.column for e in clip.entries] == [12, 25]
    assert clip.where == SourceRef("f", 3, 5)


def test_lines_are_counted_from_the_first_of_the_file() -> None:
    value, _ = read_map("\n\nclub: driver", "f", first_line=2)
    assert value is not None
    assert value.entries[0].where.line == 4


@pytest.mark.parametrize("text", ["", "\n\n", "# only a comment\n", "---\n"])
def test_nothing_is_no_keys(text: str) -> None:
    assert keyed(text).entries == ()


@pytest.mark.parametrize(
    ("line", "cut"),
    [
        ("intent: Keep to the #1 thought", 21),
        ("intent: Keep to the # one", 21),
        ("intent: Hum   #one", 15),
        ("intent: #1 thought", 9),
        ("intent: Hum  # a comment", None),
        ("intent: Hum\n# a comment", None),
        ("intent: Hum#1", None),
        ('intent: "Keep to the #1 thought"', None),
    ],
)
def test_words_cut_off_by_a_hash_are_told_from_comments(line: str, cut: int | None) -> None:
    words = keyed(line).entries[0].value
    assert isinstance(words, Scalar)
    assert (words.cut.column if words.cut else None) == cut


@pytest.mark.parametrize(
    ("text", "code", "line", "column"),
    [
        ("intent: Remember: hum", Code.COLON_IN_WORDS, 1, 17),
        ("a: {b: c: d}", Code.COLON_IN_WORDS, 1, 9),
        ("a: 1\nintent:Hum\nclub: driver", Code.NO_SPACE_AFTER_COLON, 2, 1),
        ("intent:Hum", Code.NO_SPACE_AFTER_COLON, 1, 1),
        ("intent: *really* hum", Code.NEEDS_QUOTES, 1, 9),
        ("intent: &hum", Code.NEEDS_QUOTES, 1, 9),
        ("intent: &hum this", Code.NEEDS_QUOTES, 1, 9),
        ("intent: !hum", Code.NEEDS_QUOTES, 1, 9),
        ("intent: !!python/object:os.system hum", Code.NEEDS_QUOTES, 1, 9),
        ("want: > 40 m", Code.NEEDS_QUOTES, 1, 7),
        ("says: @ease", Code.NEEDS_QUOTES, 1, 7),
        ("says: %hum", Code.NEEDS_QUOTES, 1, 7),
        ("a: -", Code.NEEDS_QUOTES, 1, 4),
        ('feels: "soft" hands', Code.WORDS_AFTER_QUOTE, 1, 15),
        ("feels: 'it's'", Code.WORDS_AFTER_QUOTE, 1, 12),
        ('a: 1\nfeels: "soft', Code.QUOTE_NOT_CLOSED, 2, 8),
        ("kind: [a, b\nclub: driver", Code.BRACKET_NOT_CLOSED, 1, 7),
        ("shots: {a: 1", Code.BRACKET_NOT_CLOSED, 1, 8),
        ("a:\n\tb: c", Code.TAB_BEFORE_KEY, 2, 1),
        ("[" * 10 + "]" * 10, Code.TOO_DEEP, 1, 10),
        ("a: 1\nsome words\nclub: driver", Code.NOT_KEYS, 2, 1),
        ("- a\n- b", Code.NOT_KEYS, 1, 1),
        ("Hum one even note", Code.NOT_KEYS, 1, 1),
        ("? [a, b]\n: c", Code.NOT_KEYS, 1, 3),
        ("a: b\n---\nc: d", Code.NOT_KEYS, 2, 1),
        ('a: "\\q"', Code.LAYOUT_BROKEN, 1, 4),
        ('a: "\\UFFFFFFFF"', Code.LAYOUT_BROKEN, 1, 1),
        ('a: 1\nb: "\\u202e"', Code.HIDDEN_CHARACTER, 2, 4),
        ('a: "\\ud800"', Code.HIDDEN_CHARACTER, 1, 4),
        ("a: " + "x" * 100_000, Code.FILE_TOO_BIG, 1, 1),
    ],
)
def test_what_cannot_be_read_is_told_where_it_stands(
    text: str, code: Code, line: int, column: int
) -> None:
    assert fault(text) == (code, line, column)


def test_aliases_are_never_followed() -> None:
    doubling = "a: &a [x, x]\n" + "".join(
        f"{c}: [*{p}, *{p}]\n" for p, c in zip("ab", "bc", strict=True)
    )
    assert faults(doubling) == [(Code.NEEDS_QUOTES, line) for line in (1, 2, 3)]


def test_a_key_is_the_same_in_any_dress() -> None:
    assert {
        plain_key(k) for k in ("Feels_Like", "feels-like", " feels  like", "feels\u200b like")
    } == {"feels like"}


@given(st.text(alphabet=st.sampled_from("ab:# -\n\t\"'[]{},?&*!|>%@0é"), max_size=60))
@settings(max_examples=600)
def test_any_text_gives_keys_or_problems_inside_it(text: str) -> None:
    value, problems = read_map(text, "f", first_line=3)
    assert (value is None) == bool(problems)
    lines = text.split("\n")
    wheres = [p.where for p in problems] if value is None else list(places(value))
    for where in wheres:
        assert where.line is not None
        assert where.column is not None
        assert 3 <= where.line < 3 + len(lines)
        assert 1 <= where.column <= len(lines[where.line - 3]) + 1


NAMES = st.from_regex(r"[a-z]{1,8}( [a-z]{1,6})?", fullmatch=True)
VALUES = st.from_regex(r"[a-zé0-9]([a-zé0-9 .,/%-]{0,20}[a-z0-9])?", fullmatch=True)


@given(st.dictionaries(NAMES, VALUES, max_size=6), st.integers(0, 3))
def test_plain_lines_are_read_back_with_their_places(lines: dict[str, str], blanks: int) -> None:
    gap = " " * (1 + blanks)
    text = "".join(f"{key}:{gap}{value}\n" for key, value in lines.items())
    entries = keyed(text).entries
    assert [(e.key, e.value.text) for e in entries if isinstance(e.value, Scalar)] == list(
        lines.items()
    )
    for number, entry in enumerate(entries, 1):
        assert entry.where == SourceRef("f", number, 1)
        assert entry.value.where == SourceRef("f", number, len(entry.key) + 2 + len(gap))


def faults(text: str) -> list[tuple[Code, int | None]]:
    value, problems = read_map(text, "f")
    assert value is None
    return [(problem.code, problem.where.line) for problem in problems]


def test_each_top_key_s_fault_is_told_at_once() -> None:
    text = (
        "intent: Turn: slowly\nkind: [grip\nclub: 7 iron\nshots:\n\tbefore: 1-6\n"
        "student says: 'it felt\nmoved: nothing\nwant: @2\n"
    )
    assert faults(text) == [
        (Code.COLON_IN_WORDS, 1),
        (Code.BRACKET_NOT_CLOSED, 2),
        (Code.TAB_BEFORE_KEY, 5),
        (Code.QUOTE_NOT_CLOSED, 6),
        (Code.NEEDS_QUOTES, 8),
    ]


@pytest.mark.parametrize(
    "sound",
    [
        "shots: {\nbefore: 1-6,\nafter: 7-12\n}",
        "intent: 'one\ntwo: three'",
        "clips:\n- {file: a.mov}\n- b.mov",
        "# a: remark\n\nintent: Hum",
    ],
)
def test_what_is_sound_beside_a_fault_is_not_blamed(sound: str) -> None:
    assert faults(f"{sound}\nkind: a: b\n") == [(Code.COLON_IN_WORDS, sound.count("\n") + 2)]


def test_a_quote_that_swallows_an_apostrophe_is_told_where_it_opens() -> None:
    assert faults("intent: 'Hum\nclub: it's\nkind: a: b\n") == [
        (Code.QUOTE_NOT_CLOSED, 1),
        (Code.COLON_IN_WORDS, 3),
    ]
