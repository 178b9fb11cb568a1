"""Developable surfaces: plane, cylinder and cone.

A plate's outline is drawn flat and mapped into space by one of these.
"""

from dataclasses import dataclass
from math import ceil, cos, sin

import numpy as np

from hullchange.geometry.frame import FloatArray, Frame
from hullchange.geometry.strip import Strip

MAX_STRIP_TURN = 0.02
"""[rad] of bend in one flat strip of a mesh, which loses turn^2 / 6 of the volume."""

_OTHER_SIDE = np.array([1.0, -1.0, 1.0])


@dataclass(frozen=True, eq=False)
class Planar:
    """A plane, mapped by its frame."""

    frame: Frame

    def to_boat(self, flat: FloatArray) -> FloatArray:
        """Points (n, 3) [m] in the boat's frame, of flat points (n, 2) [m]."""
        return self.frame.to_boat(flat)

    def to_flat(self, points: FloatArray) -> FloatArray:
        """Flat points (n, 2) [m] of points (n, 3) [m]."""
        return self.frame.to_flat(points)

    def normals(self, flat: FloatArray) -> FloatArray:
        """Unit normals (n, 3) [-] at flat points (n, 2) [m]: first flat direction x second."""
        return np.repeat(self.frame.normal[None], len(flat), axis=0)

    def mirrored(self) -> "Planar":
        """The map of the twin on the other side of the centreline."""
        f = self.frame
        return Planar(Frame(f.origin * _OTHER_SIDE, f.u * _OTHER_SIDE, f.v * _OTHER_SIDE))


@dataclass(frozen=True, eq=False)
class Cone:
    """A right circular cone; with half-angle zero a cylinder.

    Flat coordinates start at ``origin``: the first runs along the ruling there, the way
    ``axis`` points; the second square to it, towards ``side``.

    Attributes:
        origin: (3,) a point of the surface [m].
        axis: (3,) unit vector along the axis.
        out: (3,) unit vector square to the axis, from the axis to ``origin``.
        side: (3,) unit vector square to both.
        radius: distance of ``origin`` from the axis [m].
        half_angle: [rad], positive where the cone widens along ``axis``.
    """

    origin: FloatArray
    axis: FloatArray
    out: FloatArray
    side: FloatArray
    radius: float
    half_angle: float

    @property
    def _curvature(self) -> float:
        """1 / distance of the apex from the origin, signed [1/m]; of the flat pattern."""
        return sin(self.half_angle) / self.radius

    def azimuth(self, flat: FloatArray) -> FloatArray:
        """Angle (n,) [rad] around the axis of the ruling on which a flat point lies."""
        k = self._curvature
        slope = flat[:, 1] / (1.0 + k * flat[:, 0])
        return np.asarray(slope * _arctan_over(k * slope) / self.radius)

    def along(self, flat: FloatArray) -> FloatArray:
        """Distance (n,) [m] along the ruling, from the circle through the origin."""
        k, (s, t) = self._curvature, flat.T
        return np.asarray(
            (2.0 * s + k * (s * s + t * t)) / (1.0 + np.hypot(1.0 + k * s, k * t))
        )

    def flat_of(self, azimuth: FloatArray, along: FloatArray) -> FloatArray:
        """Flat points (n, 2) [m] of places on the surface.

        Args:
            azimuth: (n,) [rad] of the ruling.
            along: (n,) [m] along the ruling, from the circle through the origin.
        """
        turn = azimuth * self.radius * self._curvature
        arc = azimuth * self.radius * np.sinc(turn / np.pi)
        sag = azimuth * self.radius * turn / 2.0 * np.sinc(turn / (2.0 * np.pi)) ** 2
        flat: FloatArray = np.stack(
            [along * np.cos(turn) - sag, arc + along * np.sin(turn)], axis=1
        )
        return flat

    def radial(self, azimuth: FloatArray) -> FloatArray:
        """Unit vectors (n, 3) away from the axis, at azimuths (n,) [rad]."""
        return np.asarray(
            np.cos(azimuth)[:, None] * self.out + np.sin(azimuth)[:, None] * self.side
        )

    def rulings(self, azimuth: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Feet (n, 3) [m] of rulings on the circle through the origin, and directions (n, 3).

        Args:
            azimuth: (n,) [rad].
        """
        radial = self.radial(azimuth)
        feet = self.origin + self.radius * (radial - self.out)
        return feet, cos(self.half_angle) * self.axis + sin(self.half_angle) * radial

    def to_boat(self, flat: FloatArray) -> FloatArray:
        """Points (n, 3) [m] in the boat's frame, of flat points (n, 2) [m]."""
        feet, ways = self.rulings(self.azimuth(flat))
        return feet + self.along(flat)[:, None] * ways

    def to_flat(self, points: FloatArray) -> FloatArray:
        """Flat points (n, 2) [m] of points (n, 3) [m] of the surface."""
        away = points - (self.origin - self.radius * self.out)
        azimuth = np.arctan2(away @ self.side, away @ self.out)
        return self.flat_of(azimuth, away @ self.axis / cos(self.half_angle))

    def outward(self, azimuth: FloatArray) -> FloatArray:
        """Unit normals (n, 3) away from the axis, at azimuths (n,) [rad]."""
        return cos(self.half_angle) * self.radial(azimuth) - sin(self.half_angle) * self.axis

    @property
    def turns_outward(self) -> bool:
        """True where first flat direction x second points away from the axis."""
        return bool(np.cross(self.axis, self.side) @ self.out > 0.0)

    def normals(self, flat: FloatArray) -> FloatArray:
        """Unit normals (n, 3) [-] at flat points (n, 2) [m]: first flat direction x second."""
        out = self.outward(self.azimuth(flat))
        return out if self.turns_outward else -out

    def offset(self, distance: float) -> "Cone":
        """The parallel surface, ``distance`` [m] further from the axis."""
        return Cone(
            self.origin + distance * self.outward(np.zeros(1))[0],
            self.axis,
            self.out,
            self.side,
            self.radius + distance * cos(self.half_angle),
            self.half_angle,
        )

    def crossing(self, plane: Frame, azimuth: FloatArray) -> FloatArray:
        """Points (n, 3) [m] where the rulings at azimuths (n,) [rad] pierce a plane."""
        feet, ways = self.rulings(azimuth)
        normal = plane.normal
        return feet + (((plane.origin - feet) @ normal) / (ways @ normal))[:, None] * ways

    def strips(self, low: float, high: float) -> FloatArray:
        """Azimuths (k,) [rad] of the rulings that divide a plate into strips.

        Args:
            low: [rad] azimuth of its first edge.
            high: [rad] azimuth of its last edge.
        """
        count = max(1, ceil((high - low) / MAX_STRIP_TURN))
        return np.linspace(low, high, count + 1)[1:-1]

    def mirrored(self) -> "Cone":
        """The map of the twin on the other side of the centreline."""
        m = _OTHER_SIDE
        return Cone(
            self.origin * m,
            self.axis * m,
            self.out * m,
            self.side * m,
            self.radius,
            self.half_angle,
        )


DevelopableMap = Planar | Cone | Strip


def _arctan_over(q: FloatArray) -> FloatArray:
    """arctan(q) / q, which is 1 at q = 0."""
    safe = np.where(np.abs(q) < 1e-8, 1.0, q)
    return np.where(np.abs(q) < 1e-8, 1.0, np.arctan(safe) / safe)
