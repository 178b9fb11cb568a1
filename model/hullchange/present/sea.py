"""How a refit lies in a picture: the waters, her paint, and the sea around her."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hullchange.answer.assessment import ConditionResult
from hullchange.boat.boat import Boat
from hullchange.geometry.frame import FloatArray, WaterPlane, up_vector
from hullchange.present.light import Light, shown_of
from hullchange.present.sheet import AnyFloats, Faces, Pixels, ViewSheet
from hullchange.units import deg_of_rad, rad_of_deg

UP = np.array([0.0, 0.0, 1.0])
KEEL_UP = np.diag([1.0, -1.0, -1.0])
BREADTH, NARROWEST, BROADEST = 0.0085, 0.04, 0.18  # of the boot-top: share of length; [m]
STEEPEST = 60.0
"""[deg] of heel up to which she is painted to the water she lies in."""
SEA, SEA_SHARE, SHADE_SHARE = "#93b0b8", 0.5, 0.13
REACH, NARROWER, PER_BREADTH = 1.75, 0.62, 2.4
"""How far the sea reaches beyond her: of her half-length; across; of her half-breadth."""
FULL, RIM = 0.3, 0.12
"""The sea fades out from a share of its reach, and in a share of the sheet along its rim."""
EDGE_ON = 0.05
LEAST = 0.004


@dataclass(frozen=True, eq=False)
class Waters:
    """How she lies.

    Attributes:
        now: the water, None where it is not known.
        before: the water as found, where she lay upright in it.
        painted: the water she is painted to.
        turned: (3, 3) turn of the boat [-], with the keel up where she floats so.
        length: [m].
    """

    now: WaterPlane | None
    before: WaterPlane | None
    painted: WaterPlane
    turned: FloatArray
    length: float

    @classmethod
    def of(
        cls, boat: Boat, now: ConditionResult | None, before: ConditionResult | None
    ) -> "Waters":
        """As she comes to rest, and as she came to rest before."""
        water = None if now is None else _water(now)
        is_over = now is not None and bool(now.upside_down)
        keeps_paint = water is None or is_over or abs(deg_of_rad(water.heel)) > STEEPEST
        return cls(
            now=water,
            before=None if before is None or before.upside_down else _water(before),
            painted=WaterPlane(UP, 0.0) if water is None or keeps_paint else water,
            turned=KEEL_UP if is_over else np.eye(3),
            length=boat.hull.length,
        )

    @property
    def boot_top(self) -> float:
        """Breadth of the boot-top [m]."""
        return min(BROADEST, max(NARROWEST, self.length * BREADTH))


def _water(row: ConditionResult) -> WaterPlane | None:
    if row.water_offset_m is None:
        return None
    up = up_vector(rad_of_deg(row.trim_deg), rad_of_deg(row.heel_deg))
    return WaterPlane(up, row.water_offset_m)


@dataclass(frozen=True, eq=False)
class Sea:
    """A calm sea that fades out around her, with her shadow on it.

    Attributes:
        sheet: on which it lies.
        water: its surface.
        middle: (3,) [m].
        axes: (2, 3) along and across it, a metre as a share of its reach.
    """

    sheet: ViewSheet
    water: WaterPlane
    middle: FloatArray
    axes: FloatArray

    @classmethod
    def around(cls, faces: Faces, sheet: ViewSheet, water: WaterPlane | None) -> "Sea | None":
        """The sea she floats in; None where it is seen edge on, from below or not at all."""
        if water is None or water.up @ sheet.turn[2] < EDGE_ON:
            return None
        points = faces.corners.reshape(-1, 3)
        aft = np.array([1.0, 0.0, 0.0]) - water.up[0] * water.up
        aft /= np.linalg.norm(aft)
        aside = np.cross(water.up, aft)
        along, across = points @ aft, points @ aside
        half = REACH * float(np.ptp(along)) / 2.0
        wide = max(NARROWER * half, PER_BREADTH * float(np.abs(across).max()))
        middle = aft * (along.max() + along.min()) / 2.0
        return cls(sheet, water, middle, np.array([aft / half, aside / wide]))

    def lay(self, rows: Pixels, top: int, is_wet: NDArray[np.bool_], light: Light) -> None:
        """Lays it over wet pixels of some rows; four are as one, since it is so smooth.

        Args:
            rows: (h, w, 4) colours, multiplied by their opacity.
            top: the first of these rows on the sheet.
            is_wet: (h, w) where it is seen.
            light: casts her shadow on it.
        """
        fours = is_wet.reshape(is_wet.shape[0] // 2, 2, -1, 2)
        down, across = np.nonzero(fours.any(axis=(1, 3)))
        points, share = self._seen(2.0 * across + 1.0, 2.0 * down + 1.0 + top)
        some = share > LEAST
        down, across, points, share = down[some], across[some], points[some], share[some]
        up = np.broadcast_to(self.water.up, points.shape)
        dark = SHADE_SHARE * (1.0 - light.sun(points, up)) * share
        cover = SEA_SHARE * share
        laid = np.zeros((len(share), 4))
        laid[:, :3] = shown_of(SEA) * (cover * (1.0 - dark))[:, None]
        laid[:, 3] = 1.0 - (1.0 - cover) * (1.0 - dark)
        for k, m in ((0, 0), (0, 1), (1, 0), (1, 1)):
            wet = fours[down, k, across, m]
            at = 2 * down[wet] + k, 2 * across[wet] + m
            rows[at] = laid[wet] + rows[at] * (1.0 - laid[wet, 3:])

    def _seen(self, x: AnyFloats, y: AnyFloats) -> tuple[FloatArray, FloatArray]:
        """Its points (n, 3) [m] at places on the sheet, and how much is left of it there."""
        flat, eye = self.sheet.point(x, y, x * 0.0), self.sheet.turn[2]
        near = -self.water.height_above(flat) / (self.water.up @ eye)
        points = flat + near[:, None] * eye
        away = np.linalg.norm((points - self.middle) @ self.axes.T, axis=1)
        height, width = self.sheet.size
        rim = np.minimum(np.minimum(x, width - x), np.minimum(y, height - y)) / (RIM * width)
        return points, smooth((1.0 - away) / (1.0 - FULL)) * smooth(rim)


def smooth(share: FloatArray) -> FloatArray:
    """Shares (n,), from 0 to 1, level at both ends."""
    within = np.clip(share, 0.0, 1.0)
    return within * within * (3.0 - 2.0 * within)
