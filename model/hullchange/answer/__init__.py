"""The frozen shape of every result, and its words; nothing is computed here."""
