"""A boat held at a heel with water in her wells: as much as they hold in that attitude."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import TypeAlias

import numpy as np

from hullchange.floating.equilibrium import Tank, case_of
from hullchange.floating.heeled import OFFSET, RESIDUAL, HeldBoat, directions
from hullchange.floating.mesh import Case, mesh_of, stacked
from hullchange.geometry.frame import FloatArray, WaterPlane, up_vector

Flooding: TypeAlias = Callable[[WaterPlane], tuple[Tank, ...]]
"""The water that stands in her wells in an attitude: of every well, always in one order."""

MOST_ROUNDS = 60
SETTLED = 1e-9  # [m^3]
NO_WATER = 1e-12  # [m^3]
LARGEST_GAIN = 10.0


@dataclass(frozen=True, eq=False)
class FloodedBoat(HeldBoat):
    """A boat whose wells at every heel stand as full as they can there.

    Her displacement changes with the water that spills, and the water moves as any liquid
    does. Slopes, rates and energies are those of the water that is in her: they know nothing
    of what spills on the way to the next heel.

    Attributes:
        envelope: what floats, her wells not taken off.
        loading: what she weighs without that water.
        water_density: [kg/m^3].
        flooding: the water in her wells.
    """

    flooding: Flooding

    @cached_property
    def case(self) -> Case:
        """Her bare arrays, her wells the last of the tanks.

        Raises:
            ModelError: ``no-mass``, ``no-volume`` or ``sinks``, already without that water.
        """
        dry = case_of(self.envelope, self.loading, self.water_density, 1.0)
        tanks = [tank for tank in self.loading.tanks if tank.liquid_volume > 0.0]
        tanks += self.flooding(WaterPlane(up_vector(0.0, 0.0), 0.0))
        liquids = [(t.liquid_volume, t.liquid_density / self.water_density) for t in tanks]
        return (dry[0], stacked([mesh_of(tank.surface) for tank in tanks], liquids), *dry[2:])

    def _swept(self, start: FloatArray, path: FloatArray) -> FloatArray:
        """Rows along a path, as far as she floats and her wells settle."""
        rows = np.full((len(path), len(start)), np.inf)
        row, water = start, self._water_at(start)
        before = water
        for k, heel in enumerate(path.tolist()):
            likely = np.maximum(2.0 * water - before, NO_WATER)
            before = water
            row, water = self._settled(row, likely, heel)
            if not row[RESIDUAL] < np.inf:
                break
            rows[k] = row
        return rows

    def _settled(
        self, near: FloatArray, water: FloatArray, heel: float
    ) -> tuple[FloatArray, FloatArray]:
        """The row at which each well holds what it can (k,) [m^3], by chords well by well."""
        from hullchange.floating import descent

        mesh, tanks, weight, unit, heel_is_free = self.case
        gain, moved, missed = np.ones(len(water)), np.zeros(len(water)), np.zeros(len(water))
        for _ in range(MOST_ROUNDS):
            liquids = tanks[8].copy()
            liquids[len(liquids) - len(water) :, 0] = water
            case = (mesh, (*tanks[:8], liquids), weight, unit, heel_is_free)
            near = descent.swept(case, near, np.array([heel]))[0]
            missing = self._water_at(near) - water
            if not np.abs(missing).max(initial=0.0) > SETTLED:
                return near, water
            fell = missed - missing
            chord = np.divide(moved, fell, out=gain, where=(moved != 0.0) & (fell != 0.0))
            gain, missed = np.clip(chord, 1.0 / LARGEST_GAIN, LARGEST_GAIN), missing
            moved = np.maximum(water + gain * missing, NO_WATER) - water
            water = water + moved
        return np.full(len(near), np.inf), water

    def _water_at(self, row: FloatArray) -> FloatArray:
        """(k,) [m^3] what her wells can hold in the attitude of a row."""
        up = directions(row[None])[0][0]
        plane = WaterPlane(up, float(row[OFFSET] + up @ self.case[0][6]))
        return np.array([max(tank.liquid_volume, NO_WATER) for tank in self.flooding(plane)])
