"""What part of a kind fits a hull, and which dimension builds where one is refused."""
