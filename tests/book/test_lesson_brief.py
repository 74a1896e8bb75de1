"""A student's page begins with the brief: what was said, felt, planned, and left to ask."""

from datetime import timedelta

import pytest
from msgspec.structs import replace

from recapgen.model.evidence import Verdict
from recapgen.model.lesson import DrillStep, Practice
from recapgen.model.people import Area
from recapgen.model.practice_log import LogEntry, PracticeLog
from recapgen.model.recap import Recap, StudentRecap
from recapgen.model.source import SourceRef
from recapgen.publish.book_index import entries_of
from recapgen.render.book_pages.for_next_time import left_open, said_for_next_time, shortened
from tests.book.test_book_site import page, site, text
from tests.book.told import FIRST, SECOND, comparison, recap, student


def worded(one: Recap, **notes: object) -> Recap:
    return replace(one, notes=replace(one.notes, **notes))


def brief(marta: StudentRecap) -> str:
    body = page(site(marta), "student-marta.html").partition('class="book-second"')[0]
    return text(body).replace("\u202f", " ").replace("\xa0", " ")


def test_it_tells_the_last_lesson_and_what_was_written_for_the_next() -> None:
    plan = Practice(sessions_per_week=2, weeks=3, steps=(DrillStep("Swing along the wall", 9, 0),))
    last = worded(
        recap("2027-04-25", SECOND, "Brush the feather", comparison(), private="Why so fast?"),
        practice=plan,
        words="You stood up. **Next time** bring the driver. Well done.",
        letting_go_of="keep your head down",
    )
    first = worded(recap(private="Next time: weigh the bag."), usual_miss="a high block")
    told = brief(student(first, last))
    for part in (
        "Last time, 25 April 2027 Brush the feather",
        "The feel rocking a pram",
        "In their words “it felt lazy”",
        "Letting go of keep your head down",
        "Usual miss 11 April 2027: a high block",
        "Your note for next time Next time bring the driver.",
        "Your private notes Why so fast?",
        "Their plan Swing along the wall, 9 balls 2 sessions a week for 3 weeks until 16 May 2027",
        "Still open Why so fast?",
        "What you wrote to them You stood up.",
        "Their plan runs until 16 May 2027",
    ):
        assert part in told, part
    assert "weigh the bag" not in told, "it was for a lesson that has been"
    assert "What miss do they come with" not in told


def test_what_to_test_first_is_the_last_number_with_the_same_club_and_no_cue() -> None:
    early = replace(comparison(verdict=Verdict.TOO_EARLY), balls_needed=14)
    told = brief(student(recap(compared=early), recap("2027-04-25", SECOND)))
    assert (
        "carry, goal higher by at least 2.2 yd. On 11 April 2027: 112 yd before, 122 yd after"
        in told
    )
    assert "Then have them hit 10 balls with the 7 iron" in told
    assert "Don't give any cues" in told
    now = brief(student(recap(compared=early)))
    assert "too early to tell about carry. About 14 balls before and 14 after" in now
    assert "What's their usual miss?" in now
    assert "Test first" not in brief(student(recap()))


def test_the_log_since_then_the_body_and_pain_are_told() -> None:
    days = ((3, 40, False), (20, 30, True), (40, None, None))
    log = PracticeLog(
        tuple(
            LogEntry(
                FIRST + timedelta(ago),
                SourceRef("log"),
                balls=balls,
                pain=pain,
                pain_place="left hip" if pain else None,
            )
            for ago, balls, pain in days
        ),
        kept=True,
    )
    marta = student(recap())
    marta = replace(marta, log=log, student=replace(marta.student, areas=(Area.LOW_BACK,)))
    told = brief(marta)
    assert "Since then (from their log) 3 days, most recently on 21 May 2027 70 balls" in told
    assert "Body and health, as they told you lower back" in told
    nothing = brief(replace(marta, log=PracticeLog(kept=True)))
    assert "Since then (from their log) nothing written down" in nothing
    assert "Since then" not in brief(replace(marta, log=PracticeLog()))


def test_pain_since_the_last_lesson_is_told_however_long_ago() -> None:
    long_ago = FIRST - timedelta(days=70)
    pain = LogEntry(long_ago + timedelta(days=5), SourceRef("log"), pain=True, pain_place="hip")
    marta = replace(student(recap(on=long_ago)), log=PracticeLog((pain,), kept=True))
    assert "They logged pain on 5 February 2027: hip." in brief(marta)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Good day. Next time: hips first!", ("Next time: hips first!",)),
        ("- start with *putting* next lesson\n- rest", ("start with putting next lesson",)),
        (
            "Beim nächsten Mal mit Holz 3 beginnen. Gut.",
            ("Beim nächsten Mal mit Holz 3 beginnen.",),
        ),
        ("La prochaine fois, le bunker.", ("La prochaine fois, le bunker.",)),
        ("次回はパターから。よかった。", ("次回はパターから。",)),
        ("Nothing to mind.", ()),
    ],
)
def test_what_is_for_next_time_is_found_in_the_coach_s_words(
    text: str, said: tuple[str, ...]
) -> None:
    assert said_for_next_time((text, None, text)) == said


def test_questions_are_what_ends_as_one_or_is_to_be_asked() -> None:
    told = "Is the hip sore? Ask about the move. Asking helps. Ask again next time."
    assert left_open((told,)) == ("Is the hip sore?", "Ask about the move.")


def test_long_words_are_cut_where_a_part_ends_and_lead_to_the_rest() -> None:
    text = "One part.\n\nA second part. It goes on."
    assert shortened(text, 100) == (text, False)
    assert shortened(text, 25) == ("One part.", True)
    assert shortened("Some words. More of them.", 14) == ("Some words.", True)
    assert shortened("x" * 30, 14) == ("x" * 14, True)
    body = page(site(student(worded(recap(), words="Long words. " * 99))), "student-marta.html")
    assert 'href="#lesson-2027-04-11-k3f9">Read the rest' in body


def test_the_search_finds_words_private_words_misses_and_drills_at_their_lesson() -> None:
    plan = Practice(steps=(DrillStep("Swing along the wall", 9, 0),))
    first = recap(private="Two cushions in the car.")
    first = worded(first, words="You stood up tall.", usual_miss="a high block", practice=plan)
    marta = student(first, recap("2027-04-25", SECOND))
    found = entries_of(
        next(each for each in site(marta).pages if each.path == "student-marta.html")
    )
    (at,) = [each for each in found if each[0].endswith("#lesson-2027-04-11-k3f9")]
    assert at[1] == "Marta, 11 April 2027"
    for words in ("Two cushions", "stood up tall", "a high block", "along the wall"):
        assert words in at[3], words
    assert not [each for each in found if "Here's your page" in each[3]]
