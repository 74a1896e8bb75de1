"""The pages of the coach's own book."""
