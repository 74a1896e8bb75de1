"""student.yml: who the student is, and what they agreed to."""

import re
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from unicodedata import normalize

from msgspec.structs import replace

from recapgen.golf.written_amounts import read_amount
from recapgen.intake.agreement import Age, read_agreed, taken_back_in_notes
from recapgen.intake.answers import ANSWERS
from recapgen.intake.folder import StudentPaths
from recapgen.intake.form import NAME_LENGTH, Form, hand_offers, instead, meanings_of
from recapgen.intake.quantities import club_in
from recapgen.intake.settings import LANGUAGES, read_units
from recapgen.intake.spelling import spelling, with_colons
from recapgen.intake.text_file import file_of, read_text
from recapgen.intake.usually import read_usual
from recapgen.intake.yaml_map import ListNode, MapNode, Scalar, brief, plain_key, read_map
from recapgen.model.consent_on_file import OF_AGE_YEARS, SENIOR_YEARS
from recapgen.model.fix import Change, Offer, Put, Swap, one_of
from recapgen.model.people import AgeBand, Agreed, Area, Club, Coach, Condition, Hand, Student
from recapgen.model.problem import Checked, Code, Cost, Problem
from recapgen.model.quantity import Dimension
from recapgen.model.source import SourceRef
from recapgen.tools.contact_reading import dialled_at_home, emails_in

_KEYS = spelling(
    "name", "hand", "age band", "born", "first year", "units", "language", "clubs", "body",
    "health", "agreed", "guardian", "asked", "clinician asked", "player", "usually", "archived",
    "lock", "was called", "new address", "also called", "email", "phone",
    age="age band", birth_year="born", year_of_birth="born", born_in="born",
    handed="hand", handedness="hand", agrees="agreed", consent="agreed",
    bag="clubs", players="player", parent="guardian",
    last_asked="asked", asked_on="asked", doctor_asked="clinician asked", usual="usually",
    archive="archived", locked="lock", locks="lock", passphrase="lock", password="lock",  # noqa: S106
    nickname="also called", nicknames="also called", known_as="also called", e_mail="email",
    mail="email", telephone="phone", tel="phone", mobile="phone",
    folder_was="was called", called="was called", new_link="new address",
)  # fmt: skip
_HANDS = meanings_of(
    {
        Hand.RIGHT: (
            "right", "right handed", "right hander", "r", "rh",
            "rechts", "rechtshänder", "rechtshänderin", "droite", "droitier", "droitière",
            "derecha", "diestro", "diestra", "右", "右打ち", "右利き", "오른손",
            "오른쪽", "오른손잡이",
        ),
        Hand.LEFT: (
            "left", "left handed", "left hander", "l", "lh",
            "links", "linkshänder", "linkshänderin", "gauche", "gaucher", "gauchère",
            "izquierda", "zurdo", "zurda", "左", "左打ち", "左利き", "왼손", "왼쪽", "왼손잡이",
        ),
    }
)  # fmt: skip
_AGE_BANDS = meanings_of(
    {
        AgeBand.JUNIOR: (
            "junior", "child", "under 18", "minor", "youth", "teenager",
            "jugend", "jugendlich", "jugendliche", "jugendlicher", "kind", "minderjährig",
            "enfant", "jeune", "adolescent", "adolescente", "mineur", "mineure",
            "niño", "niña", "joven", "menor", "menor de edad",
            "ジュニア", "子供", "子ども", "未成年", "주니어", "어린이", "청소년", "미성년",
        ),
        AgeBand.ADULT: (
            "adult", "erwachsen", "erwachsene", "erwachsener", "adulte", "adulto", "adulta",
            "大人", "成人", "성인", "어른",
        ),
        AgeBand.SENIOR: (
            "senior", "60 and over", "over 60", "seniorin", "senioren", "シニア", "시니어",
        ),
    }
)  # fmt: skip
_AGE = re.compile(
    r"(?:age[d:]?\s*)?(\d{1,3})\s*(?:(?:years?|jahre?|ans|años|yrs?)\.?(?:\s+(?:old|alt))?|[歳才세살])?",
    re.IGNORECASE,
)
_OLDEST = 120
_YEAR = re.compile(r"(?<!\d)\d{4}(?!\d)")
_FIRST_YEAR, _LAST_YEAR = 1920, 2100
_AREAS = meanings_of(
    {
        Area.LOW_BACK: ("lower back", "low back", "back", "lumbar"),
        Area.NECK: ("neck",),
        Area.RIBS: ("ribs", "rib"),
        Area.LEAD_SHOULDER: ("lead shoulder",),
        Area.TRAIL_SHOULDER: ("trail shoulder",),
        Area.ELBOW: ("elbow", "elbows", "lead elbow", "trail elbow"),
        Area.LEAD_WRIST: ("lead wrist",),
        Area.TRAIL_WRIST: ("trail wrist",),
        Area.HAND: ("hand", "hands", "thumb", "fingers", "lead hand", "trail hand"),
        Area.LEAD_HIP: ("lead hip",),
        Area.LEAD_KNEE: ("lead knee",),
        Area.LEAD_ANKLE: ("lead ankle",),
    }
)
_CONDITIONS = meanings_of(
    {
        Condition.BONES: ("osteoporosis", "osteopenia", "low bone density"),
        Condition.JOINT_REPLACEMENT: (
            "joint replacement", "hip replacement", "knee replacement", "shoulder replacement",
            "replaced joint", "new hip", "new knee",
        ),
        Condition.HEART: ("heart", "heart condition", "heart disease"),
        Condition.PREGNANCY: ("pregnancy", "pregnant"),
    }
)  # fmt: skip
_WITH_SIDE = frozenset({"shoulder", "wrist", "hip", "knee", "ankle"})
_WITHOUT_SIDE = frozenset({"elbow", "hand"})
LOWEST_LOFT_DEG = 1.0
HIGHEST_LOFT_DEG = 75.0


def read_student(root: Path, paths: StudentPaths, coach: Coach) -> Checked[Student]:
    """The student, with nothing agreed where there is no student.yml or it cannot be read.

    Of an agreement with anything unclear in it nothing is taken as agreed.
    """
    if paths.student_file is None:
        where = SourceRef(f"{file_of(root, paths.folder)}/student.yml")
        facts = {"file": where.file}
        missing = Problem(Code.STUDENT_FILE_MISSING, where, facts, offers=_once_agreed(where))
        return Checked(Student(paths.key, paths.key, where=where), (missing,))
    file = file_of(root, paths.student_file)
    unread = Student(paths.key, paths.key, agreed=Agreed(unclear=True), where=SourceRef(file))
    text, problems = read_text(root, paths.student_file)
    if text is None:
        return Checked(unread, problems)
    keyed, problems = read_map(text, file)
    if keyed is None:
        return Checked(unread, tuple(with_colons(problems, text.split("\n"), _KEYS.names)))
    found: list[Problem] = []
    student = _student(Form(keyed, _KEYS, found, guesses=False), keyed, paths.key, coach, found)
    noted = tuple(taken_back_in_notes(root, paths))
    if noted:
        unclear = Agreed(guardian=student.agreed.guardian, unclear=True)
        student = replace(student, agreed=unclear, answers=())
    return Checked(student, (*found, *noted))


def _once_agreed(where: SourceRef) -> tuple[Offer, ...]:
    """What to write once the student has agreed: their hand, and a page, with clips or without."""
    agreed = Put(where, ("agreed",), ANSWERS[0])
    return one_of((Put(where, ("hand",), hand), agreed) for hand in ("right", "left"))


def _reminder(form: Form, key: str, problems: list[Problem]) -> date | None:
    """A day that only the coach's book speaks of; one that cannot be read holds nothing back."""
    before = len(problems)
    day = form.day(key)
    problems[before:] = [replace(problem, costs=Cost.NOTHING) for problem in problems[before:]]
    return day


def _student(
    form: Form, keyed: MapNode, key: str, coach: Coach, problems: list[Problem]
) -> Student:
    file = SourceRef(form.where.file)
    age = Age(_age_band(form), _born(form))
    answers = read_agreed(form, keyed, _KEYS, age, problems)
    hand = form.choice("hand", _HANDS)
    units = read_units(form, "units", coach.units)
    locked = form.yes_no("lock")
    return Student(
        key=key,
        name=form.required("name", NAME_LENGTH, one_of([Put(file, ("name",), key)])) or key,
        hand=hand,
        age_band=age.band,
        born=age.born,
        first_year=form.yes_no("first year") or False,
        clubs=tuple(_clubs(form, coach)),
        areas=tuple(dict.fromkeys(_areas(form, hand))),
        conditions=tuple(dict.fromkeys(_conditions(form))),
        agreed=answers[-1],
        answers=answers if len(answers) > 1 else (),
        units=units,
        language=form.choice("language", LANGUAGES),
        where=SourceRef(form.where.file, 1, 1),
        asked=_reminder(form, "asked", problems),
        clinician_asked=_reminder(form, "clinician asked", problems),
        archived=form.yes_no("archived") or False,
        was_called=form.text("was called"),
        new_address=form.yes_no("new address") or False,
        usual=read_usual(form, coach, coach.drills),
        players=tuple(words.text.strip() for words in form.several("player")),
        also_called=tuple(words.text.strip() for words in form.several("also called")),
        emails=tuple(_contacts(form, "email", lambda text: bool(emails_in(text)))),
        phones=tuple(_contacts(form, "phone", lambda text: bool(dialled_at_home(text)))),
        locked=coach.locks if locked is None else locked,
    )


def _contacts(form: Form, key: str, known: Callable[[str], bool]) -> Iterator[str]:
    """Those that can be looked for; of another the coach is told that it is not."""
    for words in form.several(key):
        if known(words.text):
            yield words.text.strip()
        else:
            form.report(Code.CONTACT_UNREADABLE, words.where, found=brief(words.text), key=key)


def _age_band(form: Form) -> AgeBand | None:
    """The band. An age is no band, and none for long: the problem names the band it belongs to."""
    words = form.words("age band")
    age = None if words is None else _AGE.fullmatch(words.text.strip())
    if words is None or age is None or int(age[1]) > _OLDEST:
        return form.choice("age band", _AGE_BANDS)
    years = int(age[1])
    band = AgeBand.ADULT if years < SENIOR_YEARS else AgeBand.SENIOR
    band = AgeBand.JUNIOR if years < OF_AGE_YEARS else band
    ways: tuple[Change, ...] = (Swap(words.where, words.text, band.value),)
    if band is AgeBand.JUNIOR and not form.has("guardian"):
        ways = (*ways, Put(SourceRef(form.where.file), ("guardian",), ""))
    facts = {"found": brief(words.text), "known": ", ".join(AgeBand), "near": band.value}
    form.report(Code.WORD_MISSPELT, words.where, one_of([ways]), key="age band", **facts)
    return None


def _born(form: Form) -> int | None:
    """The year alone: nothing hangs on the day, and a day is more than anybody needs to keep."""
    words = form.words("born")
    if words is None:
        return None
    years = [int(year) for year in _YEAR.findall(normalize("NFKC", words.text))]
    years = [year for year in years if _FIRST_YEAR <= year <= _LAST_YEAR]
    if len(years) == 1 and normalize("NFKC", words.text).strip() == str(years[0]):
        return years[0]
    offers = instead(words, str(years[0])) if len(years) == 1 else ()
    form.report(Code.BORN_NOT_A_YEAR, words.where, offers, found=brief(words.text))
    return None


def _clubs(form: Form, coach: Coach) -> Iterator[Club]:
    node = form.node("clubs")
    if isinstance(node, (Scalar, ListNode)):
        for words in form.several("clubs"):
            club = club_in(form, "clubs", words)
            if club is not None:
                yield Club(club)
        return
    for entry in form.pairs("clubs", "7 iron: 31 deg"):
        club = club_in(form, "clubs", Scalar(entry.key, entry.where, quoted=True))
        loft = form.one(entry.key, entry.value)
        if club is None or loft is None:
            continue
        yield Club(club, None if loft.empty else _loft_deg(form, club, loft, coach))


def _loft_deg(form: Form, club: str, words: Scalar, coach: Coach) -> float | None:
    loft = read_amount(words.text, Dimension.ANGLE, coach.units)
    found = {"key": club, "found": brief(words.text)}
    if loft is None:
        form.report(Code.AMOUNT_UNREADABLE, words.where, example="31 deg", **found)
    elif not LOWEST_LOFT_DEG <= loft <= HIGHEST_LOFT_DEG:
        least, most = f"{LOWEST_LOFT_DEG:g} deg", f"{HIGHEST_LOFT_DEG:g} deg"
        form.report(Code.AMOUNT_OUT_OF_RANGE, words.where, least=least, most=most, **found)
        return None
    return loft


def _areas(form: Form, hand: Hand | None) -> Iterator[Area]:
    for words in form.several("body"):
        side, _, part = plain_key(words.text).partition(" ")
        if side in {"left", "right"} and part in _WITHOUT_SIDE:
            side = ""
        elif side in {"left", "right"} and part in _WITH_SIDE:
            if hand is None:
                offers = hand_offers(form.where.file)
                form.report(Code.SIDE_WITHOUT_HAND, words.where, offers, found=brief(words.text))
                continue
            side = "lead" if (side == "left") == (hand is Hand.RIGHT) else "trail"
        area = _AREAS.get(f"{side} {part}".strip())
        if area is not None:
            yield area
        elif side in {"lead", "trail"} and part in _WITH_SIDE:
            known = ", ".join(Area)
            form.report(Code.BODY_PART_UNKNOWN, words.where, found=brief(words.text), known=known)
        else:
            form.meant("body", words, _AREAS, Code.BODY_PART_UNKNOWN)


def _conditions(form: Form) -> Iterator[Condition]:
    for words in form.several("health"):
        found = form.meant("health", words, _CONDITIONS, Code.HEALTH_UNKNOWN)
        if found is not None:
            yield found
