"""Pieces of the demo: the model's own area, mass and perimeter, marked and turned alike."""

from dataclasses import replace

import numpy as np
import pytest

from hullchange.materials import STEEL_DENSITY
from hullchange.shop.contour import enclosed
from hullchange.shop.picture import cut_of
from hullchange.shop.quantities import mass_of


def test_area_and_perimeter_are_the_models(steel):
    for piece in steel.pieces:
        assert mass_of(piece) == pytest.approx(piece.plate.mass(STEEL_DENSITY)), piece.id
        assert enclosed(piece.rings) == pytest.approx(piece.area, rel=1e-3), piece.id
        assert piece.cut_length == pytest.approx(piece.plate.perimeter, rel=1e-3), piece.id


def test_nothing_is_left_out_and_nothing_named_twice(steel):
    ids = [item.id for item in (*steel.pieces, *steel.bars)]
    assert len(ids) == len(set(ids)) == len(steel.plates)
    masses = [item.plate.mass(STEEL_DENSITY) for item in (*steel.pieces, *steel.bars)]
    whole = sum(plate.mass(STEEL_DENSITY) for plate in steel.plates)
    assert sum(masses) == pytest.approx(whole)


def test_folded_back_every_contour_lies_on_its_plates_edge(steel):
    for piece in steel.pieces:
        outlines = (piece.plate.outer, *piece.plate.holes)
        for ring, outline in zip(piece.rings, outlines, strict=True):
            folded = piece.plate.map.to_boat(piece.drawing.back(ring.points))
            edge = piece.plate.map.to_boat(outline.polyline(1e-6))
            after = np.roll(edge, -1, axis=0) - edge
            away = folded[:, None] - edge
            share = np.einsum("ijk,jk->ij", away, after) / (after**2).sum(axis=1)
            gap = away - np.clip(share, 0.0, 1.0)[..., None] * after
            assert np.linalg.norm(gap, axis=2).min(axis=1).max() < 0.2e-3, piece.id


def test_twins_share_a_mark_and_are_one_another_turned_over(pieces):
    starboard, port = pieces["HOUSE-01-S"], pieces["HOUSE-01-P"]
    assert starboard.mark == port.mark
    assert starboard.side == port.side == "INBOARD"
    assert starboard.drawing.over != port.drawing.over
    seen = [piece.rings[0].points - piece.size / 2.0 for piece in (starboard, port)]
    turned = seen[0] * np.array([1.0, -1.0])
    gap = np.hypot(*(turned[:, None] - seen[1]).transpose(2, 0, 1)).min(axis=1)
    assert gap.max() < 1e-9


def test_the_marked_side_is_where_stiffeners_land(pieces):
    assert pieces["HOUSE-04"].side == "DOWN"  # the roof, beams below
    assert pieces["COCKPIT-01"].side == "DOWN"  # the sole, flats below
    assert pieces["COCKPIT-05"].side == "UP"  # a bridge, nothing lands


def test_drawings_lie_at_the_corner_with_their_long_side_level(steel):
    for piece in steel.pieces:
        assert piece.rings[0].points.min(axis=0) == pytest.approx(0.0, abs=1e-9)
        assert piece.size[0] >= piece.size[1], piece.id
        there = piece.drawing.of(piece.plate.flat_centroid)
        assert piece.drawing.back(there) == pytest.approx(piece.plate.flat_centroid)


def test_straight_flats_and_tubes_are_bars(steel):
    sections = {bar.section for bar in steel.bars}
    assert sections == {"flat 40 x 4", "tube 89 x 6"}
    assert {p.plate.kind for p in steel.pieces} == {"plate", "flat_bar"}  # cambered beams
    for bar in steel.bars:
        assert bar.length * bar.plate.section[0] == pytest.approx(
            bar.plate.flat_area if bar.plate.kind == "flat_bar" else bar.length * 0.089
        )


def test_bars_that_differ_by_a_tenth_of_a_millimetre_are_not_alike(steel):
    bar = steel.bars[0]
    longer = [replace(bar, length=bar.length + more).shape for more in (0.01e-3, 0.2e-3, 0.04)]
    assert longer[0] == bar.shape
    assert len({bar.shape, *longer}) == 3


def test_a_picture_is_as_large_as_what_is_drawn(pieces):
    piece = pieces["HOUSE-01-S"]
    shifted = cut_of(piece).placed(0.0, np.array([1.0, 2.0]))
    assert shifted.bounds[0] == pytest.approx([1.0, 2.0], abs=1e-9)
    assert shifted.bounds[1] == pytest.approx(piece.size + [1.0, 2.0], abs=1e-6)


def test_the_demos_house_meets_its_roof(steel):
    named = {(steel.names[s.first][1], steel.names[s.second][1]): s.length for s in steel.seams}
    sides = [named[f"side-{side}", "roof"] for side in ("starboard", "port")]
    assert sides[0] == pytest.approx(sides[1], abs=1e-9)
    assert sides[0] == pytest.approx(3.741, abs=0.01)
    beams = [a for a, b in named if a.startswith("roof-beam") and b == "roof"]
    assert len(beams) == 9  # eight, one of them parted at the post
