"""A boat held at a heel, free to sink and trim: her righting lever and how it goes on.

Held at a heel H, energy is least over the water's offset and the trim T. What is left of its
slope is the couple that wants to turn her: dE/dH = V0 cos T times the lever. How lever, trim
and offset go on with heel follows exactly, by the Schur complement of the second derivatives.
"""

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import cos, degrees, pi

import numpy as np

from hullchange.errors import ModelError
from hullchange.floating.envelope import Envelope
from hullchange.floating.equilibrium import ACCEPTED, Loading, body_of
from hullchange.floating.kernel.shapes import (
    ENERGY,
    HEEL,
    LENGTHS_PER_BEAM,
    OFFSET,
    RESIDUAL,
    TRIM,
    TRIM_RATE,
    FloatingBody,
    vector,
)
from hullchange.floating.liquids import liquid_integrals
from hullchange.geometry.frame import FloatArray, WaterPlane, up_vector
from hullchange.units import STANDARD_GRAVITY

LARGEST_STEP = pi / 36.0 * (1.0 + 1e-9)
"""[rad] Five degrees, and round-off: most of heel in one step, so that the trim is followed."""

NOISE = 1e-11
"""of the beam: a lever below it is none. It is ten times what is left of a boat at rest."""


@dataclass(frozen=True)
class Heeled:
    """A boat at rest but for the heel that she is held at; in the order of `HeldRow`.

    Attributes:
        heel: [rad] positive to starboard.
        to_port: [m] arm of the couple that turns her to port, between weight and buoyancy. It
            runs smoothly through upright; `gz` is the same, signed so that it rights.
        slope: [m/rad] of ``to_port`` by heel, and so of `gz` by heel away from upright on
            either side. Exact, her trim and the liquids going along.
        trim: [rad] positive by the stern.
        offset: [m] of the water's plane.
        trim_rate: [rad/rad] of the trim by heel.
        offset_rate: [m/rad] of the offset by heel.
        energy: [J] potential energy of boat, liquids and water.
        trim_stiffness: [m] metacentric height lengthwise: what resists a change of trim.
        evaluations: [-] how often volume and levers were taken to find it.
        residual: [-] what is left of volume over volume, or of trimming lever over beam.
        leapt: [-] above zero where her trim leapt here from the heel before: there she has two.
    """

    heel: float
    to_port: float
    slope: float
    trim: float
    offset: float
    trim_rate: float
    offset_rate: float
    energy: float
    trim_stiffness: float
    evaluations: float
    residual: float
    leapt: float

    @property
    def gz(self) -> float:
        """[m] righting lever: positive where it turns her towards upright, on either side."""
        return -self.to_port if self.heel < 0.0 else self.to_port

    @property
    def plane(self) -> WaterPlane:
        """The water in the boat's frame."""
        return WaterPlane(up_vector(self.trim, self.heel), self.offset)

    @property
    def stable(self) -> bool:
        """True where, let go at a heel with no lever, she comes back from a small push."""
        return self.slope > 0.0 and self.trim_stiffness > 0.0

    @property
    def inverted(self) -> bool:
        """True where her keel is above her deck."""
        return cos(self.heel) < 0.0


@dataclass(frozen=True, eq=False)
class HeldBoat:
    """A boat that can be held at any heel.

    Attributes:
        envelope: what floats.
        loading: what it weighs; her displacement is the same at every heel.
        water_density: [kg/m^3].
    """

    envelope: Envelope
    loading: Loading
    water_density: float

    @cached_property
    def body(self) -> FloatingBody:
        """Her arrays, for the kernel.

        Raises:
            ModelError: ``no-mass``, ``no-volume`` or ``sinks``.
        """
        return body_of(self.envelope, self.loading, self.water_density, 1.0)

    @property
    def weight(self) -> float:
        """[N] with her liquids."""
        return self.loading.total_mass * STANDARD_GRAVITY

    @property
    def noise(self) -> float:
        """[m] A lever below this is none."""
        return NOISE * LENGTHS_PER_BEAM * self.body.length

    def near(self, start: WaterPlane | None) -> FloatArray:
        """Her row (12,) [in the units of `Heeled`] at a plane's heel, upright by default.

        Args:
            start: she is trimmed near it.
        """
        # compiled code is loaded at first use only
        from hullchange.floating.kernel.below_plane import level
        from hullchange.floating.kernel.descent import ROUGH_VOLUME

        heel, trim = (0.0, 0.0) if start is None else (start.heel, start.trim)
        volume = self.loading.total_mass / self.water_density
        up, mesh = up_vector(trim, heel), self.body.mesh
        guess = np.zeros(12)
        guess[[HEEL, TRIM]] = heel, trim
        guess[OFFSET] = level(mesh, vector(up), volume, ROUGH_VOLUME)[0] + up @ np.array(
            mesh.centre
        )
        return self.held(guess, heel)

    def held(self, start: FloatArray, heel: float) -> FloatArray:
        """Her row (12,) at a heel [rad], found from a row near by.

        Raises:
            ModelError: ``no-equilibrium`` where she has no trim to rest at.
        """
        rows = self.along(start, np.array([heel], dtype=np.float64))
        if not len(rows):
            held = f"{abs(degrees(heel)):.0f}° to {'port' if heel < 0.0 else 'starboard'}"
            sentence = (
                f"Held at {held} she finds no position of rest: she tips end over end or "
                "fills. Correct the height of her centre of gravity, or a weight that is too "
                "large or too far out."
            )
            raise ModelError("no-equilibrium", sentence)
        return np.asarray(rows[0])

    def along(self, start: FloatArray, heels: FloatArray) -> FloatArray:
        """Her rows (n, 12) [in the units of `Heeled`] outwards, as far as she has a trim.

        Args:
            start: (12,) [in the same units] at a heel not beyond the first.
            heels: (n,) [rad] going one way.
        """
        path, asked = _in_small_steps(float(start[HEEL]), heels)
        rows = self._swept(self._about(start[None], -1.0), path)
        ends = int(np.argmax(np.append(~(rows[:, RESIDUAL] <= ACCEPTED), True)))
        rows = rows[[k for k in asked if k < ends]]
        rows[:, ENERGY] *= self.water_density * STANDARD_GRAVITY
        return self._about(rows, 1.0)

    def _swept(self, start: FloatArray, path: FloatArray) -> FloatArray:
        """Rows along a path in small steps, with offsets from her mesh's centre."""
        from hullchange.floating.kernel.held import swept

        return swept(self.body, start, path)

    def _about(self, rows: FloatArray, sign: float) -> FloatArray:
        """Rows with offsets from the boat's origin (1.0) or from her mesh's centre (-1.0)."""
        from hullchange.floating.kernel.held import counted_from

        return counted_from(rows, self.body.mesh.centre, sign)

    def centres(self, row: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Centre of gravity, liquids as they lie, and of buoyancy, (3,) [m] each.

        Args:
            row: (12,) [in the units of `Heeled`]; heel, trim and offset are looked at.
        """
        plane = WaterPlane(up_vector(float(row[TRIM]), float(row[HEEL])), float(row[OFFSET]))
        moment = self.loading.mass * self.loading.centre
        for tank in self.loading.tanks:
            if tank.liquid_volume > 0.0:
                moment = moment + tank.mass * liquid_integrals(tank, plane.up).buoyancy_centre
        buoyancy = self.envelope.integrals(plane).buoyancy_centre
        return moment / self.loading.total_mass, buoyancy


def directions(rows: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Up (n, 3) [-] of each row, and its rate [1/rad] by heel.

    Args:
        rows: (n, 12) [in the units of `Heeled`].
    """
    heel, trim, rate = rows[:, HEEL], rows[:, TRIM], rows[:, TRIM_RATE]
    ch, sh, ct, st = np.cos(heel), np.sin(heel), np.cos(trim), np.sin(trim)
    ups = np.stack([-st, -ct * sh, ct * ch], axis=1)
    by_heel = np.stack([0.0 * heel, -ct * ch, -ct * sh], axis=1)
    by_trim = np.stack([-ct, st * sh, -st * ch], axis=1)
    return ups, by_heel + rate[:, None] * by_trim


def _in_small_steps(start: float, heels: FloatArray) -> tuple[FloatArray, list[int]]:
    """Heels with wide gaps bridged, and where among them the asked ones stand."""
    path: list[float] = []
    asked: list[int] = []
    for before, heel in pairwise([start, *heels.tolist()]):
        parts = max(1, int(np.ceil(abs(heel - before) / LARGEST_STEP)))
        path += [before + (heel - before) * k / parts for k in range(1, parts)]
        asked.append(len(path))
        path.append(heel)
    return np.array(path), asked
