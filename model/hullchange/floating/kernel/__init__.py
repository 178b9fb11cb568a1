"""The inner loops, compiled: ``method.md`` in the folder above says what they do and why."""
