"""A question as data: what stands in ``coach_book/questions/<student folder>/<its folder>.json``.

The fields are described in ``question.schema.json`` beside this file. The data are the coach's
own: real names may be in them. They lie apart from the lessons', so that nothing counts them.
"""

from collections.abc import Sequence
from typing import Any

from recapgen.book.records import FORMAT, ProblemRecord, clip_record
from recapgen.model.between_lessons import QuestionRecap
from recapgen.model.public import public_path
from recapgen.model.recap import StudentRecap


def question_record(
    student: StudentRecap, question: QuestionRecap, problems: Sequence[ProblemRecord]
) -> dict[str, Any]:
    """The question as data, with its problems in words as in ``lesson_record``."""
    words = question.words
    return {
        "format": FORMAT,
        "student": student.student.name,
        "student_folder": student.student.key,
        "question": question.key,
        "date": question.on.isoformat(),
        "page": public_path(student.address, question.page) if student.tells(question) else None,
        "asked_by": words.asked_by.value,
        "asked": words.asked,
        "answered": words.answered.isoformat() if words.answered else None,
        "answer": words.answer,
        "pain": words.pain,
        "clips": [clip_record(film) for film in question.films],
        "problems": [dict(problem) for problem in problems],
    }
