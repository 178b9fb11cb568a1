"""Pieces too large for the stock: parted by a straight seam, nothing lost."""

import numpy as np
import pytest
import shapely
import trimesh

from hullchange.geometry.frame import Frame
from hullchange.geometry.outline import FlatOutline
from hullchange.geometry.plate import Planar, Plate
from hullchange.parts.steelwork import AFT, STARBOARD
from hullchange.shop.contour import contour_of
from hullchange.shop.piece import steel_of
from hullchange.shop.splice import cut_across, seam_length, split_piece, surface_in_boat


def within(length, breadth):
    return lambda piece: piece.size[0] <= length and piece.size[1] <= breadth


def solid(surface):
    return trimesh.Trimesh(surface.vertices, surface.faces, process=False)


def test_the_demos_roof_is_parted_by_its_shortest_seam(pieces):
    roof = pieces["HOUSE-04"]
    halves = split_piece(roof, within(5.97, 1.97))
    assert [half.id for half in halves] == ["HOUSE-04-A", "HOUSE-04-B"]
    assert sum(half.area for half in halves) == pytest.approx(roof.area, rel=1e-9)
    assert seam_length(halves, roof) < 2.0
    whole = [
        shapely.Polygon(roof.drawing.of(h.drawing.back(h.rings[0].points))) for h in halves
    ]
    assert whole[0].intersection(whole[1]).area < 1e-6
    assert shapely.union_all(whole).symmetric_difference(roof.region).area < 1e-3


def test_parts_lie_in_the_boat_where_their_plate_does(pieces):
    # the roof is rolled, its starboard side is flat, with windows, and a twin
    for name, room in (("HOUSE-04", (1.97, 1.47)), ("HOUSE-01-S", (2.97, 1.47))):
        plate = pieces[name].plate
        parts = split_piece(pieces[name], within(*room))
        bodies = [solid(surface_in_boat(part)) for part in parts]
        assert sum(body.volume for body in bodies) == pytest.approx(plate.volume, rel=2e-3)
        whole = solid(plate.surface())
        for body, part in zip(bodies, parts, strict=True):
            assert body.volume == pytest.approx(part.area * plate.thickness, rel=2e-3)
            _, off, _ = trimesh.proximity.closest_point(whole, body.vertices)
            assert off.max() < 1e-3


def test_openings_stay_whole():
    holes = (FlatOutline.rectangle((1.8, 0.2), (2.2, 0.8), 0.1),)
    outer = FlatOutline.rectangle((0.0, 0.0), (4.0, 1.0))
    frame = Frame(np.zeros(3), AFT, STARBOARD)
    steel = steel_of({"try": [Plate("p", "plate", outer, 4e-3, Planar(frame), holes)]}, ())
    first, second = split_piece(steel.pieces[0], within(2.97, 1.47))
    assert sorted(len(half.rings) for half in (first, second)) == [1, 2]
    assert sum(half.area for half in (first, second)) == pytest.approx(steel.pieces[0].area)


def test_arcs_are_cut_exactly():
    loop = contour_of(FlatOutline.circle((0.0, 0.0), 1.0))
    low, high = cut_across(loop, 1, 0.5)
    segment = np.arccos(0.5) - 0.5 * np.sqrt(0.75)
    assert high.area == pytest.approx(segment)
    assert low.area == pytest.approx(np.pi - segment)
    assert low.perimeter + high.perimeter == pytest.approx(2 * np.pi + 4 * np.sqrt(0.75))


def test_more_than_two_parts_where_two_do_not_do(pieces):
    roof = pieces["HOUSE-04"]  # 3.73 x 2.29
    for room, fewest in (((1.97, 1.47), 4), ((2.97, 0.97), 4), ((0.97, 0.97), 12)):
        parts = split_piece(roof, within(*room))
        assert len(parts) <= fewest  # by hand, of the rectangle around it
        assert all(within(*room)(part) for part in parts)
        assert len({part.id for part in parts}) == len(parts)
        assert sum(part.area for part in parts) == pytest.approx(roof.area, rel=1e-9)
        back = [
            shapely.Polygon(roof.drawing.of(p.drawing.back(p.rings[0].points))) for p in parts
        ]
        assert shapely.union_all(back).symmetric_difference(roof.region).area < 1e-3
        assert sum(p.area for p in back) == pytest.approx(shapely.union_all(back).area)


def test_three_parts_of_a_strip_by_hand():
    outer = FlatOutline.rectangle((0.0, 0.0), (8.5, 1.0))
    frame = Frame(np.zeros(3), AFT, STARBOARD)
    steel = steel_of({"try": [Plate("p", "plate", outer, 4e-3, Planar(frame))]}, ())
    parts = split_piece(steel.pieces[0], within(2.97, 1.47))
    assert [part.id for part in parts] == ["TRY-01-A", "TRY-01-B", "TRY-01-C"]
    assert seam_length(parts, steel.pieces[0]) == pytest.approx(2.0)


def test_seams_of_many_parts_keep_clear_of_openings():
    holes = tuple(
        FlatOutline.rectangle((x - 0.3, 0.2), (x + 0.3, 0.8)) for x in (1.3, 2.9, 4.2)
    )
    outer = FlatOutline.rectangle((0.0, 0.0), (6.0, 1.0))
    frame = Frame(np.zeros(3), AFT, STARBOARD)
    steel = steel_of({"try": [Plate("p", "plate", outer, 4e-3, Planar(frame), holes)]}, ())
    parts = split_piece(steel.pieces[0], within(2.3, 1.2))
    assert len(parts) == 3
    assert sum(len(part.rings) - 1 for part in parts) == 3


def test_what_no_seam_makes_fit_is_not_parted(pieces):
    assert split_piece(pieces["HOUSE-04"], within(0.1, 0.1)) is None
    hole = FlatOutline.rectangle((0.1, 0.1), (3.9, 0.9))
    outer = FlatOutline.rectangle((0.0, 0.0), (4.0, 1.0))
    frame = Frame(np.zeros(3), AFT, STARBOARD)
    steel = steel_of({"try": [Plate("p", "plate", outer, 4e-3, Planar(frame), (hole,))]}, ())
    assert split_piece(steel.pieces[0], within(2.97, 1.47)) is None
