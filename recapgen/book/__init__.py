"""All recaps become the coach's book, the data files and the cases."""
