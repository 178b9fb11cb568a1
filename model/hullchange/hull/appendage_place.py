"""How an appendage stands: off the centreline, its lower end turned outwards."""

from dataclasses import dataclass
from math import cos, sin, tan

import numpy as np

from hullchange.geometry.frame import FloatArray
from hullchange.geometry.surface import Surface
from hullchange.hull.lines import Lines
from hullchange.hull.sections import half_sections, heights_at

ROUNDS = 8  # until a turned plane's place on the bottom is found to a tenth of a millimetre


@dataclass(frozen=True)
class AppendagePlane:
    """The middle plane of an appendage.

    Attributes:
        y: half-breadth [m] at the height about which it is turned, positive to starboard.
        root: that height, of the upper end of its outline [m].
        cant: [rad] by which its lower end leans to starboard.
    """

    y: float = 0.0
    root: float = 0.0
    cant: float = 0.0

    @property
    def is_amidships(self) -> bool:
        """Whether it is the centreplane itself."""
        return self.y == 0.0 and self.cant == 0.0

    def placed(self, body: Surface) -> Surface:
        """A body of the centreplane moved and turned into this plane."""
        if self.is_amidships:
            return body
        turn = np.array(
            [
                [1.0, 0.0, 0.0],
                [0.0, cos(self.cant), -sin(self.cant)],
                [0.0, sin(self.cant), cos(self.cant)],
            ]
        )
        root = np.array([0.0, 0.0, self.root])
        moved = (body.vertices - root) @ turn.T + root + np.array([0.0, self.y, 0.0])
        return Surface.unchecked(moved, body.faces)

    def height(self, along: FloatArray) -> FloatArray:
        """Heights (n,) [m] of what lies so high in the outline.

        Args:
            along: (n,) heights in the outline [m].
        """
        if self.cant == 0.0:
            return along
        return np.asarray(self.root + (along - self.root) * cos(self.cant))

    def along(self, height: float, half: float = 0.0) -> float:
        """How high in the outline [m] a face beside the plane reaches a height.

        Args:
            height: above the design waterline [m].
            half: how far the face is off the plane [m].
        """
        if self.cant == 0.0:
            return height
        lean = abs(tan(self.cant))
        return self.root + (height - self.root) / cos(self.cant) + half * lean

    def y_at(self, z: FloatArray) -> FloatArray:
        """Half-breadths (n,) [m] of the plane.

        Args:
            z: (n,) heights [m].
        """
        return np.asarray(self.y - (z - self.root) * tan(self.cant))

    def bottom(self, lines: Lines, x: FloatArray, half: FloatArray | float) -> FloatArray:
        """Height (n,) [m] at which an appendage so thick meets the canoe body at stations x.

        Args:
            lines: of the canoe body.
            x: (n,) [m], on the hull.
            half: (n,) [m] from the plane, outwards.
        """
        sections = half_sections(lines, x)
        found = heights_at(sections, abs(self.y) + half + np.zeros(len(x)))
        for _ in range(ROUNDS if self.cant else 0):
            found = heights_at(sections, np.abs(self.y_at(found)) + half)
        return found

    def beside(self, lines: Lines, x: FloatArray, half: FloatArray) -> float:
        """How far [m] it stands outside the canoe body's breadth anywhere, positive outside.

        Args:
            lines: of the canoe body.
            x: (n,) [m], on the hull.
            half: (n,) half thickness [m].
        """
        widest = half_sections(lines, x)[..., 0].max(axis=1)
        reach = np.abs(self.y_at(self.bottom(lines, x, half))) + half
        return float((reach - widest).max(initial=-np.inf))
