"""Frozen revisions, comments, sign-off, and the files that leave for a reviewer."""
