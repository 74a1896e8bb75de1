"""What a fault costs, which decides the severity of its problem."""

from enum import StrEnum


class Severity(StrEnum):
    """An error holds something back; a warning is published, but wants a look."""

    ERROR = "error"
    WARNING = "warning"


class Cost(StrEnum):
    """What a fault costs. A fault stays where it is: each costs no more than it must."""

    NOTHING = "nothing"
    ROW = "row"  # that row is left out, shown with the reason
    CLIP = "clip"
    CASE = "case"
    STUDENT = "student"  # the student's last good site stays up
    RUN = "run"
