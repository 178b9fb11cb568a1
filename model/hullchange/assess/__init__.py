"""The whole answer and what is judged of it; the comparison of two answers."""
