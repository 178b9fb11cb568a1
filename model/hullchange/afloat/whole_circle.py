"""A float heeled round the whole circle."""

import numpy as np

from hullchange.floating.envelope import Envelope
from hullchange.floating.equilibrium import Equilibrium
from hullchange.floating.lever_curve import LeverCurve
from hullchange.floating.levers import righting_levers
from hullchange.geometry.frame import FloatArray

EVERY_5_DEG = np.arange(-180.0, 185.0, 5.0)
WHOLE_CIRCLE = np.radians(np.union1d(EVERY_5_DEG, np.arange(-90.0, 90.0, 2.5)))
"""Closer where criteria look."""
COARSE_CIRCLE = np.radians(EVERY_5_DEG)
"""For what is drawn beside it: by the exact slopes within 1.2 mm between its heels."""


def levers_of(rest: Equilibrium, envelope: Envelope, heels: FloatArray) -> LeverCurve:
    """Levers of a float at heels (n,) [rad], with what floats of her."""
    return righting_levers(envelope, rest.loading, rest.water_density, heels, rest.plane)
