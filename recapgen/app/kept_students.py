"""A student's result is kept, and worked out again only where its inputs have changed.

Two texts a student: the whole, from which pages are made, and the same in brief, for everything
that is made of all students. Both lie under one key: the student's files, the settings that touch
them, consent, the secret, the program. A kept text is valid on certain days, and only while the
films that it names are there.
"""

import os
from collections.abc import Iterable, Mapping
from datetime import date, timedelta
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from recapgen.app.build_context import BuildContext
from recapgen.app.consent_first import ConsentNow
from recapgen.app.student_results import StudentResult, in_brief
from recapgen.care.load import week_up_to
from recapgen.care.pain import next_change
from recapgen.intake.kept_drills import KEPT_BELOW, keep_words
from recapgen.model.as_data import FAULTS, as_text, from_text
from recapgen.model.consent_on_file import turning_days
from recapgen.model.people import Coach
from recapgen.model.problem import Code, Problem
from recapgen.model.recap import StudentRecap
from recapgen.privacy.addresses import secret_mark
from recapgen.publish.build_state import Seen, digest_of, unchanged
from recapgen.recap.coming_lesson import coming_lesson
from recapgen.tools.cache import key_for, sha256_of_file
from recapgen.tools.side_by_side import Threads

# What may be other at the next try though nothing was changed is asked again.
PASSING = frozenset(
    {
        Code.FAULT_OF_OURS,
        Code.LINK_OUTSIDE,
        Code.CLIP_STILL_GROWING,
        Code.CLIP_NOT_READ,
        Code.CLIP_NOT_CONVERTED,
        Code.CLIP_NOT_KEPT,
        Code.CASE_FACE_LOST,
    }
)
_OF_THE_DAY = frozenset({Code.LESSON_FAR_AHEAD, Code.QUESTION_AHEAD, Code.CONSENT_WITHDRAWN_LATER})


class _Kept(Struct, frozen=True):
    """``films`` are all files of the cache that the recaps name."""

    recap: StudentRecap
    problems: tuple[Problem, ...]
    films: tuple[Path, ...]
    made_on: date
    changes_on: date | None


class KeptStudents(Struct, frozen=True):
    """``own`` are each student's files as they were seen.

    ``shared`` digests the settings and files that all share, which lie in the folders ``of_all``.
    """

    context: BuildContext
    own: Mapping[str, Mapping[str, Seen]]
    shared: str
    of_all: tuple[str, ...]

    def inputs_of(self, student_key: str) -> dict[str, Seen]:
        """What a student's pages rest on: the student's own files, the settings, the drills."""
        files: dict[str, Seen] = {}
        for own in self._folders_of(student_key).values():
            files.update(own)
        return files

    def of_one(self, student_key: str) -> "KeptStudents":
        """No more than is needed for one student by a helper, which looks at clips one by one."""
        links = self.context.links.of_one(student_key)
        context = replace(self.context, pool=Threads(1), links=links)
        return replace(self, context=context, own=self._folders_of(student_key))

    def _folders_of(self, student_key: str) -> dict[str, Mapping[str, Seen]]:
        return {key: self.own.get(key, {}) for key in (*self.of_all, student_key)}

    def brief(self, consent: ConsentNow) -> StudentResult | None:
        """The kept result in brief; None where there is none that still holds."""
        return self._found(consent, "brief")

    def whole(self, result: StudentResult) -> StudentResult:
        """The whole result for one in brief, with the links and problems found since."""
        if result.store_key is None:
            return result  # nothing was taken away
        whole = self._found(result.consent, "whole") or self._work_out(result.consent)
        recaps = tuple(
            replace(recap, case=replace(recap.case, links=brief.case.links))
            for recap, brief in zip(whole.recap.recaps, result.recap.recaps, strict=True)
        )
        return replace(result, recap=replace(whole.recap, recaps=recaps))

    def tell(self, consent: ConsentNow) -> StudentResult:
        """Works the result out anew and keeps it; in brief where it is kept, else whole."""
        result = self._work_out(consent)
        if self.context.converts and not result.held_back:
            self._keep_drill_words(result)
        store_key = self._keep(consent, result)
        brief = result.recap if store_key is None else in_brief(result.recap)
        return replace(result, recap=brief, store_key=store_key)

    def _work_out(self, consent: ConsentNow) -> StudentResult:
        from recapgen.app.one_student import result_of  # noqa: PLC0415  heavy, and not always needed

        return result_of(consent, self.context)

    def _keep_drill_words(self, result: StudentResult) -> None:
        """From now on these lessons tell their drills in these words."""
        plans = {recap.key: recap.notes.practice for recap in result.recap.recaps}
        for lesson in result.consent.paths.lessons:
            keep_words(self.context.root, lesson, plans.get(lesson.key), self.context.coach.drills)

    def _keep(self, consent: ConsentNow, result: StudentResult) -> str | None:
        """Keeps a result and gives its key; None where it may be another at the next try."""
        if any(problem.code in PASSING for problem in result.problems):
            return None
        if not unchanged(self.own.get(consent.paths.key, {}), self.context.root):
            return None  # what was read may be newer than what the key was made of
        kept = _Kept(
            recap=replace(result.recap, problems=()),
            problems=result.problems,
            films=tuple(_films(result.recap)),
            made_on=self.context.today,
            changes_on=self._changes_on(result),
        )
        key = self._key(consent)
        cache, brief = self.context.cache, replace(kept, recap=in_brief(kept.recap))
        try:
            texts = {
                form: as_text(each, _Kept) for form, each in (("whole", kept), ("brief", brief))
            }
        except FAULTS:
            return None  # a value of another kind than its field: it must not come back as that
        for form, text in texts.items():
            cache.keep_text(key_for(form, key), text)
        return _name(key, kept)

    def _found(self, consent: ConsentNow, form: str) -> StudentResult | None:
        key = self._key(consent)
        kept = self._read(key_for(form, key))
        if kept is None:
            return None
        told, today = kept.recap, self.context.today
        recap = replace(
            told,
            problems=kept.problems,
            week=week_up_to(told.log, today),
            coming=coming_lesson(told.student, told.recaps, today),
        )
        return StudentResult(consent, recap, kept.problems, _name(key, kept))

    def _read(self, key: str) -> _Kept | None:
        text = self.context.cache.find_text(key)
        try:
            kept = None if text is None else from_text(text, _Kept)
        except FAULTS:
            return None
        if kept is None:
            return None
        today = self.context.today
        in_time = kept.made_on <= today and (kept.changes_on is None or today < kept.changes_on)
        return kept if in_time and self.context.cache.still_holds(kept.films) else None

    def _key(self, consent: ConsentNow) -> str:
        context, key = self.context, consent.paths.key
        return key_for(
            "student",
            context.program,
            str(context.root),
            secret_mark(context.secret),
            repr((consent.paths.problems, consent.who, consent.granted)),
            context.links.told(key),
            self.shared,
            *(f"{path} {file.digest}" for path, file in sorted(self.own.get(key, {}).items())),
            *_kept_words(context.root, key),
        )

    def _changes_on(self, result: StudentResult) -> date | None:
        today = self.context.today
        if any(problem.code in _OF_THE_DAY for problem in result.problems):
            return today + timedelta(days=1) if today < date.max else None
        consent = (day for day in turning_days(result.recap.student) if day > today)
        pain = next_change(result.recap.log, today)
        return min((*consent, *([pain] if pain is not None else ())), default=None)


def kept_students(context: BuildContext, seen: Mapping[str, Seen]) -> KeptStudents:
    """``seen`` are all files of the lessons folder, as they were just read."""
    own: dict[str, dict[str, Seen]] = {}
    shared = [repr(_settings_used(context.coach))]
    for path, file in sorted(seen.items()):
        folder, _, below = path.partition("/")
        own.setdefault(folder if below else "", {})[path] = file
        if folder.casefold() == "drills" or (not below and folder.casefold().startswith("coach.y")):
            shared += [path, file.digest]
    of_all = ("", *(folder for folder in own if folder.casefold() == "drills"))
    return KeptStudents(context, own, digest_of(*shared), of_all)


def _name(key: str, kept: _Kept) -> str:
    """A digest of all that this result depends on, the day among it."""
    return f"{key} {kept.made_on.isoformat()}"


def _settings_used(coach: Coach) -> Coach:
    """Those settings that reading lessons and working out results depend on."""
    return Coach(
        name="",
        units=coach.units,
        altitude_m=coach.altitude_m,
        columns=coach.columns,
        accuracy=coach.accuracy,
        drills=coach.drills,
        units_unsaid=coach.units_unsaid,
        usual=coach.usual,
    )


def _kept_words(root: Path, student_key: str) -> Iterable[str]:
    """The words of drills that the student's lessons keep."""
    folder = root / KEPT_BELOW / student_key
    try:
        names = sorted(os.listdir(folder))  # noqa: PTH208  of everybody, at every build
    except OSError:
        return
    for name in names:
        if name.endswith(".json"):
            yield name
            yield sha256_of_file(folder / name)


def _films(student: StudentRecap) -> Iterable[Path]:
    of_cases = (film for recap in student.recaps for film in recap.case.films)
    for film in (*student.films, *of_cases):
        yield from (film.video, film.poster, *film.stills)
        yield from (kept.file for kept in film.downloads)
    for recap in student.recaps:
        for shown in recap.practice.demonstrations:
            yield from (file for file in (shown.picture, shown.video) if file is not None)
