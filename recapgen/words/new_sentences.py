"""What the desk asks, and what ``new`` did."""

from difflib import unified_diff

from recapgen.model.question import ChangeFile, Question, WhichDay, WhichFolder, WhoseFiles
from recapgen.model.receipt import ForgetStudent
from recapgen.model.taken_in import LeftFile, LessonTaken
from recapgen.words.catalogue import Words
from recapgen.words.forget_sentences import what_goes

_AROUND = 2  # lines that stay, shown around those that change


def question_lines(question: Question, words: Words) -> tuple[str, ...]:
    """The question and what there is to choose from, a line each."""
    if isinstance(question, ChangeFile):
        return (words.say("new.change", file=question.file), *difference(question))
    if isinstance(question, ForgetStudent):
        return what_goes(question, words)
    files = words.listed(question.files)
    again = _refused(question, words)
    if isinstance(question, WhichDay):
        return (*again, words.say("new.when", files=files))
    if isinstance(question, WhichFolder):
        return (*again, words.say("new.which-folder", files=files), *_numbered(question.folders))
    return (*again, _whose(question, files, words), *_numbered(question.people))


def answer_wanted(question: Question, words: Words) -> str:
    """What to type, before the place where it is typed."""
    if isinstance(question, ChangeFile):
        return words.say("new.answer-change")
    if isinstance(question, ForgetStudent):
        return words.say("forget.answer")
    if isinstance(question, WhichDay):
        return words.say("new.answer-when", day=question.likely.isoformat())
    if isinstance(question, WhichFolder):
        return words.say("new.answer-folder")
    if not question.files:
        return words.say("new.answer-student-likely" if question.likely else "new.answer-student")
    return words.say("new.answer-whose-likely" if question.likely else "new.answer-whose")


def difference(question: ChangeFile) -> tuple[str, ...]:
    """The lines that go and come, as tools for text show them."""
    before, after = question.before.split("\n"), question.after.split("\n")
    lines = unified_diff(before, after, question.file, question.file, lineterm="", n=_AROUND)
    return tuple(lines)


def lesson_lines(lesson: LessonTaken, words: Words) -> tuple[str, ...]:
    """A lesson's folder with what came into it, and its notes."""
    if lesson.files:
        files = words.listed(lesson.files)
        head = words.say("new.lesson", folder=lesson.folder, files=files)
    else:
        head = words.say("new.lesson-alone", folder=lesson.folder)
    return head, words.say(f"new.notes.{lesson.notes.value}")


def left_line(left: LeftFile, words: Words) -> str:
    why = words.say(f"new.left.{left.because.value}")
    return words.say("new.left", file=left.file, why=why)


def _refused(question: WhoseFiles | WhichDay | WhichFolder, words: Words) -> tuple[str, ...]:
    """What was wrong with the answer, where the question is put once more."""
    answer = question.refused
    if not answer:
        return ()
    if isinstance(question, WhichDay):
        return (words.say("new.no-day", answer=answer),)
    if isinstance(question, WhoseFiles) and question.near:
        return (words.say("new.nearly", answer=answer, near=words.listed(question.near)),)
    return (words.say("new.not-listed", answer=answer),)


def _whose(question: WhoseFiles, files: str, words: Words) -> str:
    day = question.on.isoformat() if question.on is not None else None
    if not question.files:
        return (
            words.say("new.which-student")
            if day is None
            else words.say("new.whose-lesson", day=day)
        )
    if day is None:
        return words.say("new.whose", files=files)
    return words.say("new.whose-on", day=day, files=files)


def _numbered(things: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(f"{n:3}  {thing}" for n, thing in enumerate(things, 1))
