"""The day on which everything is judged, and the time of a seal: inputs like any other."""

from datetime import date, datetime


def today(given: date | None) -> date:
    """``given``, else the day on this computer's calendar."""
    return given if given is not None else now().date()


def now() -> datetime:
    """The time on this computer's clock, to the second, with its offset from UTC."""
    return datetime.now().astimezone().replace(microsecond=0)
