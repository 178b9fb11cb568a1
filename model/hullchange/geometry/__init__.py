"""Axes and planes, closed surfaces, plate outlines and the maps that place plates in space."""
