"""The day on which everything is judged; time is an input like any other."""

from datetime import date, datetime


def today(given: date | None) -> date:
    """``given``, else the day on this computer's calendar."""
    return given if given is not None else datetime.now().astimezone().date()
