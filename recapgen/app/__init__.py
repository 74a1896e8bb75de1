"""The stages in order, nothing else."""
