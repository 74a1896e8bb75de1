"""Shots as any device or spreadsheet writes them, read into the trade's own quantities."""
