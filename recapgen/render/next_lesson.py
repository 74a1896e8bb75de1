"""When the student comes next, as a page says it."""

from msgspec import Struct

from recapgen.model.recap import ComingLesson
from recapgen.render.reader import Reader
from recapgen.render.session_calendar import CALENDAR_FILE
from recapgen.words.amounts import day


class NextLesson(Struct, frozen=True):
    """``calendar`` is the file that holds it."""

    line: str
    calendar: str = CALENDAR_FILE


def next_lesson(coming: ComingLesson | None, reader: Reader) -> NextLesson | None:
    """The line with its day, and with a time where there is one."""
    if coming is None:
        return None
    on = day(coming.on, reader.words)
    if coming.at is None:
        return NextLesson(reader.words.say("page.next.day", day=on))
    return NextLesson(reader.words.say("page.next.time", day=on, time=f"{coming.at:%H:%M}"))
