"""What every run of the command line reads and works out first, once for all runs of a test.

Runs are forked from a process that has imported this. Nothing here starts a thread, which a
fork would lose: the converter of drawings is imported and not used.
"""

import altair as alt  # noqa: F401
import vl_convert  # noqa: F401

import recapgen.app.publishing
import recapgen.cli  # noqa: F401
from recapgen.intake.clearing_lines import clearings
from recapgen.publish.checks import vocabulary
from recapgen.render.charts.specification import specification

specification()
vocabulary("en", "en", "en")
list(clearings("No pain."))
