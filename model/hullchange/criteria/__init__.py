"""Stability and drainage criteria as graded records, and what a boat's levers say to them."""
