"""A maritime academy's stability tutorial: free surface, list, a weight that hangs.

Source: Singapore Maritime Academy, stability tutorial (Scribd 93781733): 7600 t with GM solid
    1.02 m and free-surface moment 1250 t m: 0.856 m; 9600 t, KM 8.5, KG 7.5, double bottom
    18 x 14 m with a centreline bulkhead, starboard side filled to 0.6 m with RD 0.95: list
    1 deg 29.1 min; 8000 t, KM 6.5, KG 5.7, 40 t lifted from KG 3.0 by a derrick whose head is
    15 m above the keel, a slack tank of fresh water with i = 1200 m^4: GM 0.59 m.
Seen: opened.
Known: the list is by GG1 / GM; the exact wall-sided list of a box is a little smaller. A weight
    that hangs acts where it hangs from.
"""

from math import atan, degrees, sqrt

import bodies
import numpy as np
import pytest

from hullchange.floating.envelope import Envelope, Piece
from hullchange.floating.equilibrium import Loading, Tank, equilibrium
from hullchange.geometry.surface import box

SEA = 1.025


def ship_of(displacement, km, kb=3.0):
    """The box, keel at z = 0, that has a KM and a KB [m] at a displacement [t]."""
    beam = sqrt(24.0 * kb * (km - kb))
    hull = bodies.barge(displacement / (SEA * beam * 2.0 * kb), beam, 6.0 * kb)
    return Envelope((Piece(hull, adds=True, id="ship"),))


def test_free_surface_moment():
    # a tank of 12 m length whose surface has 1250 t m at RD 1: breadth from i = l b^3 / 12
    breadth = (1250.0 * 12.0 / 12.0) ** (1.0 / 3.0)
    low = np.array([-6.0, -breadth / 2.0, 0.5])
    tank = Tank(box(low, -low + [0.0, 0.0, 3.0]), 12.0 * breadth, 1.0)
    solid_gm = 1.02
    liquid, kg = tank.mass, 8.0 - solid_gm
    z = (7600.0 * kg - liquid * 1.0) / (7600.0 - liquid)
    loading = Loading(7600.0 - liquid, np.array([0.0, 0.0, z]), (tank,))
    rest = equilibrium(ship_of(7600.0, km=8.0), loading, SEA)
    assert rest.gm_transverse_solid == pytest.approx(1.02, abs=1e-9)
    assert rest.gm_transverse == pytest.approx(0.856, abs=5e-4)


def test_list_by_one_side_of_a_divided_double_bottom():
    side = box(np.array([-9.0, 0.0, 0.0]), np.array([9.0, 7.0, 1.2]))
    tank = Tank(side, 18.0 * 7.0 * 0.6, 0.95)
    displacement = 9600.0 + tank.mass
    loading = Loading(9600.0, np.array([0.0, 0.0, 7.5]), (tank,))
    ship = ship_of(displacement, km=8.5)
    rest = equilibrium(ship, loading, SEA)
    level = equilibrium(ship, loading, SEA).upright
    arm = tank.mass * 3.5 / displacement
    by_the_formula = degrees(atan(arm / level.gm_transverse))
    assert by_the_formula == pytest.approx(1.0 + 29.1 / 60.0, abs=0.05 / 60.0)
    # the difference is the wall-sided term BM tan^2 / 2, of the order of 0.2 % of GM
    assert degrees(rest.plane.heel) == pytest.approx(by_the_formula, rel=0.005)
    assert degrees(rest.plane.heel) < by_the_formula


def test_a_weight_on_a_derrick_and_a_slack_tank():
    breadth = (1200.0 * 12.0 / 10.0) ** (1.0 / 3.0)
    tank = Tank(box(np.array([-5.0, 0.0, 0.0]), np.array([5.0, breadth, 2.0])), 80.0, 1.0)
    # all of her at KG 5.7, the liquid in its tank and the weight in the hold
    others = 8000.0 - tank.mass - 40.0
    z = (8000.0 * 5.7 - 40.0 * 3.0 - tank.mass * 80.0 / 10.0 / breadth / 2.0) / others
    y = -tank.mass * breadth / 2.0 / others

    def gm(height):
        centre = np.array([0.0, y * others, others * z + 40.0 * height]) / (others + 40.0)
        rest = equilibrium(
            ship_of(8000.0, km=6.5), Loading(others + 40.0, centre, (tank,)), SEA
        )
        return rest.gm_transverse

    assert gm(3.0) == pytest.approx(6.5 - 5.7 - 0.15, abs=1e-9)
    assert gm(15.0) == pytest.approx(0.59, abs=1e-9)
