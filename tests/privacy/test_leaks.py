"""Nobody's name on another's page; ordinary words stay ordinary."""

import unicodedata
from html import escape

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from recapgen.model.people import Agreed, Coach, Guardian, Student
from recapgen.model.problem import Code, Cost
from recapgen.model.source import SourceRef
from recapgen.privacy.forbidden import Named, forbidden_in
from recapgen.privacy.leaks import leaks
from recapgen.privacy.names import Vocabulary
from recapgen.tools.html_reading import ReadSite, read_html

WORDS = Vocabulary(
    frozenset({"will", "may", "mark", "rose", "shot", "short", "game", "the", "group"}),
    frozenset({"may", "april"}),
    ("An earlier injury is the steadiest sign (Smith 2018).",),
)
COACH = Coach("Ines Falk", place="Harbour range")
OWN = Student("jonas-b", "Jonas")
WHERE = SourceRef("jonas-b/student.yml")
PRIVATE = "He is thinking of giving up after the winter because of the divorce. Ask gently."


def found(
    body: str,
    *everyone: Named,
    own: Student | None = OWN,
    path: str = "index.html",
    css: str = "",
) -> list[tuple[Code, str]]:
    page = read_html(
        f"<!doctype html><html><head><title>t</title></head><body>{body}</body></html>"
    )
    site = ReadSite({path: page}, {"assets/card.css": css}, {path: 1, "assets/card.css": 1})
    forbidden = forbidden_in(
        own,
        [Named("Jonas", "jonas-b"), *everyone],
        coach=COACH,
        private=[PRIVATE],
        root="/home/ines/lessons",
        vocabulary=WORDS,
    )
    problems = leaks(site, forbidden, WHERE, Cost.STUDENT)
    assert {p.where for p in problems} <= {WHERE}
    return sorted({(p.code, p.facts["word"]) for p in problems}, key=str)


def test_what_nobody_reads_names_nobody() -> None:
    body = (
        "<link rel='icon' href='data:image/svg+xml,<circle cx=1>Cyril Basil'>"
        "<img src='assets/figtree-zorba.woff2' srcset='assets/zorba.png 2x' alt=''>"
        "<svg class='zorba' id='zorba' viewBox='0 0 1 1'><circle cx='1' fill='zorba'/></svg>"
        "<meta name='theme-color' content='zorba'><a href='#zorba'>x</a>"
        "<style>@font-face { font-family: Zorba }</style>"
    )
    assert found(body, *(Named(name, "7") for name in ("Zorba", "Cx", "Cyril", "Svg"))) == []
    assert found("", Named("Zorba", "7"), path="assets/zorba-basic.html") == []


@pytest.mark.parametrize(
    ("body", "name"),
    [
        ("<meta name='description' content='as with Marta'>", "Marta"),
        ("<meta property='og:title' content='as with Marta'>", "Marta"),
        ("<img src='x.png' aria-description='Marta'>", "Marta"),
        ("<a href='https://example.org/marta-lind.mp4' rel='noreferrer'>x</a>", "Marta"),
        ("<a href='mailto:marta@example.org'>x</a>", "Marta"),
        ("<p>as with Anna-Lena</p>", "Anna-Lena"),
        ("<p>like Anna-Lena’s</p>", "Anna"),
        ("<p>wie Martas Schwung</p>", "Marta"),
        ("<p>as Mueller and Soren do</p>", "Müller"),
        ("<p>as Mueller and Soren do</p>", "Søren"),
        ("<p>MÜLLER SAID SO</p>", "Müller"),
        ("<p>like Martaさん</p>", "Marta"),
        ("<p>अंजली की तरह</p>", "अंजली"),
        ("<p>как Марта</p>", "Марта"),
        ("<p>ეკა said so</p>", "ეკა"),
        ("<p>as Bašić does</p>", "Bašić"),
        ("<p>as Basic does</p>", "Bašić"),
    ],
)
def test_a_mention_is_found_wherever_it_is_read(body: str, name: str) -> None:
    assert found(body, Named(name, "x9")) == [(Code.OTHER_STUDENT_NAMED, name)]


@pytest.mark.parametrize(
    ("body", "name"),
    [
        ("<p>Jonas, a little later</p>", "jonas-a"),
        ("<p>keep the shot short</p>", "shot"),
        ("<p>Zorba and his tin can</p>", "zorba tin-can"),
    ],
)
def test_a_folders_name_needs_its_own_signs(body: str, name: str) -> None:
    assert found(body, Named("Q.", name)) == []


def test_the_coachs_own_lines_are_looked_at_on_the_card_alone() -> None:
    coach = Coach("Ines Falk", footer="With thanks to Marta.", contact="marta@example.org")
    page = read_html("<p>With thanks to Marta.</p><p>marta@example.org</p>")
    for own, seen in ((OWN, 0), (None, 1)):
        forbidden = forbidden_in(
            own, [MARTA], coach=coach, private=[], root="/x/y", vocabulary=WORDS
        )
        site = ReadSite({"a.html": page}, {}, {"a.html": 1})
        assert len(leaks(site, forbidden, WHERE, Cost.STUDENT)) == seen


@pytest.mark.parametrize(
    ("root", "body", "seen"),
    [
        ("/l", "<ul><li>x</li></ul>", False),
        ("/lessons", "<a href='https://example.org/lessons/x' rel='noreferrer'>x</a>", False),
        ("/srv/golf", "<p>https://example.org/srv/golf</p>", False),
        ("/srv/golf", "<p>found in /srv/golf/mara</p>", True),
    ],
)
def test_the_path_is_looked_for_as_a_path(root: str, body: str, *, seen: bool) -> None:
    forbidden = forbidden_in(OWN, [], coach=COACH, private=[], root=root, vocabulary=WORDS)
    site = ReadSite({"a.html": read_html(body)}, {}, {"a.html": 1})
    assert bool(leaks(site, forbidden, WHERE, Cost.STUDENT)) is seen


MARTA = Named("Marta", "marta-lind")
NAMED = [(Code.OTHER_STUDENT_NAMED, "Marta")]


@pytest.mark.parametrize(
    "body",
    [
        "<p>as with Marta last week</p>",
        "<p>as with MARTA's swing</p>",
        "<p>marta</p>",
        "<p>M<b>ar</b>ta</p>",
        "<p>Mar&#116;a</p>",
        "<p>Mar\u200bta</p>",
        "<p>Márta</p>",
        f"<p>{unicodedata.normalize('NFD', 'Mártá')}</p>",
        "<img src='x.png' alt='Marta at impact'>",
        "<p title='like Marta'>x</p>",
        "<a href='marta.html'>x</a>",
        "<p data-who='Marta'>x</p>",
        "<!-- Marta -->",
        "<svg><title>Marta</title><desc>x</desc></svg>",
        '<script type=\'application/json\'>{"who": "Marta"}</script>',
    ],
)
def test_a_name_is_found_however_it_is_hidden(body: str) -> None:
    assert found(body, MARTA) == NAMED


@pytest.mark.parametrize(
    "body", ["<p>Martagon lilies</p>", "<p>smarta</p>", "<p>Mar ta</p>", "<p>Mar</p><p>ta</p>"]
)
def test_only_whole_words_count(body: str) -> None:
    assert found(body, MARTA) == []


def test_a_file_may_not_be_named_after_somebody() -> None:
    assert found("", MARTA, path="films/2027-marta.html") == NAMED


def test_folder_names_count_others_and_own() -> None:
    assert found("<p>see marta-lind/notes.md</p>", Named("M.", "marta-lind")) == [
        (Code.FOLDER_NAME_SHOWN, "marta-lind")
    ]
    assert found("<p>jonas_B</p>") == [(Code.FOLDER_NAME_SHOWN, "jonas-b")]


def test_the_path_of_the_lessons_counts() -> None:
    assert found("<p>/home/ines/lessons/x</p>") == [(Code.FOLDER_NAME_SHOWN, "/home/ines/lessons")]


@pytest.mark.parametrize(
    ("body", "name", "expected"),
    [
        ("<p>You will feel it. Will it hold? may be</p>", "Will", False),
        ("<p>as I told Will yesterday</p>", "Will", True),
        ("<p>you WILL feel it</p>", "Will", False),
        ("<h2>Mark the ball</h2><p>(Mark it)</p>", "Mark", False),
        ("<p>11 May 2027</p><p>in May</p>", "May", False),
        ("<p>in April</p>", "April", False),
        ("<p>as with April B.</p>", "April B.", True),
        ("<p>I told Will yesterday</p>", "Will B.", False),
        ("<p>I told will b. yesterday</p>", "Will B.", True),
        ("<p>you will mark the ball</p>", "Will Mark", False),
        ("<p>Will Mark said so</p>", "Will Mark", True),
        ("<p>the Baker drill</p>", "Will Baker", True),
    ],
)
def test_ordinary_words_stay_ordinary(body: str, name: str, expected: bool) -> None:
    hits = found(body, Named(name, "7"))
    assert hits == ([(Code.OTHER_STUDENT_NAMED, name)] if expected else [])


def test_a_name_typed_small_is_looked_for_with_its_capital() -> None:
    assert found("<p>you will feel it</p>", Named("will", "will")) == []
    assert found("<p>as I told Will yesterday</p>", Named("will", "will")) == [
        (Code.OTHER_STUDENT_NAMED, "Will")
    ]


@pytest.mark.parametrize(
    ("body", "expected"),
    [
        ("<p>You told us. An earlier injury is the steadiest sign (Smith 2018).</p>", False),
        ("<p>An earlier injury is the steadiest sign (Smith 2018). Like Smith.</p>", True),
        ("<p>An earlier injury, said Smith, is a sign.</p>", True),
    ],
)
def test_a_cited_author_is_no_student(body: str, *, expected: bool) -> None:
    hits = found(body, Named("Anna Smith", "7"))
    assert hits == ([(Code.OTHER_STUDENT_NAMED, "Anna Smith")] if expected else [])


@pytest.mark.parametrize("key", ["short game", "2", "the group 3", "game"])
def test_a_folder_of_ordinary_words_is_no_name(key: str) -> None:
    assert found("<p>the short game, 2 of the group 3</p>", Named("Q.", key)) == []


@pytest.mark.parametrize("name", ["Jonas", "Ines", "Falk", "Harbour"])
def test_words_that_belong_on_the_page_never_count(name: str) -> None:
    assert found("<p>Jonas, Ines Falk, Harbour range</p>", Named(name, "9")) == []


def test_a_page_of_nobody_names_nobody() -> None:
    assert found("<p>Jonas</p>", own=None) == [(Code.OTHER_STUDENT_NAMED, "Jonas")]


@pytest.mark.parametrize(
    ("body", "leaks_out"),
    [
        ("<p>Thinking of giving up after the winter, because of the divorce</p>", True),
        ("<p>ask gently</p>", False),
        ("<p>He is thinking of giving the ball a ride after the winter</p>", False),
    ],
)
def test_private_words_stay_private(body: str, leaks_out: bool) -> None:
    codes = [code for code, _ in found(body)]
    assert codes == ([Code.PRIVATE_WORDS_SHOWN] if leaks_out else [])


@pytest.mark.parametrize(
    "body",
    [
        "<img src='https://example.org/a.png'>",
        "<img src='//example.org/a.png'>",
        "<img src='a.png' srcset='a.png 1x, https://example.org/b.png 2x'>",
        "<video poster='http://example.org/p.jpg'></video>",
        "<link rel='stylesheet' href='https://example.org/a.css'>",
        "<svg><image href='https://example.org/a.png'/></svg>",
        "<svg><use xlink:href='https://example.org/a.svg#x'/></svg>",
        "<a href='https://example.org/'>not private</a>",
        "<a href='javascript:alert(1)' rel='noreferrer'>x</a>",
        "<a href=' java\nscript:alert(1)' rel='noreferrer'>x</a>",
        "<a href='data:text/html,hi' rel='noreferrer'>x</a>",
        "<iframe src='\\\\example.org/a'></iframe>",
        "<form action='https://example.org/'></form>",
    ],
)
def test_nothing_comes_from_outside(body: str) -> None:
    assert [code for code, _ in found(body)] == [Code.OUTSIDE_ADDRESS]


@pytest.mark.parametrize(
    "css",
    [
        "a { background: url(https://example.org/a.png) }",
        'a { background: url( "//example.org/a.png" ) }',
        '@import "https://example.org/a.css";',
        "@import url('https://example.org/a.css');",
    ],
)
def test_no_stylesheet_fetches_from_outside(css: str) -> None:
    assert [code for code, _ in found("", css=css)] == [Code.OUTSIDE_ADDRESS]


@pytest.mark.parametrize(
    "body",
    [
        "<a href='https://example.org/' rel='noopener noreferrer'>plain</a>",
        "<a href='mailto:lessons@example.org'>write</a>",
        "<a href='2027-04-11-bcdf.html#how-sure'>x</a>",
        "<img src='data:image/png;base64,AAAA' alt=''>",
        "<p>https://example.org/ as text</p>",
    ],
)
def test_what_stays_inside_or_is_a_plain_link_may_stay(body: str) -> None:
    assert found(body) == []


@given(st.text(max_size=40), st.text(max_size=40))
def test_no_text_hides_a_name_standing_between_blanks(before: str, after: str) -> None:
    assert NAMED[0] in found(f"<p>{escape(before)} Marta {escape(after)}</p>", MARTA)


@pytest.mark.parametrize(
    ("body", "name"),
    [
        ("<p>先週の田中さんと同じです。</p>", "田中 花子"),
        ("<p>花子のように振る。</p>", "田中 花子"),
        ("<p>지훈이처럼 휘둘러요.</p>", "지훈"),
        ("<p>ミナミさんの球</p>", "ミナミ"),
        (f"<p>{unicodedata.normalize('NFD', '지훈이처럼')}</p>", "지훈"),
    ],
)
def test_a_name_is_found_where_no_blank_stands_round_it(body: str, name: str) -> None:
    assert found(body, Named(name, "x9")) == [(Code.OTHER_STUDENT_NAMED, name)]


@pytest.mark.parametrize(
    ("body", "name"),
    [
        ("<p>지순이처럼</p>", "지수"),  # a syllable is not met in half of another
        ("<p>愛のある球</p>", "愛"),  # one letter is too little to tell
        ("<p>球の高さが高い</p>", "高さ"),  # words of our own sentences
        ("<p>조건은 서로 달라요</p>", "은서"),  # a blank stands between
    ],
)
def test_no_name_is_seen_in_other_words_without_blanks(body: str, name: str) -> None:
    page = read_html(f"<body>{body}</body>")
    own_words = Vocabulary(frozenset({"球の高さが出る"}), frozenset())
    forbidden = forbidden_in(
        OWN, [Named(name, "x9")], coach=COACH, private=[], root="/x", vocabulary=own_words
    )
    assert (
        leaks(ReadSite({"a.html": page}, {}, {"a.html": 1}), forbidden, WHERE, Cost.STUDENT) == ()
    )


@pytest.mark.parametrize(
    ("body", "leaks_out"),
    [("離婚のことで冬の後にやめるかもしれないので", True), ("冬の後にやめる", False)],
)
def test_private_words_without_blanks_stay_private(body: str, leaks_out: bool) -> None:
    private = "離婚のことで冬の後にやめるかもしれない。そっと聞く。"
    forbidden = forbidden_in(OWN, [], coach=COACH, private=[private], root="/x", vocabulary=WORDS)
    site = ReadSite({"a.html": read_html(f"<body><p>{body}</p></body>")}, {}, {"a.html": 1})
    problems = leaks(site, forbidden, WHERE, Cost.STUDENT)
    assert [p.code for p in problems] == ([Code.PRIVATE_WORDS_SHOWN] if leaks_out else [])


def test_a_word_that_is_always_written_large_is_no_name() -> None:
    page = ReadSite({"a.html": read_html("<p>Der flache Winkel zählt.</p>")}, {}, {"a.html": 1})
    for capitals, seen in ((frozenset({"winkel"}), 0), (frozenset[str](), 1)):
        spoken = Vocabulary(frozenset({"winkel"}), frozenset(), capitals=capitals)
        forbidden = forbidden_in(
            OWN, [Named("Winkel", "w7")], coach=COACH, private=[], root="/x", vocabulary=spoken
        )
        assert len(leaks(page, forbidden, WHERE, Cost.STUDENT)) == seen


@pytest.mark.parametrize("guardian", ["Zorba Quirke", "Mrs. Quirke", "zorba quirke"])
def test_who_agreed_for_another_student_is_a_name_too(guardian: str) -> None:
    other = Named("Ann", "7", (guardian,))
    for own in (OWN, None):
        assert {code for code, _ in found("Ask Quirke about it.", other, own=own)} == {
            Code.GUARDIAN_NAMED
        }
    assert found("Ask Mrs Miller, or Dr Miller.", other) == []


def test_ones_own_guardian_is_no_stranger() -> None:
    other = Named("Ann", "7", ("Zorba Quirke",))
    agreed = Agreed(guardian=Guardian("zorba Quirke", "aunt"))
    for own in (replace(OWN, agreed=agreed), replace(OWN, answers=(agreed, Agreed()))):
        assert found("Ask Zorba Quirke to film it.", other, own=own) == []
