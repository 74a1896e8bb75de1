"""Every sentence people read, per language."""
