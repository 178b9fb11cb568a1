"""Freeboard survey and inclining: what was measured on the real boat."""
