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

import os

from hullchange.errors import DocumentError, ModelError
from hullchange.refit import Refit, read
from hullchange.version import __version__

# Threads of the algebra beneath gain nothing on matrices as small as a boat's and wait for one
# another, and the last digit of an answer must not depend on how many there are.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

__all__ = ["DocumentError", "ModelError", "Refit", "__version__", "read"]
