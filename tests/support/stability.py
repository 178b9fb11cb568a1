"""Lever curves with known integrals, and the facts of a boat that has them."""

from math import pi, radians

import numpy as np

from hullchange.criteria.facts import DesignCategory, LeverFacts, Particulars, Sails
from hullchange.criteria.levers import AtHeel, Beyond, SideLevers
from hullchange.criteria.openings import DownfloodingOpening

BOAT = Particulars(
    hull_length=12.0,
    waterline_length=10.5,
    hull_beam=3.9,
    waterline_beam=3.4,
    freeboard=1.2,
    category=DesignCategory.A,
    sails=Sails(area=70.0, centre_height=6.2, lateral_depth=1.0),
)


def sine_levers(peak=0.72, vanishing_deg=118.0, step_deg=1.0):
    """GZ = peak sin(pi heel / vanishing), with its exact slopes."""
    heel = np.linspace(0.0, pi, round(180.0 / step_deg) + 1)
    turn = pi / radians(vanishing_deg)
    return SideLevers(heel, peak * np.sin(turn * heel), peak * turn * np.cos(turn * heel))


def opening(name, area, immersion_deg, freeboard=1.0, points=181, **fields):
    """An opening whose edge goes under at an angle, its height falling straight to there.

    Nothing closes it and it leads into the hull, unless said otherwise.
    """
    heel = np.linspace(0.0, pi, points)
    if immersion_deg is None:
        return DownfloodingOpening(name, area, Beyond(pi), np.full(points, freeboard), **fields)
    under = radians(immersion_deg)
    return DownfloodingOpening(
        name, area, AtHeel(under), freeboard * (1.0 - heel / under), **fields
    )


def facts(
    levers=None, gm=1.0983, openings=(), displacement=13_000.0, boat=BOAT, deck_edge=None
):
    """A boat in a condition; the deck's edge goes under at 40 degrees unless given."""
    levers = sine_levers() if levers is None else levers
    edge = 1.0 - levers.heel / radians(40.0) if deck_edge is None else deck_edge
    return LeverFacts(boat, displacement, gm, levers, tuple(openings), edge)


def answer(rules, code, *sides):
    """What one of the rules finds, asked of one side or of both."""
    (rule,) = (r for r in rules if r.criterion.id == code)
    return rule.answer(sides)
