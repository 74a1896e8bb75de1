"""Pictures of shots: what is drawn, and the drawing of it."""
