"""Staging, the site builder, checks, swap."""
