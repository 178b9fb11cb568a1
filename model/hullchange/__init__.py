"""hullchange: what a refit does to a steel yacht's weight, float and trim, before it is cut.

Frame, once for the whole package: x aft from the forward perpendicular (where the design
waterline meets the stem), y to starboard, z up from the design waterline; right-handed; SI.
Trim is positive by the stern, heel positive to starboard, sinkage positive down at amidships.
"""

__version__ = "0.1.0"
