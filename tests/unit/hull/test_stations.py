"""How few stations are enough, and the boat's volume by quite another road."""

import numpy as np
import pytest
from scipy.integrate import simpson
from scipy.interpolate import CubicSpline
from shapely import box
from shapely.geometry import Polygon

from hullchange.hull.hull import HullInput, hull_of
from hullchange.hull.lines import LineInput

# fore and after end, breadth, its two exponents and where it starts, heights aft, least, fore
FAIR = {
    "centreline": (1.50, 11.40, 0.00, 0.50, 3.0, 0.10, 0.22, -0.85, -0.25),
    "lower": (1.05, 11.50, 1.02, 0.55, 2.6, 0.12, 0.32, -0.50, 0.12),
    "upper": (0.65, 11.62, 1.62, 0.45, 2.8, 0.14, 0.50, 0.05, 0.62),
    "sheer": (0.00, 11.80, 1.85, 0.40, 3.0, 0.15, 1.05, 0.98, 1.42),
}


def fair_point(numbers, x):
    """Half-breadth and height of an analytic line."""
    fore, aft, breadth, p, q, start, z_aft, z_least, z_fore = numbers
    u = (aft - x) / (aft - fore)
    v = start + (1.0 - start) * u
    widest = (p / (p + q)) ** (1.0 / q)
    y = breadth * v**p * (1.0 - v**q) / (widest**p * (1.0 - widest**q))
    least = 0.45
    square = [[least**2, -(least**3)], [(1 - least) ** 2, (1 - least) ** 3]]
    a, b = np.linalg.solve(square, [z_aft - z_least, z_fore - z_least])
    return y, z_least + a * (u - least) ** 2 + b * (u - least) ** 3


def fair_hull(stations, straight=False):
    lines = []
    for name, numbers in FAIR.items():
        fore, aft = numbers[:2]
        at = np.linspace(0.0, 11.8, stations)
        x = np.array([fore, *at[(at > fore + 0.05) & (at < aft - 0.05)], aft])
        y, z = fair_point(numbers, x)
        points = np.column_stack([x, np.abs(y), z])
        kind = "sheer" if name == "sheer" else "chine"
        corners = tuple(x[1:-1]) if straight else ()
        lines.append(LineInput(name, kind, tuple(map(tuple, points.tolist())), corners))
    return hull_of(HullInput(tuple(lines), 0.08, 1.85), 14_000)


@pytest.fixture(scope="module")
def truth(wet):
    return wet(fair_hull(201).surface)


@pytest.mark.parametrize(("stations", "volume"), [(7, 3e-4), (11, 1e-4), (15, 1e-4)])
def test_eleven_splined_stations_are_enough(truth, wet, stations, volume):
    found = wet(fair_hull(stations).surface)
    # a tenth of what readings of 5 mm leave open (0.4 % of volume, 9 mm of its centre) or less
    assert found[0] == pytest.approx(truth[0], rel=volume)
    assert found[1] / found[0] == pytest.approx(truth[1] / truth[0], abs=0.001)


def test_straight_lines_between_stations_are_not(truth, wet):
    found = wet(fair_hull(11, straight=True).surface)
    assert found[0] / truth[0] - 1.0 == pytest.approx(-0.019, abs=0.004)


def splines(given):
    return [CubicSpline(*np.array(one.points).T[[0, 1]]) for one in given.lines], [
        CubicSpline(*np.array(one.points).T[[0, 2]]) for one in given.lines
    ]


def immersed(breadths, heights, x):
    """Area and its centre's height of a whole section below z = 0."""
    half = [(float(y(x)), float(z(x))) for y, z in zip(breadths, heights, strict=True)]
    whole = Polygon([*half, *[(-y, z) for y, z in half[::-1]]])
    part = whole.buffer(0.0).intersection(box(-5.0, -5.0, 5.0, 0.0))
    return (part.area, part.area * part.centroid.y) if part.area > 0.0 else (0.0, 0.0)


def keel_half_thickness(x, z):
    """Half thickness of the box keel at places in its side view, 0 outside it."""
    fore = np.where(z < -0.60, 2.75 + (-0.60 - z) / 1.25, 2.75)
    fraction = (x - fore) / (6.75 - fore)
    nose = 0.165 * np.sqrt(np.clip(1.0 - (1.0 - fraction / 0.25) ** 2, 0.0, 1.0))
    half = np.where(fraction < 0.25, nose, 0.165)
    half = np.where(fraction > 0.45, 0.165 - 0.14 * (fraction - 0.45) / 0.55, half)
    return np.where((fraction >= 0.0) & (fraction <= 1.0) & (z >= -1.85), half, 0.0)


def below_the_hull(breadths, heights, x, z, half):
    """Volume and first moment in x of a body outside the canoe body, by midpoints of (x, z)."""
    foot, rise = heights[0](x), (heights[1](x) - heights[0](x)) / breadths[1](x)
    inside = np.maximum(0.0, (z - foot) / rise)
    width = 2.0 * np.maximum(0.0, half - inside)
    cell = (x[1, 0] - x[0, 0]) * (z[0, 1] - z[0, 0])
    return width.sum() * cell, (width * x).sum() * cell


def midpoints(low, high, count):
    return low + (np.arange(count) + 0.5) * (high - low) / count


def test_saltmarrow_displaces_what_a_sum_of_strips_says(demo, demo_input, wet):
    breadths, heights = splines(demo_input)
    x = np.linspace(-0.2, 10.4, 2001)
    sections = np.array([immersed(breadths, heights, at) for at in x])
    volume, moment = simpson(sections[:, 0], x=x), simpson(sections[:, 0] * x, x=x)
    canoe = wet(demo.surface)
    # the mesh's chords cut off 6 in 100,000 of the volume
    assert canoe[0] == pytest.approx(volume, rel=1e-4)
    assert canoe[1] / canoe[0] == pytest.approx(moment / volume, abs=1e-4)
    assert canoe[3] == pytest.approx(simpson(sections[:, 1], x=x), rel=2e-4)

    grid = np.meshgrid(midpoints(2.75, 6.75, 1600), midpoints(-1.85, -0.6, 1000), indexing="ij")
    keel = below_the_hull(breadths, heights, *grid, keel_half_thickness(*grid))
    found = wet(demo.appendages["keel"].surface)
    # the nose's sixteen chords cut off 0.16 % of a quarter of the keel, its rows 0.02 %: 0.6 kg
    assert found[0] == pytest.approx(keel[0], rel=7e-4)
    assert found[1] / found[0] == pytest.approx(keel[1] / keel[0], abs=5e-4)

    grid = np.meshgrid(midpoints(8.0, 9.05, 1000), midpoints(-1.35, -0.2, 1000), indexing="ij")
    skeg = below_the_hull(breadths, heights, *grid, np.full(grid[0].shape, 0.045))
    assert wet(demo.appendages["skeg-and-rudder"].surface)[0] == pytest.approx(
        skeg[0], rel=2e-4
    )
