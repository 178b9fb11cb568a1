"""The refits being edited: who may read and write them, and their answers."""
