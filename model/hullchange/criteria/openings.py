"""Openings that let the sea in, and the heel at which that becomes downflooding."""

from dataclasses import dataclass
from math import pi

import numpy as np

from hullchange.criteria.levers import Angle, Beyond
from hullchange.geometry.frame import FloatArray

KG_PER_M2 = 1500.0 * 1000.0
"""Displacement [kg] to which a square metre of opening belongs: tonnes / 1500."""


@dataclass(frozen=True, eq=False)
class Opening:
    """An opening that lets the sea in while it stands open.

    Attributes:
        id: its name.
        area: [m^2].
        immersion: heel at which its lowest edge goes under, to the side of the levers.
        heights: (n,) [m] of that edge above the water at each heel of the levers.
    """

    id: str
    area: float
    immersion: Angle
    heights: FloatArray

    @property
    def freeboard(self) -> float:
        """Height [m] of its lowest edge above the water, not heeled."""
        return float(self.heights[0])


@dataclass(frozen=True)
class Downflooding:
    """The heel at which more opening is under water than a boat of her mass can take.

    Attributes:
        angle: [rad].
        opening: the one whose immersion exceeds the area; "" where none does.
        immersed_area: [m^2] under water then (all openings together where none does).
        allowed_area: [m^2].
    """

    angle: Angle
    opening: str
    immersed_area: float
    allowed_area: float


def downflooding(openings: tuple[Opening, ...], displacement: float) -> Downflooding:
    """The downflooding angle by aggregate area.

    Args:
        openings: that stand open.
        displacement: [kg].

    Source:
        UK Code of Practice for sailing vessels, 11.1 (opened): openings of an aggregate area
        in m^2 greater than displacement in tonnes / 1500 are immersed; the same in Transport
        Canada TP 13313, A 3.3 (opened), with an example.
    """
    allowed, immersed = displacement / KG_PER_M2, 0.0
    for opening in sorted(openings, key=lambda o: o.immersion.heel):
        if isinstance(opening.immersion, Beyond):
            break
        immersed += opening.area
        if immersed > allowed:
            return Downflooding(opening.immersion, opening.id, immersed, allowed)
    return Downflooding(Beyond(pi), "", immersed, allowed)


def lowest_height(openings: tuple[Opening, ...], heels: FloatArray, heel: float) -> float:
    """Height [m] above the water of the lowest opening at a heel [rad] (negative: under)."""
    return min(float(np.interp(heel, heels, o.heights)) for o in openings)
