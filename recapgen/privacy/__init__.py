"""Consent, addresses, leak checks."""
