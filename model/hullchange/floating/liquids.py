"""Where liquid lies in a tank that is tilted with the boat."""

from hullchange.floating.equilibrium import Tank
from hullchange.floating.integrals import PlaneIntegrals, about
from hullchange.floating.kernel.shapes import vector
from hullchange.floating.mesh import mesh_of
from hullchange.geometry.frame import FloatArray

EXACT = 1e-13
"""of the liquid's volume: its level is found as closely as a boat's tanks are in the kernel."""


def liquid_integrals(tank: Tank, up: FloatArray) -> PlaneIntegrals:
    """Volume, centre and free surface of a tank's liquid, level at an attitude.

    Args:
        tank: with some liquid in it.
        up: (3,) unit vector in the boat's frame.
    """
    # compiled code is loaded at first use only
    from hullchange.floating.kernel.below_plane import level

    centre = tank.surface.bounds.mean(axis=0)
    offset, below = level(mesh_of(tank.surface), vector(up), tank.liquid_volume, EXACT)
    return about(below, centre + up * offset)
