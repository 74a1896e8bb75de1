"""The stages in order."""
