"""A boat of any weight heeled round, as the criteria take her: for limits over displacement."""

from dataclasses import dataclass
from functools import cached_property
from math import cos

import numpy as np

from hullchange.afloat.stability import (
    SIDES,
    Edge,
    edges_of,
    house_until_flooded,
    houses_of,
    lever_facts,
    openings_on_side,
    particulars_afloat,
)
from hullchange.answer.wire import Stage
from hullchange.boat.boat import Boat
from hullchange.criteria.facts import Absent, Particulars, Sides
from hullchange.floating.envelope import Envelope
from hullchange.floating.equilibrium import Loading
from hullchange.floating.lever_curve import LeverCurve
from hullchange.floating.levers import righting_levers
from hullchange.geometry.frame import FloatArray

STEP_DEG = 5.0
"""Slopes are exact, so that levers between these heels are good to a tenth of a millimetre."""
WHOLE_CIRCLE = np.radians(np.arange(-180.0, 180.0 + STEP_DEG, STEP_DEG))


def without_houses(boat: Boat, envelope: Envelope) -> Envelope:
    """What floats of a boat, her house not counted."""
    houses = houses_of(boat)
    return Envelope(tuple(piece for piece in envelope.pieces if piece.id not in houses))


@dataclass(frozen=True, eq=False)
class HeeledRound:
    """One boat that is weighed differently each time, her liquids frozen.

    Attributes:
        boat: everything built.
        stage: which boat's openings she has.
        envelope: what floats of her.
        water_density: [kg/m^3].
        particulars: of her, for the criteria.
    """

    boat: Boat
    stage: Stage
    envelope: Envelope
    water_density: float
    particulars: Particulars

    @cached_property
    def edges(self) -> tuple[Edge, ...]:
        """Her openings."""
        return tuple(edges_of(self.boat, self.stage))

    def facts(self, mass: float, centre: FloatArray) -> Sides | Absent:
        """What the criteria ask of her, to either side, house counted till it floods.

        Args:
            mass: [kg].
            centre: (3,) [m] of all of it.

        Raises:
            ModelError: ``sinks`` or ``no-equilibrium``.
        """
        curve = self._curve(Loading(mass, centre))
        upright = curve.at(0.0)
        about = particulars_afloat(self.particulars, self.boat, upright.plane)
        weight = (mass, upright.slope / cos(upright.trim))
        openings = {side: openings_on_side(curve, self.edges, side) for side in SIDES}
        return lever_facts(self.boat, curve, about, weight, openings)

    def _curve(self, loading: Loading) -> LeverCurve:
        without = without_houses(self.boat, self.envelope)
        counted = self._levers(self.envelope, loading)
        return house_until_flooded(counted, lambda: self._levers(without, loading), self.edges)

    def _levers(self, envelope: Envelope, loading: Loading) -> LeverCurve:
        return righting_levers(envelope, loading, self.water_density, WHOLE_CIRCLE)
