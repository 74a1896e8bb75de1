"""A student's paths become values and problems."""
