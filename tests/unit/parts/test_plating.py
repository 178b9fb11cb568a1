"""Any plate by its corners: by hand, mirrored, with holes, refusals."""

from math import pi

import numpy as np
import pytest

from hullchange.geometry.surface import mass_properties
from hullchange.parts.parameters import Plating, RoundHole
from hullchange.parts.part import Site
from hullchange.parts.plating import plating

SLOPED = ((0.0, 0.5, 0.0), (2.0, 0.5, 0.0), (2.0, 1.1, 0.8), (0.0, 1.1, 0.8))


def sheet(**values):
    return Plating(**{"corners_m": SLOPED, "thickness_mm": 5.0, **values})


def test_a_sloping_sheet_by_hand(host):
    (one,) = plating(sheet(), Site(host)).plates
    assert one.area_mid == pytest.approx(2.0)
    assert one.mass(7850.0) == pytest.approx(78.5)
    assert mass_properties(one.surface(), 7850.0).centroid == pytest.approx((1.0, 0.8, 0.4))


def test_corners_in_either_order(host):
    (one,) = plating(sheet(), Site(host)).plates
    (other,) = plating(sheet(corners_m=SLOPED[::-1]), Site(host)).plates
    assert mass_properties(other.surface(), 1.0).centroid == pytest.approx(
        mass_properties(one.surface(), 1.0).centroid
    )


def test_holes_and_cutouts(host):
    hole = RoundHole(at_m=(0.5, 0.8, 0.4), diameter_mm=200)
    cutout = ((1.2, 0.68, 0.24), (1.6, 0.68, 0.24), (1.6, 0.92, 0.56), (1.2, 0.92, 0.56))
    (one,) = plating(sheet(holes=(hole,), cutouts_m=(cutout,)), Site(host)).plates
    assert one.area_mid == pytest.approx(2.0 - pi * 0.01 - 0.4 * 0.4)


def test_scallops_at_corners_by_number(host, refusal):
    (one,) = plating(sheet(scallop_corners=(1, 3), scallop_mm=40), Site(host)).plates
    assert one.area_mid == pytest.approx(2.0 - pi * 0.04**2 / 2.0)
    centres = np.array([arc.centre for arc in one.outer.tagged("scallop")])
    known = {tuple(np.round(at, 6)) for at in one.map.to_boat(centres).tolist()}
    assert known == {SLOPED[0], SLOPED[2]}
    refused = refusal(lambda: plating(sheet(scallop_corners=(5,)), Site(host)))
    assert (refused.code, refused.place) == ("wrong-count", "scallop_corners")


def test_a_mirrored_one(host):
    one, twin = plating(sheet(mirrored=True), Site(host)).plates
    assert twin.twin_of == one.id
    assert twin.surface().bounds[:, 1] == pytest.approx(-one.surface().bounds[::-1, 1])


def test_a_corner_measured_a_little_off_is_drawn_into_the_plane(host):
    rough = (*SLOPED[:3], (0.0, 1.1, 0.801))
    (one,) = plating(sheet(corners_m=rough), Site(host)).plates
    assert one.area_mid == pytest.approx(2.0, abs=2e-3)


def test_a_twin_that_lies_in_the_plate_is_reported(host):
    across = tuple((x, y - 0.8, z) for x, y, z in SLOPED)
    (finding,) = plating(sheet(corners_m=across, mirrored=True), Site(host)).findings
    assert (finding.code, finding.place) == ("overlaps-its-twin", "mirrored")
    assert plating(sheet(corners_m=across), Site(host)).findings == ()


@pytest.mark.parametrize(
    ("values", "code"),
    [
        ({"corners_m": (*SLOPED[:3], (0.0, 1.1, 0.9))}, "corners-not-in-a-plane"),
        ({"corners_m": ((0, 0, 0), (1, 0, 0), (2, 0, 0))}, "plate-without-area"),
        ({"corners_m": ((0, 0, 0), (0, 0, 0), (2, 0, 1))}, "plate-without-area"),
        ({"corners_m": tuple(SLOPED[k] for k in (0, 2, 1, 3))}, "plate-without-area"),
        ({"corners_m": ((0, 0, 0), (3, 0, 2), (2, 0, 0), (0, 0, 3))}, "outline-crosses-itself"),
        ({"holes": (RoundHole(at_m=(0, 0.5, 0), diameter_mm=100),)}, "hole-outside-outline"),
        ({"holes": (RoundHole(at_m=(1, 0.8, 0.5), diameter_mm=100),)},
         "corners-not-in-a-plane"),
        ({"holes": (RoundHole(at_m=(1, 0.8, 0.4), diameter_mm=100),) * 2}, "holes-overlap"),
        ({"cutouts_m": (((0.2, 0.6, 0.4), (0.4, 0.6, 0.4), (0.4, 0.7, 0.6)),)},
         "corners-not-in-a-plane"),
    ],
)  # fmt: skip
def test_refusals(host, refusal, values, code):
    values = {
        key: tuple(tuple(map(float, c)) for c in v) if key == "corners_m" else v
        for key, v in values.items()
    }
    assert refusal(lambda: plating(sheet(**values), Site(host))).code == code


def test_moving_a_plate_moves_its_centroid_exactly(host):
    by = np.array([3.0, -2.0, 1.0])
    moved = tuple(tuple(c) for c in (np.array(SLOPED) + by).tolist())
    (one,), (other,) = (
        plating(sheet(corners_m=corners), Site(host)).plates for corners in (SLOPED, moved)
    )
    start, end = (np.array(mass_properties(p.surface(), 1.0).centroid) for p in (one, other))
    assert end - start == pytest.approx(by, abs=1e-12)
