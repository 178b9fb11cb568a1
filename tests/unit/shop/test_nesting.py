"""Nests: nothing missing, nothing overlapping, gaps held; closer than boxes lie."""

import sys
from pathlib import Path

import numpy as np
import pytest
import shapely

from hullchange.errors import ModelError
from hullchange.shop import strip
from hullchange.shop.nest import (
    Nest,
    Placement,
    Shape,
    Sheet,
    Spacing,
    require_sound,
    used_length,
)
from hullchange.shop.nesting import Effort, cost, nests_of
from hullchange.shop.raster import packed
from hullchange.shop.strip import strip_nest

SPACING = Spacing()


def sheet(length, breadth, **more):
    corners = np.array([[0, 0], [length, 0], [length, breadth], [0, breadth]], float)
    return Sheet(f"{length:g} x {breadth:g}", corners, **more)


def box(name, length, breadth):
    return Shape(name, shapely.box(0.0, 0.0, length, breadth))


def known(shapes):
    return {shape.id: shape for shape in shapes}


@pytest.fixture(scope="module")
def shapes_of_4_mm(steel):
    return [Shape(p.id, p.region) for p in steel.pieces if round(p.thickness * 1e3) == 4]


def test_a_quick_nest_of_the_demos_four_millimetre_plate(shapes_of_4_mm):
    stock = [sheet(3.0, 1.5), sheet(4.0, 2.0), sheet(6.0, 2.0)]
    nests, left_out = nests_of(shapes_of_4_mm, stock, SPACING, Effort())
    assert left_out == ()
    require_sound(nests, known(shapes_of_4_mm), SPACING)
    net = sum(shape.region.area for shape in shapes_of_4_mm)
    assert cost(nests) == pytest.approx(16.0)  # two of 4 x 2 m
    assert net / cost(nests) > 0.75


@pytest.mark.slow
def test_the_library_packs_closer_than_the_grid_and_than_boxes(shapes_of_4_mm):
    long = sheet(9.0, 2.0)
    by_size = sorted(shapes_of_4_mm, key=lambda s: -s.region.area)
    grid = packed(by_size, long, SPACING)
    boxes = [Shape(s.id, shapely.box(*s.region.bounds)) for s in by_size]
    boxed = packed(boxes, long, SPACING)
    close = strip_nest(by_size, long, SPACING, 4, seed=1)
    require_sound([close], known(shapes_of_4_mm), SPACING)
    lengths = [used_length(n, known(s)) for n, s in
               ((close, shapes_of_4_mm), (grid, shapes_of_4_mm), (boxed, boxes))]  # fmt: skip
    assert lengths[0] < lengths[1] <= lengths[2]


def test_eighty_pieces_are_nested_in_one_go():
    rng = np.random.default_rng(5)
    shapes = [box(f"p{k}", *rng.uniform(0.1, 0.6, 2)) for k in range(80)]
    nests, left_out = nests_of(shapes, [sheet(6.0, 2.0)], SPACING, Effort())
    assert left_out == ()
    assert sum(len(nest.places) for nest in nests) == 80


def test_small_pieces_lie_in_openings():
    frame = Shape(
        "frame", shapely.box(0, 0, 0.9, 0.9).difference(shapely.box(0.2, 0.2, 0.7, 0.7))
    )
    inner = box("inner", 0.4, 0.4)
    nests, _ = nests_of([frame, inner], [sheet(1.0, 1.0)], SPACING, Effort())
    assert len(nests) == 1
    assert len(nests[0].places) == 2


def test_leftovers_of_any_outline_are_used_first():
    corner = np.array([[0, 0], [2, 0], [2, 0.5], [0.5, 0.5], [0.5, 2], [0, 2]], float)
    stock = [sheet(3.0, 1.5), Sheet("l-piece", corner, leftover=True)]
    shapes = [box("long", 1.5, 0.4), box("upright", 0.4, 1.3), box("large", 1.2, 1.2)]
    nests, left_out = nests_of(shapes, stock, SPACING, Effort())
    assert left_out == ()
    assert [nest.sheet.name for nest in nests] == ["l-piece", "3 x 1.5"]
    assert {place.id for place in nests[0].places} == {"long", "upright"}
    assert cost(nests[1:]) == pytest.approx(4.5)


def test_the_cheaper_choice_of_sheets_wins():
    shapes = [box(f"p{k}", 1.4, 0.9) for k in range(4)]
    stock = [sheet(6.0, 2.0, price=100.0), sheet(3.0, 2.0, price=60.0)]
    nests, _ = nests_of(shapes, stock, SPACING, Effort())
    assert [nest.sheet.name for nest in nests] == ["3 x 2"]


def test_a_sheet_without_a_price_is_reckoned_at_the_mean_of_the_others():
    shapes = [box(f"p{k}", 1.4, 0.9) for k in range(4)]
    dear, cheap = sheet(6.0, 2.0), sheet(3.0, 2.0, price=60.0)
    nests, _ = nests_of(shapes, [dear, cheap], SPACING, Effort())
    assert [nest.sheet.name for nest in nests] == ["3 x 2"]
    assert cost(nests) == 60.0
    none = [sheet(6.0, 2.0), sheet(3.0, 2.0)]
    assert [n.sheet.name for n in nests_of(shapes, none, SPACING, Effort())[0]] == ["3 x 2"]
    free = [sheet(6.0, 2.0, price=0.0), cheap]
    nests, _ = nests_of(shapes, free, SPACING, Effort())
    assert ([n.sheet.name for n in nests], cost(nests)) == (["6 x 2"], 0.0)


def test_a_leftover_takes_first_what_no_sheet_takes():
    stock = [sheet(2.0, 1.0), sheet(3.0, 1.0, leftover=True)]
    shapes = [box("long", 2.4, 0.5), box("wide", 1.9, 0.9)]
    nests, left_out = nests_of(shapes, stock, SPACING, Effort())
    assert left_out == ()
    assert [place.id for nest in nests for place in nest.places] == ["long", "wide"]


@pytest.mark.parametrize("turned", [False, True])
def test_a_piece_that_only_just_fits_a_leftover_lies_in_its_corner(turned):
    size = (1.47, 2.97) if turned else (2.97, 1.47)
    stock = [sheet(3.0, 1.5, leftover=True), sheet(2.0, 1.0)]
    shapes = [box("tight", *size), box("small", 0.2, 0.2)]
    nests, left_out = nests_of(shapes, stock, SPACING, Effort())
    assert left_out == ()
    assert [p.id for p in nests[0].places] == ["tight"]


def test_without_whole_sheets_what_the_leftovers_do_not_take_is_handed_back():
    shapes = [box("one", 0.9, 0.9), box("two", 0.9, 0.9)]
    stock = [sheet(1.0, 1.0, leftover=True)]
    nests, left_out = nests_of(shapes, stock, SPACING, Effort())
    placed = [place.id for nest in nests for place in nest.places]
    assert sorted([*placed, *(s.id for s in left_out)]) == ["one", "two"]


def test_of_many_sizes_and_many_sheets_not_every_choice_is_looked_at():
    shapes = [box(f"p{k}", 0.9, 0.9) for k in range(8)]
    stock = [sheet(1.0 + 0.01 * k, 1.0) for k in range(12)]
    nests, left_out = nests_of(shapes, stock, SPACING, Effort())  # 4 million choices
    assert (len(nests), left_out) == (8, ())


def test_what_fits_no_sheet_is_handed_back():
    shapes = [box("small", 0.5, 0.5), box("huge", 3.2, 0.5)]
    nests, left_out = nests_of(shapes, [sheet(3.0, 1.5)], SPACING, Effort())
    assert [shape.id for shape in left_out] == ["huge"]
    assert [place.id for nest in nests for place in nest.places] == ["small"]


def test_a_piece_that_only_just_fits_lies_against_the_margin():
    nests, left_out = nests_of([box("tight", 2.97, 1.47)], [sheet(3.0, 1.5)], SPACING, Effort())
    assert left_out == ()
    assert nests[0].places[0].shift == pytest.approx((0.015, 0.015))


def test_a_rolled_piece_keeps_to_the_rolling_direction():
    shapes = [Shape("rolled", shapely.box(0, 0, 1.0, 2.5), turns=(0.0, np.pi))]
    _, left_out = nests_of(shapes, [sheet(3.0, 1.5)], SPACING, Effort())
    assert left_out == tuple(shapes)


@pytest.mark.parametrize(
    ("places", "message"),
    [
        ((("a", 0.015, 0.015), ("b", 0.520, 0.015)), "5.0 mm apart"),
        ((("a", 0.015, 0.015), ("b", 0.200, 0.015)), "0.0 mm apart"),
        ((("a", 0.010, 0.015), ("b", 0.530, 0.015)), "too close to the edge"),
        ((("a", 0.015, 0.015),), "1 pieces are on it instead of 2"),
    ],
)
def test_a_planted_fault_is_found(places, message):
    shapes = known([box("a", 0.5, 0.5), box("b", 0.5, 0.5)])
    laid = Nest(sheet(3.0, 1.5), tuple(Placement(i, 0.0, (x, y)) for i, x, y in places))
    with pytest.raises(ModelError) as refusal:
        require_sound([laid], shapes, SPACING)
    assert refusal.value.code == "nest-fails-check"
    assert message in refusal.value.sentence


def test_a_library_that_ends_itself_is_no_nest(monkeypatch, tmp_path):
    broken = tmp_path / "python"
    broken.write_text("#!/bin/sh\nkill -9 $$\n")
    broken.chmod(0o755)
    monkeypatch.setattr(strip.sys, "executable", str(broken))
    assert strip_nest([box("a", 1.0, 1.0)], sheet(3.0, 1.5), SPACING, 1, seed=1) is None


def test_the_work_can_be_stopped():
    def stop(_):
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        nests_of([box("a", 1.0, 1.0)], [sheet(3.0, 1.5)], SPACING, Effort(), stop)


def test_the_child_is_a_module_of_this_interpreter():
    assert (Path(strip.__file__).parent / "strip_child.py").is_file()
    assert strip.sys is sys
