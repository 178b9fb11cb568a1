"""Stability and drainage criteria as graded records, evaluated on the levers of a boat."""
