"""Did it change, and how sure can one be."""
