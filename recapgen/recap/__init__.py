"""One student's lessons become recaps."""
