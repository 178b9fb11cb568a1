"""Every rule that is put to a boat's levers, in the order they are shown."""

from hullchange.criteria import imo, inland, iso12217, mgn280

RULES = (*mgn280.RULES, *imo.RULES, *inland.RULES, *iso12217.RULES)
"""Rules for sailing monohulls first, then those for ships, then those to be confirmed."""
