"""Keys of a question.md that stand in notes.md: the file was renamed, or begun as the other one."""

from msgspec.structs import replace

from recapgen.intake.yaml_map import MapNode
from recapgen.model.fix import Cut, one_of
from recapgen.model.problem import Code, Problem

_OF_A_QUESTION = frozenset({"asked by", "answered"})


def without_a_questions_keys(keyed: MapNode) -> tuple[MapNode, tuple[Problem, ...]]:
    """The keys of notes.md; one problem for those that only a question has."""
    asked = [entry for entry in keyed.entries if entry.name in _OF_A_QUESTION]
    rest = replace(keyed, entries=tuple(e for e in keyed.entries if e not in asked))
    if not asked:
        return rest, ()
    offers = one_of([tuple(Cut(entry.where) for entry in asked)])
    facts = {"found": ", ".join(entry.name for entry in asked)}
    problem = Problem(Code.QUESTION_IN_NOTES, asked[0].where, facts, offers=offers)
    return rest, (problem,)
