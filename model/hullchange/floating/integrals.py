"""What lies below a plane: volume, its centre, the waterplane and its moments."""

from dataclasses import dataclass

import numpy as np

from hullchange.errors import ModelError
from hullchange.floating.kernel.shapes import Integrals, Mesh, vector
from hullchange.floating.mesh import mesh_of
from hullchange.geometry.frame import FloatArray, WaterPlane
from hullchange.geometry.surface import Surface


@dataclass(frozen=True, eq=False)
class PlaneIntegrals:
    """Integrals over what lies below a plane, in the boat's axes about a point on the plane.

    Attributes:
        reference: (3,) [m] the point on the plane that the moments are about.
        volume: [m^3].
        first_moment: (3,) [m^4] of the volume.
        waterplane_area: [m^2].
        waterplane_first: (3,) [m^3] first moments of the waterplane.
        waterplane_second: (3, 3) [m^4] second moments of the waterplane.
        wetted_area: [m^2] of the faces below the plane; of an envelope, faces where two pieces
            touch are counted too (`Envelope.outside` has none).
    """

    reference: FloatArray
    volume: float
    first_moment: FloatArray
    waterplane_area: float
    waterplane_first: FloatArray
    waterplane_second: FloatArray
    wetted_area: float

    @property
    def buoyancy_centre(self) -> FloatArray:
        """(3,) [m] centre of the volume.

        Raises:
            ModelError: ``no-volume`` where nothing lies below the plane.
        """
        if self.volume == 0.0:
            raise ModelError(
                "no-volume", "Nothing lies below the water, so there is no centre."
            )
        return self.reference + self.first_moment / self.volume

    @property
    def flotation_centre(self) -> FloatArray:
        """(3,) [m] centre of the waterplane.

        Raises:
            ModelError: ``no-waterplane`` where the plane cuts nothing.
        """
        if self.waterplane_area == 0.0:
            raise ModelError("no-waterplane", "The waterplane does not cut the hull.")
        return self.reference + self.waterplane_first / self.waterplane_area

    @property
    def waterplane_inertia(self) -> FloatArray:
        """(3, 3) [m^4] second moments of the waterplane about its own centre."""
        if self.waterplane_area == 0.0:
            return np.zeros((3, 3))
        first = self.waterplane_first
        return self.waterplane_second - np.outer(first, first) / self.waterplane_area


def integrals_below(surface: Surface, plane: WaterPlane) -> PlaneIntegrals:
    """Integrals over what of a closed surface lies below a plane; exact for its flat faces."""
    return integrals_of(mesh_of(surface), plane)


def integrals_of(mesh: Mesh, plane: WaterPlane) -> PlaneIntegrals:
    """The same of a mesh."""
    # compiled code is loaded at first use only
    from hullchange.floating.kernel.below_plane import integrals

    centre = np.array(mesh.centre)
    offset = plane.offset - float(plane.up @ centre)
    return about(integrals(mesh, vector(plane.up), offset), centre + plane.up * offset)


def about(below: Integrals, reference: FloatArray) -> PlaneIntegrals:
    """A kernel's integrals in the boat's frame, about a reference (3,) [m] on the plane."""
    xx, yy, zz, xy, xz, yz = below.area_second
    return PlaneIntegrals(
        reference=reference,
        volume=below.volume,
        first_moment=np.array(below.moment),
        waterplane_area=below.area,
        waterplane_first=np.array(below.area_moment),
        waterplane_second=np.array([[xx, xy, xz], [xy, yy, yz], [xz, yz, zz]]),
        wetted_area=below.wetted_area,
    )
