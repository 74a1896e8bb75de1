"""Frozen, typed values; units in names."""
