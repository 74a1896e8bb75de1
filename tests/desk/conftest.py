"""The small sound lessons folder, as the intake's tests have it."""

from tests.intake.conftest import lessons

__all__ = ["lessons"]
