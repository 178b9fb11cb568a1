"""Weights that come off, go on or move, each with its uncertainty and where it is from."""
