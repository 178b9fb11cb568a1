"""A boat held at a heel with water in her wells: as much as they hold in that attitude."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import TypeAlias

import numpy as np

from hullchange.floating.equilibrium import Tank, body_of
from hullchange.floating.heeled import HeldBoat, directions
from hullchange.floating.kernel.shapes import OFFSET, RESIDUAL, FloatingBody
from hullchange.floating.mesh import mesh_of, stacked
from hullchange.geometry.frame import FloatArray, WaterPlane, up_vector

Flooding: TypeAlias = Callable[[WaterPlane], tuple[Tank, ...]]
"""The water that stands in her wells at an attitude: of every well, always in one order."""

MOST_ROUNDS = 60
"""of pouring to and fro at a heel: three or four are usual. A boat that sinks never settles."""

SAME_VOLUME = 1e-9
"""[m^3] A well holds what it can to a thousandth of a cubic centimetre."""

NO_WATER = 1e-12
"""[m^3] An empty well: a tank without any volume has no level to look for."""

LARGEST_GAIN = 10.0
"""A chord may move this many times the water that is missing, or that part of it."""


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
    def body(self) -> FloatingBody:
        """Her arrays, for the kernel, her wells the last of the tanks.

        Raises:
            ModelError: ``no-mass``, ``no-volume`` or ``sinks``, already without that water.
        """
        dry = body_of(self.envelope, self.loading, self.water_density, 1.0)
        tanks = [tank for tank in self.loading.tanks if tank.liquid_volume > 0.0]
        tanks += self.flooding(WaterPlane(up_vector(0.0, 0.0), 0.0))
        liquids = [(t.liquid_volume, t.liquid_density / self.water_density) for t in tanks]
        return dry._replace(tanks=stacked([mesh_of(tank.surface) for tank in tanks], liquids))

    def _swept(self, start: FloatArray, path: FloatArray) -> FloatArray:
        """Rows (n, 12) along heels (n,), infinite from where she sinks or wells go on."""
        rows = np.full((len(path), start.shape[1]), np.inf)
        row, water = start[0], self._water_at(start[0])
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
        """Her row (12,) where each well holds what it can, and that water (k,) [m^3].

        By chords, well by well. A row of infinities where the water does not settle.

        Args:
            near: (12,) a row near by.
            water: (k,) [m^3] that is likely.
            heel: [rad].
        """
        from hullchange.floating.kernel.held import swept

        tanks = self.body.tanks
        gain, moved, missed = np.ones(len(water)), np.zeros(len(water)), np.zeros(len(water))
        for _ in range(MOST_ROUNDS):
            volumes = tanks.volumes.copy()
            volumes[len(volumes) - len(water) :] = water
            body = self.body._replace(tanks=tanks._replace(volumes=volumes))
            near = swept(body, near[None], np.array([heel]))[0]
            missing = self._water_at(near) - water
            if not np.abs(missing).max(initial=0.0) > SAME_VOLUME:
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
        plane = WaterPlane(up, float(row[OFFSET] + up @ np.array(self.body.mesh.centre)))
        return np.array([max(tank.liquid_volume, NO_WATER) for tank in self.flooding(plane)])
