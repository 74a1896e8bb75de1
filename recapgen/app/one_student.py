"""One student's stages, from paths to recaps: read, consent, clips, evidence and care."""

from msgspec.structs import replace

from recapgen.app.build_context import BuildContext
from recapgen.app.consent_first import ConsentNow
from recapgen.app.films_under_way import Filming, begin_filming, demonstrations
from recapgen.app.student_results import StudentResult
from recapgen.care.load import week_up_to
from recapgen.care.question_notes import care_for_question
from recapgen.intake.reading import read_student_folder
from recapgen.model.between_lessons import QuestionRecap, StudentQuestion
from recapgen.model.films import Film
from recapgen.model.lesson import Lesson
from recapgen.model.problem import Code, Problem
from recapgen.model.recap import StudentRecap
from recapgen.privacy.addresses import case_page
from recapgen.privacy.consent import Grants, consent_problems, withhold_clips
from recapgen.recap.coming_lesson import coming_lesson
from recapgen.recap.lesson_recaps import PreparedLesson, recap_lessons


def result_of(consent: ConsentNow, context: BuildContext) -> StudentResult:
    """Everything of one student up to the recaps."""
    paths, granted = consent.paths, consent.granted
    read = read_student_folder(
        context.root,
        paths,
        consent.who,
        context.coach,
        context.today,
        read_one=context.readings.read_lesson,
        read_asked=context.readings.read_question,
    )
    student = read.student
    footage = [question.footage for question in read.questions]
    asked = consent_problems(
        student, (*read.lessons, *footage), granted, context.today, read.questions
    )
    problems = [*read.problems, *asked]
    lessons = [withhold_clips(lesson, granted) for lesson in read.lessons]
    of_questions = begin_filming(
        [withhold_clips(each, granted) for each in footage], granted, context, alone=True
    )
    prepared = []
    for lesson, filming in zip(lessons, begin_filming(lessons, granted, context), strict=True):
        films, nameless, found = filming.finish()
        problems = [p for p in problems if not _settled(p, filming)]
        drills, amiss = demonstrations(lesson, context)
        one = _prepare(filming.lesson, films, paths.key, granted, context)
        prepared.append(replace(one, demonstrations=drills, case_films=nameless))
        problems.extend((*found, *(problem for problem in amiss if problem not in problems)))
    recaps = recap_lessons(
        student,
        prepared,
        read.log,
        dict(context.coach.accuracy),
        context.coach.altitude_m,
        today=context.today,
    )
    recaps = tuple(
        replace(each, corrected_on=context.links.corrected_on(paths.key, each.key))
        for each in recaps
    )
    questions = []
    for question, filming in zip(read.questions, of_questions, strict=True):
        films, _, found = filming.finish()
        problems.extend(found)
        questions.append(_told(question, films, paths.key, context))
    recap = StudentRecap(
        student=student,
        units=student.units or context.coach.units,
        address=context.links.address(paths.key),
        published=granted.page,
        recaps=recaps,
        problems=tuple(problems),
        log=read.log,
        week=week_up_to(read.log, context.today),
        coming=coming_lesson(student, recaps, context.today),
        questions=tuple(questions),
    )
    return StudentResult(consent, recap, tuple(problems))


def _told(
    question: StudentQuestion, films: tuple[Film, ...], student_key: str, context: BuildContext
) -> QuestionRecap:
    return QuestionRecap(
        key=question.key,
        on=question.on,
        page=context.links.page(student_key, question.key, question.on),
        words=question.words,
        private=question.private,
        films=films,
        care=care_for_question(question.words),
        corrected_on=context.links.corrected_on(student_key, question.key),
    )


def _settled(problem: Problem, filming: Filming) -> bool:
    """Whether a clip's name says nothing, and its time did."""
    return problem.code is Code.CLIP_NAME_UNCLEAR and problem.where in filming.settled


def _prepare(
    lesson: Lesson,
    films: tuple[Film, ...],
    student_key: str,
    granted: Grants,
    context: BuildContext,
) -> PreparedLesson:
    """The lesson with its films and the names of its pages."""
    case = lesson.notes.case
    return PreparedLesson(
        lesson=lesson,
        films=films,
        page=context.links.page(student_key, lesson.key, lesson.on),
        case_page=case_page(context.secret, case.handle) if case and granted.cases else None,
    )
