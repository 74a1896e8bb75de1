"""What keeps a student's site locked: words, keys, and files sealed with them."""
