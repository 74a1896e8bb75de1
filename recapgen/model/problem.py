"""Faults in what the coach dropped, as values: all at once, never a traceback."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from enum import Enum
from typing import Generic, NamedTuple, TypeVar

from recapgen.model.cost import Cost, Severity
from recapgen.model.fix import Fix, Offer
from recapgen.model.row_rules import RowRule
from recapgen.model.source import SourceRef

__all__ = ["Checked", "Code", "Cost", "Problem", "Severity", "in_order", "speaks_against"]

T = TypeVar("T")


class Code(Enum):
    """Every problem the tool can report: its name in the handbook, and what it costs.

    The sentences (found, expected, fix) are in ``words``, under ``problem.<name>``.
    """

    slug: str
    cost: Cost

    def __init__(self, slug: str, cost: Cost) -> None:
        self.slug = slug
        self.cost = cost

    # the folder
    FOLDER_MISSING = ("folder-missing", Cost.RUN)
    LESSONS_NOT_THERE = ("lessons-not-there", Cost.RUN)
    STUDENT_FOLDER_GIVEN = ("student-folder-given", Cost.RUN)
    LESSON_FOLDER_GIVEN = ("lesson-folder-given", Cost.RUN)

    # files and folders
    LINK_OUTSIDE = ("link-outside", Cost.STUDENT)
    NAME_UNPRINTABLE = ("name-unprintable", Cost.STUDENT)
    FILE_TWICE = ("file-twice", Cost.STUDENT)
    FILE_UNREADABLE = ("file-unreadable", Cost.STUDENT)
    FILE_TOO_BIG = ("file-too-big", Cost.STUDENT)
    NOT_UTF8 = ("not-utf-8", Cost.STUDENT)
    HIDDEN_CHARACTER = ("hidden-character", Cost.STUDENT)
    FILES_WITHOUT_NOTES = ("files-without-notes", Cost.STUDENT)
    NOTES_MISNAMED = ("notes-misnamed", Cost.STUDENT)
    FILES_BELOW_LESSON = ("files-below-lesson", Cost.STUDENT)
    LESSON_WITHOUT_DATE = ("lesson-without-date", Cost.STUDENT)
    LESSON_DATE_IMPOSSIBLE = ("lesson-date-impossible", Cost.STUDENT)
    LESSON_FAR_AHEAD = ("lesson-far-ahead", Cost.NOTHING)
    LESSON_TWICE = ("lesson-twice", Cost.STUDENT)
    STUDENT_TWICE = ("student-twice", Cost.STUDENT)
    LESSON_OUTSIDE_STUDENT = ("lesson-outside-student", Cost.STUDENT)
    STRAY_FILE = ("stray-file", Cost.NOTHING)
    NO_STUDENTS = ("no-students", Cost.NOTHING)
    STUDENT_WITHOUT_LESSONS = ("student-without-lessons", Cost.NOTHING)
    QUESTION_BESIDE_NOTES = ("question-beside-notes", Cost.STUDENT)
    QUESTION_IN_NOTES = ("question-in-notes", Cost.STUDENT)
    QUESTION_WITH_SHOTS = ("question-with-shots", Cost.NOTHING)
    QUESTION_EMPTY = ("question-empty", Cost.STUDENT)
    QUESTION_OPEN = ("question-open", Cost.NOTHING)
    QUESTION_AHEAD = ("question-ahead", Cost.STUDENT)
    ANSWER_MISSING = ("answer-missing", Cost.STUDENT)
    ANSWERED_BEFORE_ASKED = ("answered-before-asked", Cost.STUDENT)
    MORE_PROBLEMS = ("more-problems", Cost.NOTHING)

    # keys and values, in notes.md and the .yml files
    NOTES_NOT_CLOSED = ("front-matter-not-closed", Cost.STUDENT)
    NOTES_UNMARKED = ("front-matter-unmarked", Cost.STUDENT)
    MESSENGER_TIMES = ("messenger-times", Cost.STUDENT)
    NOT_KEYS = ("not-keys", Cost.STUDENT)
    LAYOUT_BROKEN = ("layout-broken", Cost.STUDENT)
    COLON_IN_WORDS = ("colon-in-words", Cost.STUDENT)
    NEEDS_QUOTES = ("needs-quotes", Cost.STUDENT)
    QUOTE_NOT_CLOSED = ("quote-not-closed", Cost.STUDENT)
    WORDS_AFTER_QUOTE = ("words-after-quote", Cost.STUDENT)
    BRACKET_NOT_CLOSED = ("bracket-not-closed", Cost.STUDENT)
    TAB_BEFORE_KEY = ("tab-before-key", Cost.STUDENT)
    NO_SPACE_AFTER_COLON = ("no-space-after-colon", Cost.STUDENT)
    TOO_DEEP = ("too-deep", Cost.STUDENT)
    LINE_CLEARS_A_BODY = ("line-clears-a-body", Cost.STUDENT)
    LAST_TIME_NONE = ("last-time-none", Cost.STUDENT)
    LAST_TIME_UNSAID = ("last-time-unsaid", Cost.STUDENT)
    LAST_TIME_UNFIT = ("last-time-unfit", Cost.STUDENT)
    CUT_AT_HASH = ("cut-at-hash", Cost.STUDENT)
    KEY_TWICE = ("key-twice", Cost.STUDENT)
    KEY_UNKNOWN = ("key-unknown", Cost.NOTHING)
    KEY_FOREIGN = ("key-in-another-language", Cost.STUDENT)
    KEY_MISSPELT = ("key-misspelt", Cost.STUDENT)
    KEY_MISSING = ("key-missing", Cost.STUDENT)
    ONE_VALUE_EXPECTED = ("one-value-expected", Cost.STUDENT)
    KEYS_EXPECTED = ("keys-expected", Cost.STUDENT)
    TEXT_TOO_LONG = ("text-too-long", Cost.STUDENT)
    TOO_MANY = ("too-many", Cost.STUDENT)
    WORD_UNKNOWN = ("word-unknown", Cost.STUDENT)
    WORD_MISSPELT = ("word-misspelt", Cost.STUDENT)
    NOT_YES_NO = ("not-yes-or-no", Cost.STUDENT)
    NOT_A_NUMBER = ("not-a-number", Cost.STUDENT)
    NUMBER_OUT_OF_RANGE = ("number-out-of-range", Cost.STUDENT)
    DATE_UNREADABLE = ("date-unreadable", Cost.STUDENT)
    DATE_AMBIGUOUS = ("date-ambiguous", Cost.STUDENT)
    DATE_IMPOSSIBLE = ("date-impossible", Cost.STUDENT)
    AMOUNT_UNREADABLE = ("amount-unreadable", Cost.STUDENT)
    AMOUNT_NOTHING = ("amount-nothing", Cost.STUDENT)
    UNIT_MISSING = ("unit-missing", Cost.STUDENT)
    AMOUNT_OUT_OF_RANGE = ("amount-out-of-range", Cost.STUDENT)

    # coach.yml and student.yml
    COACH_FILE_MISSING = ("coach-file-missing", Cost.NOTHING)
    ACCENT_UNREADABLE = ("accent-unreadable", Cost.NOTHING)
    MARK_MISSING = ("mark-missing", Cost.NOTHING)
    MARK_UNUSABLE = ("mark-unusable", Cost.NOTHING)
    INTENT_TWICE = ("intent-twice", Cost.RUN)
    ADDRESS_UNREADABLE = ("address-unreadable", Cost.RUN)
    STUDENT_FILE_MISSING = ("student-file-missing", Cost.NOTHING)
    AGREED_MISSING = ("agreed-missing", Cost.NOTHING)
    AGREEMENT_UNCLEAR = ("agreement-unclear", Cost.STUDENT)
    WITHDRAWAL_ELSEWHERE = ("withdrawal-elsewhere", Cost.STUDENT)
    DAY_MISSING = ("day-missing", Cost.STUDENT)
    AGE_UNCLEAR = ("age-unclear", Cost.STUDENT)
    SIDE_WITHOUT_HAND = ("side-without-hand", Cost.STUDENT)
    BODY_PART_UNKNOWN = ("body-part-unknown", Cost.NOTHING)
    HEALTH_UNKNOWN = ("health-unknown", Cost.NOTHING)

    # notes.md: the number, the shots, the conditions
    WANT_MISSING = ("want-missing", Cost.STUDENT)
    WANT_UNREADABLE = ("want-unreadable", Cost.STUDENT)
    WANT_HAND_NEEDED = ("want-hand-needed", Cost.STUDENT)
    WANT_UPSIDE_DOWN = ("want-upside-down", Cost.STUDENT)
    NUMBER_MISSING = ("number-missing", Cost.STUDENT)
    NUMBER_NOT_IN_SHOTS = ("number-not-in-shots", Cost.STUDENT)
    NUMBER_WITHOUT_SHOTS = ("number-without-shots", Cost.NOTHING)
    NUMBER_NOT_FOLLOWED = ("number-not-followed", Cost.STUDENT)
    NUMBER_NOT_STEADY = ("number-not-steady", Cost.NOTHING)
    FOLLOWED_IN_TWO_VIEWS = ("followed-in-two-views", Cost.STUDENT)
    GUARD_IS_THE_NUMBER = ("guard-is-the-number", Cost.STUDENT)
    SECOND_GUARD = ("second-guard", Cost.STUDENT)
    GUARD_NOT_IN_SHOTS = ("guard-not-in-shots", Cost.STUDENT)
    SPAN_UNREADABLE = ("span-unreadable", Cost.STUDENT)
    SPANS_WITHOUT_BRACKETS = ("spans-without-brackets", Cost.STUDENT)
    SPAN_BACKWARDS = ("span-backwards", Cost.STUDENT)
    SPANS_OVERLAP = ("spans-overlap", Cost.STUDENT)
    SPANS_TIME_OPEN = ("spans-time-open", Cost.STUDENT)
    SHOTS_WITHOUT_TIMES = ("shots-without-times", Cost.STUDENT)
    CLOCKS_DIFFER = ("clocks-differ", Cost.NOTHING)
    MARK_TIME_OPEN = ("mark-time-open", Cost.STUDENT)
    NOTED_TOO_LATE = ("noted-too-late", Cost.STUDENT)
    NOTED_UNCHECKED = ("noted-unchecked", Cost.NOTHING)
    NEXT_DAY_PAST = ("next-day-past", Cost.STUDENT)
    SPAN_BEYOND_SHOTS = ("span-beyond-shots", Cost.STUDENT)
    SPAN_WITHOUT_SHOTS = ("span-without-shots", Cost.STUDENT)
    SHOT_NOT_THERE = ("shot-not-there", Cost.STUDENT)
    SHOTS_WITHOUT_FILE = ("shots-without-file", Cost.NOTHING)
    BLOCK_WITHOUT_SHOTS = ("block-without-shots", Cost.NOTHING)
    BLOCK_TOO_LARGE = ("block-too-large", Cost.STUDENT)
    READING_UNFIT = ("reading-unfit", Cost.STUDENT)
    COUNT_IMPOSSIBLE = ("count-impossible", Cost.STUDENT)
    READINGS_BESIDE_SHOTS = ("readings-beside-shots", Cost.STUDENT)
    SHARE_WITHOUT_MATTERS = ("share-without-matters", Cost.STUDENT)
    SHOT_TWICE = ("shot-twice", Cost.STUDENT)
    REASON_MISSING = ("reason-missing", Cost.STUDENT)
    CLUB_NOT_SAID = ("club-not-said", Cost.STUDENT)
    CLUB_CHANGED = ("club-changed", Cost.STUDENT)
    CLUB_NOT_IN_SHOTS = ("club-not-in-shots", Cost.STUDENT)
    CLUB_CELL_UNKNOWN = ("club-cell-unknown", Cost.STUDENT)
    SWINGS_DIFFER = ("swings-differ", Cost.STUDENT)
    COMPARE_UNREADABLE = ("compare-unreadable", Cost.STUDENT)
    COMPARE_UNFIT = ("compare-unfit", Cost.STUDENT)
    BALLS_DIFFER = ("balls-differ", Cost.STUDENT)
    WIND_INCOMPLETE = ("wind-incomplete", Cost.STUDENT)
    PRESSURE_INCOMPLETE = ("pressure-incomplete", Cost.STUDENT)

    # drills
    DRILL_UNKNOWN = ("drill-unknown", Cost.STUDENT)
    DRILL_MISSPELT = ("drill-misspelt", Cost.STUDENT)
    DRILL_TWICE = ("drill-twice", Cost.NOTHING)
    DRILL_CHANGED = ("drill-changed", Cost.NOTHING)
    DRILL_SHOW_MISSING = ("drill-show-missing", Cost.NOTHING)
    DRILL_NOT_SHOWN = ("drill-not-shown", Cost.NOTHING)

    # clips as the notes and their names tell of them; cases; seals; the log
    CLIP_MISSING = ("clip-missing", Cost.CLIP)
    CLIP_ENDING_OPEN = ("clip-ending-open", Cost.CLIP)
    CLIP_MISNAMED = ("clip-misnamed", Cost.CLIP)
    CLIP_ELSEWHERE = ("clip-elsewhere", Cost.CLIP)
    CLIP_NOT_LISTED = ("clip-not-listed", Cost.NOTHING)
    CLIP_NAME_UNCLEAR = ("clip-name-unclear", Cost.NOTHING)
    CLIP_TWICE = ("clip-twice", Cost.NOTHING)
    CLIP_PLACE_UNREADABLE = ("clip-place-unreadable", Cost.CLIP)
    CLIP_SHOT_NOT_THERE = ("clip-shot-not-there", Cost.CLIP)
    CLIP_IN_ANOTHER_BLOCK = ("clip-in-another-block", Cost.CLIP)
    CLIP_MISHIT = ("clip-mishit", Cost.CLIP)
    HANDLE_UNREADABLE = ("case-name-unreadable", Cost.CASE)
    SEE_ALSO_EMPTY = ("see-also-empty", Cost.NOTHING)
    SEAL_BROKEN = ("seal-broken", Cost.STUDENT)
    SEAL_DIFFERS = ("seal-differs", Cost.NOTHING)
    LOG_WITHOUT_DATES = ("log-without-dates", Cost.STUDENT)
    LOG_COLUMN_UNKNOWN = ("log-column-unknown", Cost.NOTHING)
    LOG_COLUMN_MISSPELT = ("log-column-misspelt", Cost.STUDENT)
    LOG_COLUMN_TWICE = ("log-column-twice", Cost.STUDENT)
    LOG_CELL_UNREADABLE = ("log-cell-unreadable", Cost.ROW)
    LOG_DAYS_COUNTED = ("log-days-counted", Cost.NOTHING)
    LOG_DAYS_OPEN = ("log-days-open", Cost.ROW)
    LOG_PAIN_OPEN = ("log-pain-open", Cost.NOTHING)
    LOG_DAY_DIFFERS = ("log-day-differs", Cost.ROW)
    LOG_LINES_TWICE = ("log-lines-twice", Cost.NOTHING)
    LOG_ROW_UNEVEN = ("log-row-uneven", Cost.ROW)

    # consent, addresses and what must not be told
    CONSENT_ENDED = ("consent-ended", Cost.NOTHING)
    CONSENT_WITHDRAWN = ("consent-withdrawn", Cost.NOTHING)
    CONSENT_WITHDRAWN_LATER = ("consent-withdrawn-later", Cost.NOTHING)
    CONSENT_NOT_YET = ("consent-not-yet", Cost.NOTHING)
    JUNIOR_WITHOUT_GUARDIAN = ("junior-without-guardian", Cost.STUDENT)
    HIDDEN_AS_OF_OLD = ("hidden-as-of-old", Cost.NOTHING)
    CARE_LINES_NOT_AGREED = ("care-lines-not-agreed", Cost.NOTHING)
    PAIN_NOT_AGREED = ("pain-not-agreed", Cost.NOTHING)
    CLIPS_NOT_AGREED = ("clips-not-agreed", Cost.NOTHING)
    CASE_NOT_AGREED = ("case-not-agreed", Cost.CASE)
    SECRET_MALFORMED = ("secret-malformed", Cost.RUN)
    SECRET_OPEN = ("secret-open", Cost.NOTHING)
    SECRET_UNWRITABLE = ("secret-unwritable", Cost.RUN)
    SECRET_LOST = ("secret-lost", Cost.RUN)
    SECRET_CHANGED = ("secret-changed", Cost.RUN)
    LOCK_NEW = ("lock-new", Cost.NOTHING)
    LOCK_TAKEN_OFF = ("lock-taken-off", Cost.NOTHING)
    LOCK_DAMAGED = ("lock-damaged", Cost.STUDENT)
    LOCK_LOST = ("lock-lost", Cost.STUDENT)
    LOCK_UNWRITABLE = ("lock-unwritable", Cost.STUDENT)
    LOCK_NOT_ON = ("lock-not-on", Cost.RUN)
    LOCK_NOBODYS = ("lock-nobodys", Cost.RUN)
    FORGET_NOBODY = ("forget-nobody", Cost.RUN)
    LOCK_WORDS_SHORT = ("lock-words-short", Cost.RUN)
    OTHER_STUDENT_NAMED = ("other-student-named", Cost.STUDENT)
    STUDENT_NAMED_BEFORE = ("student-named-before", Cost.NOTHING)
    FOLDER_NAME_SHOWN = ("folder-name-shown", Cost.STUDENT)
    PRIVATE_WORDS_SHOWN = ("private-words-shown", Cost.STUDENT)
    OUTSIDE_ADDRESS = ("outside-address", Cost.STUDENT)
    FILM_OF_ANOTHER = ("film-of-another", Cost.STUDENT)
    DELETED_LESSON_UP = ("deleted-lesson-up", Cost.NOTHING)

    # the program itself
    FAULT_OF_OURS = ("fault-of-ours", Cost.STUDENT)

    # sealing a lesson's number
    SEAL_NO_LESSON = ("seal-no-lesson", Cost.RUN)
    SEAL_NO_NUMBER = ("seal-no-number", Cost.RUN)
    SEAL_TOO_LATE = ("seal-too-late", Cost.RUN)
    SEAL_SHOTS_UNPLACED = ("seal-shots-unplaced", Cost.RUN)
    SEAL_DAY_PAST = ("seal-day-past", Cost.RUN)
    SEALED_ALREADY = ("sealed-already", Cost.RUN)

    # the output folder
    OUTPUT_IN_LESSONS = ("output-in-lessons", Cost.RUN)
    LESSONS_IN_OUTPUT = ("lessons-in-output", Cost.RUN)
    OUTPUT_NOT_OURS = ("output-not-ours", Cost.RUN)
    OUTPUT_NEWER = ("output-newer", Cost.RUN)
    OUTPUT_BUSY = ("output-busy", Cost.RUN)
    STUDENT_NOT_KNOWN = ("student-not-known", Cost.RUN)
    SHARE_NOT_ONE = ("share-not-one", Cost.RUN)
    SHARES_DIFFER = ("shares-differ", Cost.RUN)
    SHARE_MISSING = ("share-missing", Cost.RUN)
    OUTPUT_UNWRITABLE = ("output-unwritable", Cost.RUN)
    OUTPUT_ELSEWHERE = ("output-elsewhere", Cost.RUN)
    STRANGE_IN_SITE = ("strange-in-site", Cost.NOTHING)
    LINKS_UNREADABLE = ("links-unreadable", Cost.RUN)
    LINK_UNSURE = ("link-unsure", Cost.STUDENT)
    LESSON_LINK_UNSURE = ("lesson-link-unsure", Cost.STUDENT)
    STUDENT_COPIED = ("student-copied", Cost.STUDENT)
    STUDENT_RENAMED = ("student-renamed", Cost.NOTHING)
    LESSON_RENAMED = ("lesson-renamed", Cost.NOTHING)
    LINK_DEAD = ("link-dead", Cost.STUDENT)
    PAGE_UNGUARDED = ("page-unguarded", Cost.STUDENT)
    PAGE_HEAVY = ("page-heavy", Cost.NOTHING)
    FILE_HEAVY = ("file-heavy", Cost.NOTHING)

    # clips, looked into
    CLIP_UNREADABLE = ("clip-unreadable", Cost.CLIP)
    CLIP_EMPTY = ("clip-empty", Cost.CLIP)
    CLIP_IS_PICTURE = ("clip-is-a-picture", Cost.CLIP)
    CLIP_NOT_VIDEO = ("clip-not-a-video", Cost.CLIP)
    CLIP_CUT_OFF = ("clip-cut-off", Cost.CLIP)
    CLIP_SOUND_ONLY = ("clip-sound-only", Cost.CLIP)
    CLIP_FEW_PICTURES = ("clip-few-pictures", Cost.CLIP)
    CLIP_UNDECODABLE = ("clip-undecodable", Cost.CLIP)
    CLIP_PROTECTED = ("clip-protected", Cost.CLIP)
    CLIP_TOO_LARGE = ("clip-too-large", Cost.CLIP)
    CLIP_NOT_READ = ("clip-not-read", Cost.CLIP)
    CLIP_BROKEN = ("clip-broken", Cost.CLIP)
    CLIP_PARTLY_WHOLE = ("clip-partly-whole", Cost.NOTHING)
    CLIP_TOO_LONG = ("clip-too-long", Cost.CLIP)
    CLIP_TOO_LONG_HEARD = ("clip-too-long-heard", Cost.CLIP)
    CLIP_NOT_CONVERTED = ("clip-not-converted", Cost.CLIP)
    CLIP_DAMAGED = ("clip-damaged", Cost.NOTHING)
    CLIP_IMPACT_OUTSIDE = ("clip-impact-outside", Cost.CLIP)
    CLIP_IMPACT_GUESSED = ("clip-impact-guessed", Cost.NOTHING)
    CLIP_IMPACT_GUESSED_UNLISTED = ("clip-impact-guessed-unlisted", Cost.NOTHING)
    CLIP_IMPACTS_SEVERAL = ("clip-impacts-several", Cost.NOTHING)
    CLIP_IMPACTS_SEVERAL_UNLISTED = ("clip-impacts-several-unlisted", Cost.NOTHING)
    CLIP_IMPACT_SOFT = ("clip-impact-soft", Cost.NOTHING)
    CLIP_IMPACT_SOFT_UNLISTED = ("clip-impact-soft-unlisted", Cost.NOTHING)
    CLIP_BALL_STAYS = ("clip-ball-stays", Cost.NOTHING)
    CLIP_LOOKS_SLOWED = ("clip-looks-slowed", Cost.NOTHING)
    CLIP_LOOKS_SLOWED_UNLISTED = ("clip-looks-slowed-unlisted", Cost.NOTHING)
    CLIP_TIME_DIFFERS = ("clip-time-differs", Cost.NOTHING)
    CLIP_SHOT_SHARED = ("clip-shot-shared", Cost.NOTHING)
    CLIP_SHOT_OPEN = ("clip-shot-open", Cost.NOTHING)
    LESSON_NOT_HERE = ("lesson-not-here", Cost.RUN)
    ONE_PAGE_NOT_AGREED = ("one-page-not-agreed", Cost.RUN)
    ONE_PAGE_LOCKED = ("one-page-locked", Cost.RUN)
    ONE_PAGE_NOT_UP = ("one-page-not-up", Cost.RUN)
    CLIP_SAVED_UNHIDDEN = ("clip-saved-unhidden", Cost.NOTHING)
    CLIP_NOT_KEPT = ("clip-not-kept", Cost.NOTHING)
    CLIP_STILL_GROWING = ("clip-still-growing", Cost.CLIP)

    # the shots
    SHOTS_NOT_TEXT = ("shots-not-text", Cost.STUDENT)
    SHOTS_TOO_MUCH = ("shots-too-much", Cost.STUDENT)
    SHOTS_SIDEWAYS = ("shots-sideways", Cost.STUDENT)
    SHOTS_WITHOUT_HEADINGS = ("shots-without-headings", Cost.STUDENT)
    SHOTS_EMPTY = ("shots-empty", Cost.NOTHING)
    SHOTS_UNIT_OPEN = ("shots-unit-open", Cost.NOTHING)
    SHOTS_UNIT_MISFIT = ("shots-unit-misfit", Cost.NOTHING)
    SHOTS_SIDE_OPEN = ("shots-side-open", Cost.NOTHING)
    SHOTS_HAND_NEEDED = ("shots-hand-needed", Cost.NOTHING)
    SHOTS_COLUMN_LOOSE = ("shots-column-loose", Cost.NOTHING)
    SHOTS_COLUMN_TWICE = ("shots-column-twice", Cost.NOTHING)
    SHOTS_COLUMN_MISSPELT = ("shots-column-misspelt", Cost.NOTHING)
    SHOTS_COLUMNS_UNKNOWN = ("shots-columns-unknown", Cost.NOTHING)
    SHOTS_CELL_UNREADABLE = ("shots-cell-unreadable", Cost.NOTHING)
    SHOTS_CELLS_UNREADABLE = ("shots-cells-unreadable", Cost.NOTHING)
    SHOTS_NUMBERS_AS_DATES = ("shots-numbers-as-dates", Cost.NOTHING)
    SHOTS_COMMA_OPEN = ("shots-comma-open", Cost.NOTHING)
    SHOTS_ROW_UNEVEN = ("shots-row-uneven", Cost.ROW)
    SHOTS_QUOTE_OPEN = ("shots-quote-open", Cost.ROW)
    SHOTS_ROW_IMPOSSIBLE = ("shots-row-impossible", Cost.ROW)
    SHOTS_ROW_DOUBTFUL = ("shots-row-doubtful", Cost.NOTHING)
    SHOTS_ROW_NO_SHOT = ("shots-row-no-shot", Cost.NOTHING)
    SHOTS_TIMES_UNREADABLE = ("shots-times-unreadable", Cost.NOTHING)
    SHOTS_DAY_OPEN = ("shots-day-open", Cost.NOTHING)
    SHOTS_NUMBERS_REPEAT = ("shots-numbers-repeat", Cost.NOTHING)
    SHOTS_CLUB_UNKNOWN = ("shots-club-unknown", Cost.NOTHING)
    SHOTS_BLOCK_UNKNOWN = ("shots-block-unknown", Cost.NOTHING)
    SHOTS_DUPLICATE = ("shots-duplicate", Cost.NOTHING)
    SHOTS_EXPORTED_TWICE = ("shots-exported-twice", Cost.STUDENT)
    SHOTS_ORDER_OPEN = ("shots-order-open", Cost.STUDENT)
    SHOTS_FILE_NOT_THERE = ("shots-file-not-there", Cost.STUDENT)
    SHOTS_SEVERAL_PLAYERS = ("shots-several-players", Cost.STUDENT)
    SHOTS_OF_OTHERS = ("shots-of-others", Cost.NOTHING)
    SHOTS_PLAYER_UNKNOWN = ("shots-player-unknown", Cost.STUDENT)
    SHOTS_SHEET_PASSED_OVER = ("shots-sheet-passed-over", Cost.NOTHING)
    SHOTS_SHEETS_BEYOND = ("shots-sheets-beyond", Cost.NOTHING)
    SHOTS_MORE = ("shots-more", Cost.NOTHING)

    # cases that lessons tell or point at
    CASE_NAME_TWICE = ("case-name-twice", Cost.CASE)
    CASE_FACE_OPEN = ("case-face-open", Cost.CLIP)
    CASE_FACE_LOST = ("case-face-lost", Cost.CLIP)
    CASE_LINK_NEEDS_ADDRESS = ("case-link-needs-address", Cost.NOTHING)
    CASE_LINK_NOT_AGREED = ("case-link-not-agreed", Cost.NOTHING)
    CASE_LINK_NEAR = ("case-link-misspelt", Cost.NOTHING)
    CASE_LINK_UNKNOWN = ("case-link-unknown", Cost.NOTHING)


@dataclass(frozen=True, slots=True)
class Problem:
    """One fault. ``facts`` fill the sentences of its code; ``found`` is usually among them.

    ``costs`` is given where the fault costs other than its code says by itself: a misspelt
    word costs the clip it describes, or the whole run in coach.yml. ``rule`` is the one that
    rows break where that is the fault. ``offers`` are its mends, ``fixes`` their lines.
    """

    code: Code
    where: SourceRef
    facts: Mapping[str, str] = field(default_factory=dict)
    costs: Cost | None = None
    offers: tuple[Offer, ...] = ()
    fixes: tuple[Fix, ...] = ()
    rule: RowRule | None = None

    @property
    def cost(self) -> Cost:
        return self.costs or self.code.cost

    @property
    def severity(self) -> Severity:
        quiet = self.cost in (Cost.NOTHING, Cost.ROW)
        return Severity.WARNING if quiet else Severity.ERROR


class Checked(NamedTuple, Generic[T]):
    """A stage's value, None where nothing usable was found, with the problems met."""

    value: T | None
    problems: tuple[Problem, ...]


def in_order(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """``problems`` by file, line and column."""
    return tuple(
        sorted(
            problems,
            key=lambda p: (p.where.file, p.where.line or 0, p.where.column or 0, p.code.slug),
        )
    )


def speaks_against(problems: Iterable[Problem]) -> bool:
    """Whether one of ``problems`` is an error."""
    return any(problem.severity is Severity.ERROR for problem in problems)
