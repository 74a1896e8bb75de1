"""Finished pages shown to a browser on this computer, or on request to the local network."""
