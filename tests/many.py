"""How often the properties are tried that stand between a stranger's file and a page."""

from hypothesis import settings

MANY = settings(max_examples=max(500, settings().max_examples), deadline=None)
