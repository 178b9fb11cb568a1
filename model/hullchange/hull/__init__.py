"""The hull as measured: lines, deck, appendages, and the functions the new parts fit to."""
