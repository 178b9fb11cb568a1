"""Plates between two edges, against surfaces whose development is known.

Source: oblique cylinder and cone by their own formulae; the strain of a twisted strip from the
    helicoid, (twist per length x half width)^2 / 6 on average, twist^2 / 12 between the edges.
Seen: worked out here.
Known: the facets' chords are shorter than the arcs, by less the more rulings there are.
"""

from itertools import combinations
from math import atan, degrees, radians

import numpy as np
import pytest

from hullchange.errors import ModelError
from hullchange.geometry.ruled import ruled
from hullchange.geometry.ruled_plate import YIELD_STRAIN

ON_THE_PLATE = 0.05e-3  # [m] asked of a development


def corners(plate):
    """Laid flat: start and end of the first edge, end and start of the second."""
    return plate.flat[[0, -1, -1, 0], [0, 0, 1, 1]]


def outline(plate):
    """Of the plate laid flat, along the first edge and back along the second."""
    return np.concatenate([plate.flat[:, 0], plate.flat[::-1, 1]])


def spans(points):
    return np.array([np.linalg.norm(a - b) for a, b in combinations(points, 2)])


def shoelace(points):
    x, y = points.T
    return abs(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2.0


def cylinder(radius=0.8, turn=1.2, power=1.5, slant=0.3):
    t = np.linspace(0.0, 1.0, 61)
    a, b = turn * t, turn * t**power
    low = np.stack([radius * np.sin(a), radius * np.cos(a), 0.0 * a], axis=1)
    high = np.stack([radius * np.sin(b), radius * np.cos(b), 1.0 + slant * b / turn], axis=1)
    return low, high


def test_an_oblique_cylinder_with_uneven_edges():
    plate = ruled(*cylinder())
    width = 0.8 * 1.2
    theory = np.array([[0.0, 0.0], [width, 0.0], [width, 1.3], [0.0, 1.0]])
    found = corners(plate)
    assert spans(found) == pytest.approx(spans(theory), abs=ON_THE_PLATE)
    assert shoelace(outline(plate)) == pytest.approx(width * 1.15, rel=2e-5)
    assert plate.twist.max() < 1e-4
    assert np.median(plate.bend_radii()) == pytest.approx(0.8, rel=1e-4)


def test_a_cone_frustum_with_uneven_edges():
    half_angle, near, far = 0.3, 1.0, 1.6  # distances from the apex along the cone
    t = np.linspace(0.0, 1.0, 61)

    def edge(run, azimuth):
        radius, height = run * np.sin(half_angle), run * np.cos(half_angle)
        return np.stack(
            [radius * np.cos(azimuth), radius * np.sin(azimuth), height + 0.0 * azimuth], axis=1
        )

    plate = ruled(edge(near, t), edge(far, t**1.4))
    turn = np.sin(half_angle)
    theory = np.array(
        [
            [r * np.cos(a), r * np.sin(a)]
            for r, a in ((near, 0), (near, turn), (far, turn), (far, 0))
        ]
    )
    assert spans(corners(plate)) == pytest.approx(spans(theory), abs=ON_THE_PLATE)
    assert shoelace(outline(plate)) == pytest.approx(turn * (far**2 - near**2) / 2.0, rel=2e-5)
    assert plate.bend_radii()[:, 0] == pytest.approx(near * np.tan(half_angle), rel=1e-2)


def test_more_rulings_come_closer_by_the_square():
    width = 0.8 * 1.2
    off = [
        width * 1.15 - shoelace(outline(ruled(*cylinder(), count=n))) for n in (50, 100, 200)
    ]
    assert off[0] / off[1] == pytest.approx(4.0, rel=0.1)
    assert off[1] / off[2] == pytest.approx(4.0, rel=0.1)


def helicoid(degrees_per_metre, length=1.0, width=1.0):
    x = np.linspace(0.0, length, 21)
    turn = np.radians(degrees_per_metre) * x
    rim = np.stack([np.zeros_like(x), np.cos(turn), np.sin(turn)], axis=1) * width / 2.0
    middle = np.stack([x, 0.0 * x, 0.0 * x], axis=1)
    return middle - rim, middle + rim


def test_the_twist_of_a_helicoid():
    plate = ruled(*helicoid(5.0))
    assert degrees(plate.twist.max()) == pytest.approx(
        degrees(2 * atan(radians(2.5))), rel=2e-3
    )
    assert plate.strain == pytest.approx(np.radians(5.0) ** 2 / 12.0, rel=5e-3)
    assert plate.doubtful


@pytest.mark.parametrize("twist", [8.0, 10.0, 20.0])
def test_a_twisted_pair_is_refused_with_its_strain(twist):
    with pytest.raises(ModelError) as refusal:
        ruled(*helicoid(twist))
    assert refusal.value.code == "plate-twisted"
    strain = (2.0 * atan(radians(twist) / 2.0)) ** 2 / 12.0
    assert f"stretch by {100.0 * strain:.2f} %" in refusal.value.sentence
    assert f"{100.0 * YIELD_STRAIN:.2f} %" in refusal.value.sentence


def test_the_most_a_plate_may_twist():
    assert np.degrees(np.sqrt(12.0 * YIELD_STRAIN)) == pytest.approx(6.7, abs=0.05)


def test_an_edge_that_starts_later_and_ends_sooner_gets_fans():
    low, high = cylinder(power=1.0, slant=0.0)
    plate = ruled(low, high[10:50])
    start = np.array([low[0], low[-1], high[49], high[10]])
    assert plate.ends[[0, -1, -1, 0], [0, 0, 1, 1]] == pytest.approx(start, abs=1e-9)
    assert plate.twist.max() < radians(0.5)
    assert (
        np.ptp(plate.ends[:20, 1], axis=0).max() == 0.0
    )  # a cone with its point in the corner
    for k, edge in enumerate((low, high[10:50])):
        flat = np.hypot(*np.diff(plate.flat[:, k], axis=0).T).sum()
        assert flat == pytest.approx(0.8 * 0.02 * (len(edge) - 1), abs=ON_THE_PLATE)


def test_straight_edges_in_one_plane_stay_a_plane():
    t = np.linspace(0.0, 1.0, 5)[:, None]
    plate = ruled(t * [2.0, 0.0, 0.0], [0.2, 1.0, 0.0] + t * [1.5, 0.0, 0.0])
    assert plate.strain < 1e-12
    assert shoelace(outline(plate)) == pytest.approx(1.75, rel=1e-6)


def test_a_refused_twist_is_stated_in_degrees_a_step():
    with pytest.raises(ModelError) as refusal:
        ruled(*helicoid(20.0))
    # a helicoid's edges turn against each other by twice the angle's half tangent
    worst = degrees(2.0 * atan(radians(20.0) / 2.0))
    assert f"twists by {worst:.1f}°" in refusal.value.sentence
