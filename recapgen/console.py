"""The only printing: progress and problems."""
