"""Every figure of an answer explained: formula, what it was made from, source, grade."""
