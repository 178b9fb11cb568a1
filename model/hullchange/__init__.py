"""hullchange: what a refit does to a steel yacht's weight, float and trim, before it is cut.

Frame, once for the whole package: x aft from the forward perpendicular (where the design
waterline meets the stem), y to starboard, z up from the design waterline; right-handed; SI.
Trim is positive by the stern, heel positive to starboard, sinkage positive down at amidships.

The names below are what Python may rely on; what lies deeper may move.

>>> import hullchange
>>> refit = hullchange.read("examples/saltmarrow.yaml")
>>> higher = refit.changed("changes.deckhouse.parts.house.side_height_m", 0.70)
>>> refit.assess("departure").condition("departure").gm_m > (
...     higher.assess("departure").condition("departure").gm_m
... )
True
"""

from hullchange.errors import DocumentError, ModelError
from hullchange.refit import Refit, read
from hullchange.version import __version__

__all__ = ["DocumentError", "ModelError", "Refit", "__version__", "read"]
