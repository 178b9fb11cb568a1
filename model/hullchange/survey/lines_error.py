"""What an error of the measured lines does to a boat that was surveyed and floats in it.

The hull that was surveyed is the hull that floats: where her lines are wrong, she weighs other
than was found and is borne otherwise, and of what was read afloat most of it cancels. So each
error of the lines goes through both, and results take it as they take mass and moments: as an
unknown of its own, of one standard deviation.
"""

from dataclasses import dataclass

import numpy as np

from hullchange.floating.equilibrium import Equilibrium
from hullchange.floating.kernel.shapes import HEEL, OFFSET, TO_PORT, TRIM
from hullchange.floating.weight_slopes import WeightSlopes, weight_on_gm
from hullchange.geometry.frame import FloatArray, WaterPlane, up_vector
from hullchange.hull.shape_error import ShapeErrors

NUMBERS = 4
"""Number of the first unknowns, mass and its three moments; the lines' errors follow."""
MIRRORED = np.array([[1.0], [1.0], [-1.0], [1.0]])


@dataclass(frozen=True, eq=False)
class LinesError:
    """The errors of a surveyed hull's lines, and what each of the m errors does to her weight.

    Attributes:
        errors: of measuring her lines.
        as_found: (4, m) mass [kg] and moments [kg m] by each, without liquids that move.
    """

    errors: ShapeErrors
    as_found: FloatArray

    def weighed(self, changes: FloatArray) -> FloatArray:
        """(n, 4) mass [kg] and moments [kg m] of changes of all unknowns.

        Args:
            changes: (n, 4 + m) of mass [kg], its moments [kg m] and the lines' errors [-].
        """
        return changes[:, :NUMBERS] + changes[:, NUMBERS:] @ self.as_found.T

    def borne(self, plane: WaterPlane, water_density: float) -> FloatArray:
        """(4, m) mass [kg] and moments [kg m] of the water displaced more by each error."""
        return water_density * self.errors.below(plane)

    def on_gm(self, rest: Equilibrium, by_weight: FloatArray) -> FloatArray:
        """(m,) [m] change of GM by each error, the hull being weighed as found.

        Args:
            rest: the float.
            by_weight: (4,) derivatives of its GM by mass [m/kg] and moments [1/kg].
        """
        plane, below, volume = rest.plane, rest.integrals, rest.integrals.volume
        across = rest.tilts[0]
        inertia = across @ (below.waterplane_inertia - rest.free_surface) @ across
        more = self.errors.below(plane)
        of_waterplane = self.errors.waterplane_inertia(plane, below.flotation_centre)
        above = plane.up @ more[1:] - float(plane.up @ rest.buoyancy_centre) * more[0]
        held = (of_waterplane - float(inertia) / volume * more[0] + above) / volume
        answers = by_weight - weight_on_gm(rest)
        return np.asarray(
            by_weight @ self.as_found - answers @ (rest.water_density * more) + held
        )

    def on_levers(self, slopes: WeightSlopes, mass: float, density: float) -> WeightSlopes:
        """The slopes of levers with columns for each error of the lines.

        Taken at her trim and the water's offset to a milliradian and a millimetre.

        Args:
            slopes: by mass and moments.
            mass: of the boat [kg].
            density: of the water [kg/m^3].
        """
        found, known = [], {}
        for row, matrix in zip(slopes.rows, slopes.matrices, strict=True):
            at = (round(abs(float(row[HEEL])), 9), *np.round(row[[TRIM, OFFSET]], 3).tolist())
            if at not in known:
                known[at] = self.borne(WaterPlane(up_vector(at[1], at[0]), at[2]), density)
            # to port as to starboard, but for the side
            water = known[at] if row[HEEL] >= 0.0 else known[at] * MIRRORED
            by_error = matrix @ (self.as_found - water)
            # a lever is a couple over her weight, which water does not change
            by_error[0] -= row[TO_PORT] / mass * water[0]
            found.append(np.hstack([matrix, by_error]))
        return WeightSlopes(slopes.heels, np.stack(found), slopes.rows)
