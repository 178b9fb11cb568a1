"""The lines plan: curves of the hull, table of offsets, and the drawing at a scale."""
