"""The notes' keys ``case`` (a lesson to publish without a name) and ``see also``."""

import re

from recapgen.intake.form import LINE_LENGTH, PARAGRAPH_LENGTH, Form, instead
from recapgen.intake.spelling import spelling
from recapgen.intake.yaml_map import Scalar, brief
from recapgen.model.fix import Cut, one_of
from recapgen.model.lesson import CaseNote, SeeAlso
from recapgen.model.problem import Code, Cost

_KEYS = spelling("name", "title", "story", handle="name", text="story")
_HANDLE = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+){0,11}")
HANDLE_LENGTH = 60


def read_case(form: Form) -> CaseNote | None:
    inner = form.form("case", _KEYS, Cost.CASE)
    if inner is None:
        return None
    inner.required("name", HANDLE_LENGTH)
    words = inner.words("name")
    handle = None if words is None else _handle(inner, words)
    title = inner.required("title", LINE_LENGTH)
    story = inner.text("story", PARAGRAPH_LENGTH)
    if handle is None or title is None:
        return None
    return CaseNote(handle, title, story, form.place("case"))


def read_see_also(form: Form) -> tuple[SeeAlso, ...]:
    written = list(form.several("see also"))
    if not written and form.has("see also"):
        where = form.place("see also")
        form.report(Code.SEE_ALSO_EMPTY, where, one_of([Cut(where)]))
    handles = [(_handle(form, words), words.where) for words in written]
    return tuple(SeeAlso(handle, where) for handle, where in handles if handle is not None)


def _handle(form: Form, words: Scalar) -> str | None:
    handle = words.text.strip().casefold()
    if len(handle) > HANDLE_LENGTH or not _HANDLE.fullmatch(handle):
        near = "-".join(re.findall(r"[a-z0-9]+", handle)[:12])[:HANDLE_LENGTH].strip("-")
        offers = instead(words, near) if near else ()
        form.report(Code.HANDLE_UNREADABLE, words.where, offers, found=brief(words.text),
                    near=near or "starts-right")  # fmt: skip
        return None
    return handle
