"""A package, so that no folder of this name from a wheel is taken for it."""
