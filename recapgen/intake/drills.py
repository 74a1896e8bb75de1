"""drills/: the coach's own library, one small markdown file for each drill."""

from pathlib import Path

from msgspec.structs import replace

from recapgen.intake.clearing_lines import check_lines
from recapgen.intake.form import NAME_LENGTH, Form, instead
from recapgen.intake.front_matter import split
from recapgen.intake.near_words import nearest
from recapgen.intake.practice_plan import DRILL_KEYS, read_step
from recapgen.intake.text_file import file_of, is_hidden, leads_outside, read_text
from recapgen.intake.yaml_map import brief, plain_key
from recapgen.model.drill import Drill
from recapgen.model.fix import Cut, Put, one_of
from recapgen.model.naming import folded
from recapgen.model.problem import Checked, Code, Cost, Problem, Severity
from recapgen.model.source import SourceRef

FOLDER = "drills"
MOST_DRILLS = 500
WORDS_LENGTH = 3000


def read_drills(root: Path) -> Checked[tuple[Drill, ...]]:
    """Every drill that can be read, by name.

    A fault here costs nothing by itself: a plan that names a drill which is not there says so.
    """
    problems: list[Problem] = []
    drills: dict[str, Drill] = {}
    try:
        files = _files(root)
    except OSError as fault:
        facts = {"reason": fault.strerror or type(fault).__name__}
        unread = Problem(Code.FILE_UNREADABLE, SourceRef(FOLDER), facts, Cost.NOTHING)
        return Checked((), (unread,))
    for path in files:
        drill, found = _read(root, path)
        problems.extend(replace(problem, costs=Cost.NOTHING) for problem in found)
        if drill is None:
            continue
        first = drills.setdefault(plain_key(drill.name), drill)
        if first is not drill:
            facts = {"name": drill.name, "other": first.where.file}
            another = Put(SourceRef(drill.where.file), ("name",), f"{drill.name} 2")
            offers = one_of([another])
            problems.append(Problem(Code.DRILL_TWICE, drill.where, facts, offers=offers))
    return Checked(tuple(drills.values()), tuple(problems))


def _files(root: Path) -> list[Path]:
    folders = [f for f in root.iterdir() if f.name.casefold() == FOLDER and f.is_dir()]
    files = [
        file
        for folder in folders
        for file in folder.iterdir()
        if file.suffix.casefold() == ".md" and not file.name.startswith((".", "_"))
    ]
    return sorted(files, key=lambda file: file.name.casefold())[:MOST_DRILLS]


def _read(root: Path, path: Path) -> Checked[Drill]:
    """None where anything in the file is wrong: half a drill may be the wrong half."""
    file = file_of(root, path)
    if any(is_hidden(character) for character in path.name):
        return Checked(None, (Problem(Code.NAME_UNPRINTABLE, SourceRef(file)),))
    text, problems = read_text(root, path)
    if text is None:
        return Checked(None, problems)
    front, problems = split(text, file, frozenset((*DRILL_KEYS.keys, *DRILL_KEYS.variants)))
    if front is None or not front.whole:
        return Checked(None, problems)
    found = list(problems)
    clearing = check_lines(text, file, front.next_key.line or 1, Cost.NOTHING)
    form = Form(front.keyed, DRILL_KEYS, found)
    name = form.text("name", NAME_LENGTH) or " ".join(path.stem.split())
    step = read_step(form)
    form.required("do")
    if len(front.words) > WORDS_LENGTH:
        facts = {"length": str(len(front.words)), "most": str(WORDS_LENGTH)}
        form.report(Code.TEXT_TOO_LONG, front.next_key, key=path.name, **facts)
    if any(problem.severity is Severity.ERROR for problem in found):
        return Checked(None, tuple(found))
    show = _show(form, root, path.parent)
    step = replace(step, drill=name, words=front.words.strip(), show=show)
    return Checked(Drill(name, step, SourceRef(file, 1, 1)), (*found, *clearing))


def _show(form: Form, root: Path, folder: Path) -> str | None:
    """The picture or clip beside the drill that ``show:`` names, from the lessons folder."""
    words = form.words("show")
    if words is None:
        return None
    name = words.text.strip()
    found = next((f for f in folder.iterdir() if folded(f.name) == folded(name)), None)
    if found is None or leads_outside(root, found) or not found.is_file():
        near = nearest(name, (f.name for f in folder.iterdir() if f.suffix.casefold() != ".md"))
        offers = instead(words, *([near] if near else ())) + one_of([Cut(form.place("show"))])
        form.report(Code.DRILL_SHOW_MISSING, words.where, offers, found=brief(name))
        return None
    return file_of(root, found)
