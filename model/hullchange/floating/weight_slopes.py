"""What righting levers, trim and GM owe to the four numbers that she weighs.

At a held heel the couple is linear in the moments of her weight but for the trim that answers
them, so that one derivative at each heel says what a centre of gravity elsewhere does; a change
of displacement goes by its slope.
"""

from dataclasses import dataclass

import numpy as np

from hullchange.floating.equilibrium import Equilibrium, body_of
from hullchange.floating.heeled import directions
from hullchange.floating.kernel.shapes import HEEL, OFFSET, TRIM, FloatingBody, vector
from hullchange.floating.lever_curve import SAME_HEEL, LeverCurve
from hullchange.geometry.frame import FloatArray

SPACING = np.pi / 18.0
"""[rad] between heels at which slopes are taken. They go round as sine and cosine, nearly."""

DIFFERENCE_STEP = 3e-4
"""[rad], and tenths of the beam, to either side. Round-off (1e-13 over the step) and what a
central difference leaves out (the step squared) are both below a millionth."""


@dataclass(frozen=True, eq=False)
class WeightSlopes:
    """Derivatives of a lever curve by mass [kg] and moments [kg m] about the frame's origin.

    Attributes:
        heels: (k,) [rad] rising; twice at a step.
        matrices: (k, 3, 4) of the arm to port [m], the trim [rad] and the offset [m]; further
            columns are of other unknowns.
        rows: (k, 12) [in the units of `Heeled`] the boat held at those heels.
    """

    heels: FloatArray
    matrices: FloatArray
    rows: FloatArray

    def at(self, heels: FloatArray) -> FloatArray:
        """(m, 3, 4 or more) at heels (m,) [rad], of a step the side towards upright."""
        before, after = (np.searchsorted(self.heels, heels, side) for side in ("left", "right"))
        k = np.clip(np.where(heels < 0.0, after, before) - 1, 0, len(self.heels) - 2)
        width = self.heels[k + 1] - self.heels[k]
        width = np.where(width > 0.0, width, SPACING)
        part = heels - self.heels[k]
        rest = width - part
        # an arm goes round as sine and cosine of the heel, trim and water run straight
        low = np.stack([np.sin(rest) / np.sin(width), rest / width, rest / width], axis=1)
        high = np.stack([np.sin(part) / np.sin(width), part / width, part / width], axis=1)
        between = low[..., None] * self.matrices[k] + high[..., None] * self.matrices[k + 1]
        return np.asarray(between)

    def heights(self, points: FloatArray, rows: FloatArray) -> FloatArray:
        """(n, 4 or more) [m per unit] derivatives of the heights of points over the water.

        Args:
            points: (n, 3) [m].
            rows: (n, 12) [in the units of `Heeled`].
        """
        turn = _turned_by_trim(rows, points.T)
        here = self.at(rows[:, HEEL])
        return np.asarray(turn[:, None] * here[:, 1] - here[:, 2])


def weight_slopes(curve: LeverCurve) -> WeightSlopes:
    """The derivatives of a lever curve, at its heels of whole tens and its steps."""
    from hullchange.floating.kernel import held

    heels = curve.heels
    tens = np.abs(heels - SPACING * np.round(heels / SPACING)) < SAME_HEEL
    stands_twice = np.diff(heels) == 0.0
    tens[[0, -1]] = True
    tens[1:] |= stands_twice
    tens[:-1] |= stands_twice
    matrices = np.empty((len(heels), 3, 4))
    for k, boat in enumerate(curve.boats):
        own = np.nonzero(tens & (curve.boat == k))[0]
        rows, centre = curve.rows[own].copy(), np.array(boat.body.mesh.centre)
        ups = directions(rows)[0]
        rows[:, OFFSET] -= ups @ centre
        found = held.weight_slopes(boat.body, rows, boat.water_density)
        # offsets are measured from the frame's origin
        found[:, 2] += found[:, 1] * _turned_by_trim(rows, centre)[:, None]
        matrices[own] = found
    return WeightSlopes(heels[tens], matrices[tens], curve.rows[tens])


def upright_gm_slopes(upright: Equilibrium) -> FloatArray:
    """(4,) derivatives of GM held upright by mass [kg] and its moments [kg m].

    Args:
        upright: held at no heel.
    """
    from hullchange.floating.kernel import held

    body = body_of(upright.envelope, upright.loading, upright.water_density, 1.0)
    up = upright.plane.up
    offset = float(up @ (upright.integrals.reference - np.array(body.mesh.centre)))
    row = np.zeros((1, 12))
    row[0, [HEEL, TRIM, OFFSET]] = 0.0, upright.plane.trim, offset
    _, turn, rise = held.weight_slopes(body, row, upright.water_density)[0]
    by_rise, by_trim = _gm_slopes(body, up, offset)
    return np.asarray(by_rise * rise + by_trim * turn + weight_on_gm(upright))


def _gm_slopes(body: FloatingBody, up: FloatArray, offset: float) -> tuple[float, float]:
    """Change of GM by rise [m/m] and by trim [m/rad], weights at rest, by central differences.

    The boat turns about the point of the plane nearest the mesh's centre.
    """
    from hullchange.floating.kernel.descent import metacentric_height
    from hullchange.floating.kernel.vectors import dot, turned

    n = vector(up)

    def gm(rise: float, trim: float) -> float:
        there = turned(n, 0.0, trim)
        return metacentric_height(body, there, offset * dot(n, there) + rise)

    step, rise = DIFFERENCE_STEP, DIFFERENCE_STEP * body.length
    by_rise = (gm(rise, 0.0) - gm(-rise, 0.0)) / (2.0 * step * body.length)
    return by_rise, (gm(0.0, step) - gm(0.0, -step)) / (2.0 * step)


def weight_on_gm(rest: Equilibrium) -> FloatArray:
    """(4,) [m/kg, 1/kg] what her centre of gravity's own height does to GM, the water held."""
    up = rest.plane.up
    return np.array([float(rest.centre_of_gravity @ up), *-up]) / rest.mass


def _turned_by_trim(rows: FloatArray, point: FloatArray) -> FloatArray:
    """(n,) what the height of a point gains by trim at rows (n, 12)."""
    trim, heel = rows[:, TRIM], rows[:, HEEL]
    by_trim = [-np.cos(trim), np.sin(trim) * np.sin(heel), -np.sin(trim) * np.cos(heel)]
    return np.asarray(sum(way * c for way, c in zip(by_trim, point, strict=True)))
