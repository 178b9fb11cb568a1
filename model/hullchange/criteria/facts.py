"""The facts that criteria need of a boat: plain values, in SI."""

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Literal

import numpy as np

from hullchange.criteria.levers import SideLevers
from hullchange.criteria.openings import DownfloodingOpening
from hullchange.geometry.frame import FloatArray


@dataclass(frozen=True)
class Absent:
    """A value that is not there, and why, as a sentence."""

    why: str


class DesignCategory(StrEnum):
    """Seas and winds a boat is declared for.

    A: over Beaufort 8 and 4 m of significant wave height; B: up to 8 and 4 m; C: up to 6 and
    2 m; D: up to 4 and 0.3 m.

    Source:
        Directive 2013/53/EU, quoted by a notified body (opened in part).
    """

    A = "A"
    B = "B"
    C = "C"
    D = "D"


@dataclass(frozen=True)
class Sails:
    """The sails that count for a criterion.

    Attributes:
        area: [m^2].
        centre_height: [m] of the centre of the sails' area above the waterline, upright.
        lateral_depth: [m] of the centre of the underwater profile below it.
    """

    area: float
    centre_height: float
    lateral_depth: float

    def sunk(self, by: float) -> "Sails | Absent":
        """The same over the waterline of a boat that lies deeper by so much [m]."""
        over, depth = self.centre_height - by, self.lateral_depth + by
        if over <= 0.0:
            return Absent("The centre of effort of the sails is below the waterline.")
        if over + depth <= 0.0:
            return Absent(
                "The centre of effort of the sails is below that of the lateral plane."
            )
        return Sails(self.area, over, depth)


@dataclass(frozen=True)
class Particulars:
    """The boat without her condition.

    Attributes:
        hull_length: [m] LH: what is welded on counts, what is bolted on and comes off may not.
        waterline_length: [m] LWL.
        hull_beam: [m] BH.
        waterline_beam: [m] BWL.
        freeboard: [m] FM of the sheer amidships above the water she lies in.
        category: she is declared for.
        sails: that she carries.
        floats_when_swamped: whether she floats upright full of water (a steel yacht does not).
    """

    hull_length: float
    waterline_length: float
    hull_beam: float
    waterline_beam: float
    freeboard: float
    category: DesignCategory | Absent
    sails: Sails | Absent
    floats_when_swamped: bool = False


@dataclass(frozen=True, eq=False)
class LeverFacts:
    """One boat in one loading condition, heeled to one side.

    Attributes:
        boat: without her condition.
        displacement: [kg].
        gm: [m] with the liquids that are free to move.
        levers: righting levers to that side.
        openings: all that she has, by that side; each rule chooses which of them count.
        deck_edge: (n,) [m] lowest height of the deck's edge above the water at each heel of
            the levers (negative: under).
        side: which one.
        undecided_count: whether openings count of which a rule would have to know more.
    """

    boat: Particulars
    displacement: float
    gm: float
    levers: SideLevers
    openings: tuple[DownfloodingOpening, ...]
    deck_edge: FloatArray
    side: Literal["port", "starboard"] = "starboard"
    undecided_count: bool = True


Sides = tuple[LeverFacts, ...]
"""The same boat heeled to either side: a criterion asks both, the worse answer stands."""


def with_vcg_raised(sides: Sides, rise: float) -> Sides:
    """The facts with the centre of gravity higher by ``rise`` [m], her trim held at each heel.

    Displacement and attitude stay, so openings and deck edge stay where they are and every
    lever loses ``rise`` times the sine of the heel.  With free trim the true levers differ by
    what little more she trims; solve again where that matters.
    """
    return tuple(
        replace(facts, gm=facts.gm - rise, levers=_lowered(facts.levers, rise))
        for facts in sides
    )


def _lowered(levers: SideLevers, rise: float) -> SideLevers:
    heel = levers.heel
    return SideLevers(heel, levers.gz - rise * np.sin(heel), levers.slope - rise * np.cos(heel))
