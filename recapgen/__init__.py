"""Lesson recaps from a folder of shots, clips and notes."""

__version__ = "0.1.0"
