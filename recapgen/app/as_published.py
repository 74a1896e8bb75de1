"""Whether what is published is what the lessons' files say today."""

from datetime import date
from pathlib import Path

from recapgen.app.consent_first import ConsentNow, part_of
from recapgen.app.site_publisher import student_files
from recapgen.publish.build_state import read_states, see
from recapgen.publish.output import Output


def shows_todays_files(consent: ConsentNow, root: Path, output: Output, day: date) -> bool:
    """Whether the student's site would be the same if it were made on this day."""
    state = read_states(output.state_file).get(part_of(consent.paths.key))
    if state is None or not state.recipe:
        return False
    inputs = see(student_files(consent.paths.folder, root), root, state)
    return state.stands(state.recipe, inputs, day, output.root)
