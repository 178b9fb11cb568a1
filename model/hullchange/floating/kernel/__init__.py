"""The inner loops, compiled: ``METHOD.md`` in the folder above says what they do and why."""
