"""The refits being edited: who may read and edit them, and their answers."""
