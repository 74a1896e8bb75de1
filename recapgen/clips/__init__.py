"""Probe, find the strike, encode into the cache."""
