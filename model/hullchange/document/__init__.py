"""The refit document: its grammar, reading, editing in place, options and differences."""
