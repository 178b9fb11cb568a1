"""The refit document and what is asked of it."""
