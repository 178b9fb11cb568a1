"""How each figure was worked out: its formula and inputs, down to what was measured."""
