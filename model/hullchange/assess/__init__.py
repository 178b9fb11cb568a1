"""The whole answer and what is judged of it."""
