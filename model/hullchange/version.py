"""The version of the program, which every result carries."""

__version__ = "0.1.0"
