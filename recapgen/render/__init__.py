"""Recaps become charts and finished page bodies."""
