"""Criteria on levers that were solved for: the same answers, and what trim does to a limit."""

from dataclasses import replace
from functools import cache

import bodies
import numpy as np
import pytest
from stability import BOAT

from hullchange.criteria.catalogue import RULES
from hullchange.criteria.criterion import criterion_answers
from hullchange.criteria.facts import LeverFacts, with_vcg_raised
from hullchange.criteria.levers import SideLevers
from hullchange.floating.envelope import Envelope, Piece
from hullchange.floating.equilibrium import Loading
from hullchange.floating.levers import righting_levers

HULL = bodies.yacht(20)
YACHT = Envelope(
    tuple(Piece(s, adds=True, id=str(k)) for k, s in enumerate((HULL, bodies.fin(HULL))))
)
CIRCLE = np.radians(np.arange(-180.0, 180.1, 2.5))
MASS, VCG = 9000.0, -0.1


@cache
def curve(rise):
    loading = Loading(MASS, np.array([5.9, 0.05, VCG + rise]))
    return righting_levers(YACHT, loading, 1025.0, CIRCLE)


def side_levers(curve, side):
    if side == "starboard":
        out = curve.heels >= 0.0
        return SideLevers(curve.heels[out], curve.gz[out], curve.slopes[out])
    out = curve.heels <= 0.0
    gz = -curve.to_port[out][::-1]
    return SideLevers(-curve.heels[out][::-1], gz, curve.slopes[out][::-1])


def solved(rise, side="starboard"):
    levers = side_levers(curve(rise), side)
    gm = float(curve(rise).at(0.0).slope)
    return (LeverFacts(BOAT, MASS, gm, levers, (), np.ones(len(levers.heel)), side),)


@pytest.mark.parametrize(("side", "sign"), [("starboard", 1.0), ("port", -1.0)])
def test_plain_levers_answer_what_the_solver_answers(side, sign):
    levers = side_levers(curve(0.0), side)
    vanishing = curve(0.0).vanishing_angle(side).at.heel
    assert levers.vanishing.heel == pytest.approx(sign * vanishing, abs=2e-4)
    top = curve(0.0).maximum(side)
    peak = levers.peak(0.0, np.pi)
    assert peak.gz == pytest.approx(top.gz, abs=2e-3)
    area = bodies.area_under(curve(0.0), 0.0, sign * np.radians(37.0))
    assert levers.area(0.0, np.radians(37.0)) == pytest.approx(abs(area), abs=1e-12)


def test_raising_at_held_trim_is_close_to_solving_again():
    (up,), (again,) = with_vcg_raised(solved(0.0), 0.10), solved(0.10)
    assert np.abs(up.levers.gz - again.levers.gz).max() < 5e-4
    assert up.gm == pytest.approx(again.gm, abs=3e-4)


def test_a_mirrored_boat_has_the_mirrored_answers():
    mirrored = righting_levers(
        YACHT, Loading(MASS, np.array([5.9, -0.05, VCG])), 1025.0, CIRCLE
    )
    port = solved(0.0, "port")
    other = (replace(port[0], levers=side_levers(mirrored, "starboard")),)
    for a, b in zip(
        criterion_answers(port, RULES), criterion_answers(other, RULES), strict=True
    ):
        assert getattr(a, "value", 0.0) == pytest.approx(getattr(b, "value", 0.0), abs=1e-6)
