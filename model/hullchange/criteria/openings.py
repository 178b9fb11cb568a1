"""Openings that let the sea in, and the heel at which that becomes downflooding."""

from dataclasses import dataclass
from math import inf, pi
from typing import Literal

import numpy as np

from hullchange.criteria.levers import Angle, Beyond
from hullchange.geometry.frame import FloatArray

KG_PER_M2 = 1500.0 * 1000.0
"""Displacement [kg] to which a square metre of opening belongs: tonnes / 1500."""
TIED = 9
"""Decimals to which two figures are compared: a pair keeps its order on every machine."""

Closing = Literal["none", "weathertight", "watertight"]


@dataclass(frozen=True, eq=False)
class DownfloodingOpening:
    """An opening that lets the sea in while it stands open.

    Attributes:
        id: its name, with its side where it has one.
        area: [m^2].
        immersion: heel at which its lowest edge goes under, to the side of the levers.
        heights: (n,) [m] of that edge above the water at each heel of the levers.
        closing: what shuts it.
        into_hull: whether it leads into the hull, not into a house on it.
        regular: whether it is in use at sea for access or air; None where not stated.
        progressive: whether water through it spreads through the boat; None where not stated.
        tank_air_pipe: whether it only lets a tank breathe.
    """

    id: str
    area: float
    immersion: Angle
    heights: FloatArray
    closing: Closing = "none"
    into_hull: bool = True
    regular: bool | None = None
    progressive: bool | None = None
    tank_air_pipe: bool = False

    @property
    def freeboard(self) -> float:
        """Height [m] of its lowest edge above the water, not heeled."""
        return float(self.heights[0])

    @property
    def in_use(self) -> bool | None:
        """Whether it stands open at sea: unclosed, or opened by people. None: not stated."""
        return True if self.closing == "none" else self.regular

    def spreads(self, displacement: float) -> bool | None:
        """Whether water through it spreads through a boat of that mass [kg]. None: not stated.

        What leads into the hull does, unless it is said not to and is small: smaller by itself
        than the openings that a sailing code lets go under together (no rule gives a size).
        """
        if self.progressive is False:
            return False if self.area <= displacement / KG_PER_M2 else None
        return True if self.progressive or self.into_hull else None


@dataclass(frozen=True)
class Downflooding:
    """The heel at which more opening is under water than a rule lets go under.

    Attributes:
        angle: [rad].
        opening: the one whose immersion exceeds the area; "" where none does.
        immersed_area: [m^2] under water then (all openings together where none does).
        allowed_area: [m^2].
        undecided: openings counted up to then of which too little is said to know whether the
            rule counts them.
    """

    angle: Angle
    opening: str
    immersed_area: float
    allowed_area: float
    undecided: tuple[str, ...] = ()


def downflooding(
    openings: tuple[DownfloodingOpening, ...], allowed: float, undecided: tuple[str, ...] = ()
) -> Downflooding:
    """The heel at which openings of more than an area are under water.

    Args:
        openings: that count.
        allowed: [m^2] that may be under; 0 where the first opening decides, however small.
        undecided: names of those that may not count.
    """
    immersed, doubtful = 0.0, []
    for opening in sorted(openings, key=lambda o: round(o.immersion.heel, TIED)):
        if isinstance(opening.immersion, Beyond):
            break
        immersed += opening.area
        doubtful += [opening.id] if opening.id in undecided else []
        if immersed > allowed or allowed == 0.0:
            angle = opening.immersion
            return Downflooding(angle, opening.id, immersed, allowed, tuple(doubtful))
    return Downflooding(Beyond(pi), "", immersed, allowed, tuple(doubtful))


def lowest_height(
    openings: tuple[DownfloodingOpening, ...], heels: FloatArray, heel: float
) -> float:
    """Height [m] above the water of the lowest opening at a heel; negative where it is under.

    Args:
        openings: with their heights at each of ``heels``.
        heels: (n,) [rad].
        heel: [rad].
    """
    return min((float(np.interp(heel, heels, o.heights)) for o in openings), default=inf)
