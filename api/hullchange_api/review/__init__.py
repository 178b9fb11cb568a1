"""Frozen revisions, comments, sign-off, and files for a reviewer."""
