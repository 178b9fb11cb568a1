"""Righting levers of a ship officers' textbook, on box hulls of the same KB and KM.

Source: D. R. Derrett, Ship Stability for Masters and Mates, p. 130 examples 1 and 2 (moments of
    statical stability, wall-sided formula), p. 228-229 (angle of loll), p. 193-195 (free
    surface).
Seen: opened, as page images; loll and free surface quoted elsewhere.
Known: the book multiplies with rounded GZ (example 1: moment 2100, unrounded 2094.9) and takes
    GM sin H at 5 degrees (example 2: 278.9, by the wall-sided formula 281.9). The lever of the
    same box at 40 degrees, deck edge under and bilge out, is not in the book: it is got here by
    clipping its section. Tonnes and metres; heights above keel.
"""

from math import atan, cos, degrees, radians, sin, sqrt, tan

import bodies
import numpy as np
import pytest
from scipy.optimize import brentq

from hullchange.floating.envelope import Envelope, Piece
from hullchange.floating.equilibrium import Loading, Tank
from hullchange.floating.levers import righting_levers
from hullchange.geometry.surface import box

SEA = 1.025  # [t/m^3]
HEELS = np.radians(np.arange(-90.0, 91.0))


def ship(length, beam, depth):
    """A box with its keel at z = 0, so heights are above the keel."""
    return Envelope((Piece(bodies.barge(length, beam, depth), adds=True, id="ship"),))


def ship_of(displacement, km, kb):
    """The box that has a KM and a KB [m] at a displacement [t]."""
    beam, draught = sqrt(12.0 * 2.0 * kb * (km - kb)), 2.0 * kb
    return ship(displacement / (SEA * beam * draught), beam, 3.0 * draught)


def levers(envelope, displacement, kg, tanks=(), y=0.0):
    solid = displacement - sum(tank.mass for tank in tanks)
    return righting_levers(envelope, Loading(solid, np.array([0.0, y, kg]), tanks), SEA, HEELS)


def wall_sided(heel, gm, bm):
    return sin(heel) * (gm + bm * tan(heel) ** 2 / 2.0)


def clipped(beam, depth, draught, kg, heel):
    """Lever of a box by clipping its section with the water until the area is right."""
    corners = [(-beam / 2, 0.0), (beam / 2, 0.0), (beam / 2, depth), (-beam / 2, depth)]

    def below(level):
        """Area and moments of the section below y sin + level = z cos."""
        wet = []
        for (y, z), (v, w) in zip(corners, corners[1:] + corners[:1], strict=True):
            here, there = (q * cos(heel) - p * sin(heel) - level for p, q in ((y, z), (v, w)))
            if here <= 0.0:
                wet.append((y, z))
            if here * there < 0.0:
                part = here / (here - there)
                wet.append((y + part * (v - y), z + part * (w - z)))
        area = across = up = 0.0
        for (y, z), (v, w) in zip(wet, wet[1:] + wet[:1], strict=True):
            twice = y * w - v * z
            area += twice / 2.0
            across += twice * (y + v) / 6.0
            up += twice * (z + w) / 6.0
        return area, across, up

    level = brentq(lambda d: below(d)[0] - beam * draught, -beam, depth + beam, xtol=1e-14)
    area, across, up = below(level)
    return (across * cos(heel) + (up - area * kg) * sin(heel)) / area


def test_p130_example_1():
    curve = levers(ship_of(6000.0, km=6.0, kb=3.0), 6000.0, 5.5)
    gz = curve.at(radians(25.0)).gz
    assert gz == pytest.approx(0.35, abs=0.005)
    assert gz == pytest.approx(0.3492, abs=5e-5)
    assert gz == pytest.approx(wall_sided(radians(25.0), 0.5, 3.0), abs=1e-11)
    assert 6000.0 * gz == pytest.approx(2094.9, abs=0.05)


def test_p130_example_2():
    displacement = 65.0 * 12.0 * 4.0 * SEA
    curve = levers(ship(65.0, 12.0, 8.0), displacement, 4.0)
    assert displacement == pytest.approx(3198.0, abs=0.5)
    assert curve.at(0.0).slope == pytest.approx(1.0, abs=1e-12)
    small = radians(5.0)
    assert displacement * curve.at(0.0).slope * sin(small) == pytest.approx(278.9, abs=0.2)
    assert displacement * curve.at(small).gz == pytest.approx(281.9, abs=0.05)
    gz = curve.at(radians(25.0)).gz
    assert gz == pytest.approx(0.560461, abs=5e-7)
    assert gz == pytest.approx(0.5605, abs=5e-5)
    assert displacement * gz == pytest.approx(1792.4, abs=0.05)


def test_the_same_box_at_40_degrees_deck_under_and_bilge_out():
    curve = levers(ship(65.0, 12.0, 8.0), 3198.0, 4.0)
    gz = curve.at(radians(40.0)).gz
    assert wall_sided(radians(40.0), 1.0, 3.0) == pytest.approx(1.32166, abs=5e-6)
    assert gz == pytest.approx(1.13365, abs=5e-6)


@pytest.mark.parametrize("kg", [3.0, 4.0, 5.5])
def test_the_whole_curve_of_the_box_by_clipping_its_section(kg):
    curve = levers(ship(65.0, 12.0, 8.0), 3198.0, kg)
    for heel, gz in zip(curve.heels, curve.gz, strict=True):
        assert gz == pytest.approx(clipped(12.0, 8.0, 4.0, kg, abs(heel)), abs=1e-11)


def test_p228_angle_of_loll():
    # tan H = sqrt(-2 GM / BM)
    curve = levers(ship(65.0, 12.0, 8.0), 3198.0, 5.1)
    port, starboard = bodies.loll_angles(curve)
    assert degrees(starboard.heel) == pytest.approx(degrees(atan(sqrt(0.2 / 3.0))), abs=1e-9)
    assert port.heel == pytest.approx(-starboard.heel, abs=1e-11)


@pytest.mark.parametrize("parts", [1, 2, 3])
def test_p193_a_divided_tank_and_the_lever(parts):
    # the virtual rise of G is what the slope at upright loses: i rho_t / (V rho) / n^2
    breadth, displacement = 10.0 / parts, 8000.0
    tanks = tuple(
        Tank(
            box(np.array([-7.5, y, 0.0]), np.array([7.5, y + breadth, 2.0])),
            15.0 * breadth,
            SEA,
        )
        for y in -5.0 + breadth * np.arange(parts)
    )
    envelope = ship_of(displacement, km=8.0, kb=3.0)
    free = levers(envelope, displacement, 7.0, tanks).at(0.0)
    liquid = 150.0 * SEA
    kg = (7.0 * (displacement - liquid) + liquid * 0.5) / displacement
    loss = 15.0 * 10.0**3 / 12.0 / (displacement / SEA) / parts**2
    assert free.slope == pytest.approx(8.0 - kg - loss, abs=1e-11)


def test_p116_list_after_loading_is_where_the_lever_is_none():
    # 8000 t KG 7.6 and three weights: 8500 t, KG 7.346, 300 t m to port, KM 8.70
    envelope = ship_of(8500.0, km=8.70, kb=3.2)
    arm = 300.0 / 8500.0
    curve = levers(envelope, 8500.0, 62445.0 / 8500.0, y=arm)
    assert curve.at(0.0).slope == pytest.approx(1.354, abs=5e-4)
    upright = next(rest for rest in curve.equilibria if rest.stable)
    # the book: 1 degree 29.6 minutes by GG1 / GM; the exact list lies a little below
    assert degrees(upright.heel) == pytest.approx(1.494, abs=0.005)
    gm = curve.at(0.0).slope
    exact = brentq(lambda h: wall_sided(h, gm, 5.5) - arm * cos(h), 0.0, 0.5, xtol=1e-14)
    assert upright.heel == pytest.approx(exact, abs=1e-11)
