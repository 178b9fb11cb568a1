"""The migrations, numbered from the oldest."""
