"""How each figure is derived: its formula and inputs, down to what was measured."""
