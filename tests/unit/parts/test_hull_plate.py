"""A plate of the hull bent between two lines: cylinder and cone by theory, twist refused."""

from dataclasses import dataclass
from math import atan, degrees, radians
from typing import Any

import numpy as np
import pytest

from hullchange.geometry.ruled_plate import YIELD_STRAIN
from hullchange.materials import STEEL_DENSITY
from hullchange.parts.parameters import HullPlate
from hullchange.parts.part import Site
from hullchange.parts.registry import KINDS
from hullchange.shop.marks import marks_of
from hullchange.shop.piece import steel_of

CLOSE = 0.05e-3  # [m] asked of a development
PLATE = HullPlate(
    x_forward_m=2.0,
    x_aft_m=4.0,
    lower_line="low",
    upper_line="high",
    plate_mm=6,
    old_plate_mm=6,
)
BUILD = KINDS["hull_plate"].build


@dataclass(frozen=True)
class TwoLines:
    """A hull that is two lines."""

    low: Any
    high: Any

    def lines_up(self):
        return ("low", "high")

    def line(self, name, x):
        return np.stack([x, *getattr(self, name)(x)], axis=1)


def built(low, high, **other):
    return BUILD(PLATE.model_copy(update=other), Site(TwoLines(low, high)))


def chords(plate):
    """Four sides and both diagonals of the flat plate's corners."""
    corners = np.array([segment.start for segment in plate.outer.segments])
    pairs = ((0, 1), (1, 2), (2, 3), (3, 0), (0, 2), (1, 3))
    return [float(np.hypot(*(corners[i] - corners[j]))) for i, j in pairs]


def test_a_cylindrical_side():
    # upright circular cylinder, radius 5 m outside: y by x, the same below as above
    radius, height = 5.0, 1.2

    def side(z):
        return lambda x: (np.sqrt(radius**2 - (x - 2.5) ** 2) - 3.0, np.full_like(x, z))

    part = built(side(0.0), side(height))
    plate = part.plates[0]
    middle = radius - 0.003
    arc = middle * (np.arcsin(1.5 / radius) + np.arcsin(0.5 / radius))
    assert plate.flat_area == pytest.approx(arc * height, abs=CLOSE * arc)
    diagonal = np.hypot(arc, height)
    assert chords(plate) == pytest.approx(
        [arc, height, arc, height, diagonal, diagonal], abs=CLOSE
    )
    assert plate.mass(STEEL_DENSITY) == pytest.approx(arc * height * 0.006 * 7850, rel=5e-5)
    radii = [radius for bend in plate.map.bends for radius in bend.radii]
    assert np.array(radii) == pytest.approx(middle, rel=2e-3)
    points = plate.surface().vertices
    away = np.hypot(points[:, 0] - 2.5, points[:, 1] + 3.0)
    assert np.abs(away - middle).max() == pytest.approx(0.003, abs=CLOSE)
    assert [p.id for p in part.plates] == ["starboard", "port"]
    assert part.plates[1].surface().vertices[:, 1].max() < 0.0


def test_a_conical_side():
    # upright cone, apex below on the axis: radius grows with height
    near, far, slope = 4.0, 4.8, radians(40.0)

    def side(radius):
        height = (radius - near) / np.tan(slope)
        return lambda x: (np.sqrt(radius**2 - (x - 3.0) ** 2), np.full_like(x, height))

    (plate,) = built(side(near), side(far), side="starboard").plates
    # an edge between two stations is an arc of the flat ring round the apex
    # half the thickness inwards along the normal: sin(slope) of it towards the apex's axis
    flat = plate.map.ruled.flat
    middle, _ = circle(flat[:, 0])
    for k, radius in ((0, near), (1, far)):
        away = np.hypot(*(flat[:, k] - middle).T)
        apart = radius / np.sin(slope)
        assert away == pytest.approx(np.hypot(apart, 0.003), abs=5e-3)
        assert np.ptp(away) < CLOSE
    turn = np.arcsin(1.0 / near) * 2.0 * np.sin(slope)
    assert plate.outer.segments[0].length == pytest.approx(
        turn * near / np.sin(slope), rel=2e-3
    )


def circle(points):
    """Centre and radius of the circle through points, by least squares."""
    x, y = points.T
    rows = np.stack([2 * x, 2 * y, np.ones_like(x)], axis=1)
    a, b, c = np.linalg.lstsq(rows, x**2 + y**2, rcond=None)[0]
    return np.array([a, b]), float(np.sqrt(c + a * a + b * b))


@pytest.mark.parametrize("per_metre", [8.0, 12.0])
def test_a_twisted_pair_is_refused_with_its_strain(per_metre, refusal):
    def rim(sign):
        def line(x):
            turn = np.radians(per_metre) * (x - 2.0)
            return 1.5 + sign * np.sin(turn) / 2.0, sign * np.cos(turn) / 2.0

        return line

    problem = refusal(lambda: built(rim(-1.0), rim(1.0)))
    assert (problem.code, problem.place) == ("plate-twisted", "upper_line")
    strain = (2.0 * atan(radians(per_metre) / 2.0)) ** 2 / 12.0
    assert strain > YIELD_STRAIN
    assert f"{100.0 * strain:.2f} %" in problem.sentence
    assert degrees(2.0 * atan(radians(per_metre) / 2.0)) > 6.7


def test_a_plate_that_is_forced_says_so():
    def rim(sign):
        def line(x):
            turn = np.radians(5.0) * (x - 2.0)
            return 1.5 + sign * np.sin(turn) / 2.0, sign * np.cos(turn) / 2.0

        return line

    finding, old = built(rim(-1.0), rim(1.0)).findings
    # 2 x 1 m of 6 mm on both sides, and what the twist adds to its edges
    assert "6 mm plate that is cut out weighs 189 kg, at x 3.00, y 0.00" in old.sentence
    assert (finding.code, finding.place) == ("plate-forced", "upper_line")
    assert "0.06 %" in finding.sentence


def test_it_is_marked_to_be_rolled(host):
    part = BUILD(KINDS["hull_plate"].example, Site(host))
    steel = steel_of({"shell": part.plates}, ())
    for piece in steel.pieces:
        assert piece.area == pytest.approx(piece.wanted[0], rel=1e-3)
        assert 8.0 < piece.bend_radius < 20.0
        marks = marks_of(piece, steel, "UNSIGNED")
        words = [row.text for row in marks.words]
        assert "ROLL HOLLOW ON THIS SIDE" in words
        assert piece.side == "INBOARD"
        assert sum(line.role == "bend" for line in marks.lines) >= 4
        back = piece.plate.map.to_flat(piece.plate.map.to_boat(piece.plate.map.ring[0]))
        assert back == pytest.approx(piece.plate.map.ring[0], abs=1e-6)


@pytest.mark.parametrize(
    ("other", "code", "place"),
    [
        ({"x_aft_m": 3.0, "x_forward_m": 3.0}, "ends-the-wrong-way-round", "x_aft_m"),
        ({"lower_line": "high", "upper_line": "low"}, "lines-not-neighbours", "upper_line"),
    ],
)
def test_what_is_no_plate_is_refused(other, code, place, refusal):
    def level(z):
        return lambda x: (np.full_like(x, 1.5), np.full_like(x, z))

    problem = refusal(lambda: built(level(0.0), level(1.0), **other))
    assert (problem.code, problem.place) == (code, place)
