"""Practice load and safety notes."""
