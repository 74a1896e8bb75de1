"""Atomic files, cache, media, clock."""
