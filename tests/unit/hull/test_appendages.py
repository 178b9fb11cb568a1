"""Keel, skeg and rudder: closed forms, cut once, refused by code."""

from dataclasses import replace

import numpy as np
import pytest

from hullchange.errors import DocumentError
from hullchange.geometry.surface import box, intersection, require_closed
from hullchange.hull.appendage_outline import outline_of
from hullchange.hull.appendages import AppendageInput, thickness_table, uncut_body
from hullchange.hull.hull import hull_of

FLAT = ((0.0, 0.1), (1.0, 0.1))


def body(points, table=FLAT, top=0.0, nose="square"):
    given = AppendageInput("fin", tuple(points), table, nose)
    return uncut_body(outline_of(np.array(points, float), top), thickness_table(given))


def test_a_plate_fin_is_a_box():
    fin = body([(2, -1), (3, -1)], top=0.5)
    require_closed(fin, "the fin")
    assert fin.volume == pytest.approx(1.0 * 1.5 * 0.2, rel=1e-13)


def test_a_raked_leading_edge_then_straight_up():
    # trapezium 3 and 4 long over 1.25, then straight up to the top
    fin = body([(2.75, -0.60), (3.75, -1.85), (6.75, -1.85)], top=-0.30)
    require_closed(fin, "the fin")
    assert fin.volume == pytest.approx(0.2 * (3.5 * 1.25 + 4.0 * 0.30), rel=1e-12)


def test_a_sloping_foot_and_a_level_step_keep_their_area():
    # half of 4 x 1 below, and 4 x 1 above it
    wedge = body([(0, -1), (4, -2)], top=0.0)
    assert wedge.volume == pytest.approx(0.2 * (0.5 * 4 * 1 + 4 * 1), rel=1e-12)
    stepped = body([(0, -1), (2, -1), (2, -2), (4, -2)], top=0.0)
    assert stepped.volume == pytest.approx(0.2 * (4 * 1 + 2 * 1), rel=1e-12)
    require_closed(wedge, "the wedge")
    require_closed(stepped, "the step")


def test_a_wedge_of_thickness_and_an_elliptical_nose():
    taper = body([(0, -1), (2, -1)], ((0.0, 0.2), (1.0, 0.0)))
    require_closed(taper, "the taper")
    assert taper.volume == pytest.approx(2.0 * 0.2, rel=1e-12)
    round_nose = body([(0, -1), (2, -1)], ((0.0, 0.0), (0.5, 0.2), (1.0, 0.2)), nose="ellipse")
    # sixteen chords round a quarter of an ellipse cut off 0.16 % of it
    exact = 2 * (np.pi / 4 * 1.0 * 0.2 + 1.0 * 0.2)
    assert round_nose.volume == pytest.approx(exact, rel=1e-3)
    assert round_nose.volume < exact


def test_either_direction_of_the_outline_gives_the_same_body():
    points = [(2.75, -0.60), (3.75, -1.85), (6.75, -1.85)]
    assert body(points).key == body(points[::-1]).key


def test_nothing_overlaps(demo):
    keel, skeg = (part.surface for part in demo.appendages.values())
    for part in (keel, skeg):
        require_closed(part, "the appendage")
        assert intersection(part, demo.surface).volume < 1e-9
    assert intersection(keel, skeg).volume < 1e-9
    assert keel.mirrored().volume == pytest.approx(keel.volume, rel=1e-12)
    assert keel.bounds[:, 1].tolist() == [-0.165, 0.165]


def test_a_later_appendage_is_cut_by_an_earlier_one(demo_input):
    rudder = AppendageInput("rudder", ((6.0, -1.2), (8.0, -1.2)), 0.04)
    keel = demo_input.appendages[0]
    parts = hull_of(replace(demo_input, appendages=(keel, rudder)), 2500).appendages
    alone = hull_of(replace(demo_input, appendages=(rudder,)), 2500).appendages["rudder"]
    assert parts["rudder"].surface.volume < alone.surface.volume - 0.01
    assert intersection(parts["keel"].surface, parts["rudder"].surface).volume < 1e-9


def test_a_rudder_behind_the_transom_ends_at_its_own_height(demo_input):
    hung = AppendageInput(
        "rudder", ((11.0, 0.6), (11.0, -0.9), (11.4, -0.9), (11.3, 0.6)), 0.03
    )
    part = hull_of(replace(demo_input, appendages=(hung,)), 2500).appendages["rudder"]
    assert part.surface.volume == pytest.approx(0.06 * 0.35 * 1.5, rel=1e-9)
    assert part.surface.bounds[:, 2] == pytest.approx([-0.9, 0.6], abs=1e-12)
    assert part.side_view[:, 1].max() == 0.6


TABLE = ((0.0, 0.0), (0.5, 0.1), (1.0, 0.0))


@pytest.mark.parametrize(
    ("outline", "half", "nose", "code"),
    [
        (((5.0, -1.0),), 0.05, "square", "outline-too-short"),
        (((5.0, -1.0), (5.0, -2.0)), 0.05, "square", "outline-too-short"),
        (
            ((3.0, -0.6), (5.0, -2.0), (5.0, -1.0), (3.0, -1.5)),
            0.05,
            "square",
            "outline-crosses-itself",
        ),
        (
            ((5.0, -1.0), (5.0, -2.0), (8.0, -2.0), (4.0, -0.8), (6.0, -0.6)),
            0.05,
            "square",
            "outline-crosses-itself",
        ),
        (
            ((3.0, -0.6), (4.0, -2.0), (5.0, -1.0), (6.0, -2.0)),
            0.05,
            "square",
            "outline-doubles-back",
        ),
        (((4.0, 1.4), (4.0, -1.5), (5.0, -1.5)), 0.05, "square", "outline-above-hull"),
        (((4.0, -0.2), (5.0, -0.2)), 0.05, "square", "outline-inside-hull"),
        (((4.0, -1.5), (5.0, -1.5)), -0.05, "square", "thickness-negative"),
        (((4.0, -1.5), (5.0, -1.5)), 0.0, "square", "thickness-negative"),
        (
            ((4.0, -1.5), (5.0, -1.5)),
            (TABLE[1], TABLE[0], TABLE[2]),
            "square",
            "thickness-not-increasing",
        ),
        (((4.0, -1.5), (5.0, -1.5)), TABLE[:2], "square", "thickness-not-increasing"),
        (((4.0, -1.5), (5.0, -1.5)), 0.05, "ellipse", "nose-needs-table"),
    ],
)
def test_refused_by_code(demo_input, outline, half, nose, code):
    fin = AppendageInput("fin", outline, half, nose)
    with pytest.raises(DocumentError) as refusal:
        hull_of(replace(demo_input, appendages=(fin,)), 800)
    assert [fault.code for fault in refusal.value.faults] == [code]
    assert refusal.value.place.startswith("appendages.fin.")


def test_faults_of_all_appendages_are_listed_in_one_go(demo_input):
    bad = tuple(AppendageInput(name, ((5.0, -1.0),), -0.1) for name in ("one", "two"))
    with pytest.raises(DocumentError) as refusal:
        hull_of(replace(demo_input, appendages=bad), 800)
    assert [fault.place for fault in refusal.value.faults] == [
        "appendages.one.outline_m",
        "appendages.one.half_thickness_m",
        "appendages.two.outline_m",
        "appendages.two.half_thickness_m",
    ]


BLADE = ((3.0, -1.0), (3.0, -1.5), (5.0, -1.5), (5.0, -1.0))


@pytest.mark.parametrize("cant", [0.0, 12.0, -20.0])
def test_a_pair_of_bilge_keels_by_hand(box_input, cant):
    """On a flat bottom, half a metre of each blade stands below it, whichever way it leans."""
    pair = AppendageInput("bilge-keel", BLADE, 0.05, at_y=1.0, cant=cant, pair=True)
    hull = hull_of(replace(box_input, appendages=(pair,)), 800)
    part = hull.appendages["bilge-keel"]
    require_closed(part.surface, "the pair")
    assert part.surface.volume == pytest.approx(2 * 0.1 * 0.5 * 2.0, rel=1e-9)
    lean = np.radians(cant)
    deepest = -1.0 - 0.5 * np.cos(lean) - 0.05 * abs(np.sin(lean))
    assert hull.draught == pytest.approx(-deepest, abs=1e-9)
    outer = 1.0 + max(0.5 * np.sin(lean) + 0.05 * np.cos(lean), 0.05 / np.cos(lean))
    low, high = part.surface.bounds
    assert (low[1], high[1]) == pytest.approx((-outer, outer), abs=1e-9)
    mirrored = part.surface.mirrored()
    assert intersection(part.surface, mirrored).volume == pytest.approx(part.surface.volume)
    # seen from the side and end on
    assert part.side_view[:, 1].min() == pytest.approx(-1.0 - 0.5 * np.cos(lean))
    assert part.side_view[:, 1].max() == pytest.approx(-1.0)
    (_, y0, z0), (_, y1, z1) = part.end_view
    assert (y0, z0) == pytest.approx((1.0, -1.0))
    assert (y1, z1) == pytest.approx((1.0 + 0.5 * np.sin(lean), -1.0 - 0.5 * np.cos(lean)))


def test_one_off_the_centreline_leans_outwards_on_its_own_side(box_input):
    for at_y in (1.0, -1.0):
        fin = AppendageInput("fin", BLADE, 0.05, at_y=at_y, cant=10.0)
        hull = hull_of(replace(box_input, appendages=(fin,)), 800)
        part = hull.appendages["fin"]
        assert part.surface.volume == pytest.approx(0.1 * 0.5 * 2.0, rel=1e-9)
        assert np.sign(part.end_view[:, 1]).tolist() == [np.sign(at_y)] * 2
        assert abs(part.end_view[1, 1]) > abs(part.end_view[0, 1])


def test_a_pair_on_a_rounded_bottom_stands_on_it_and_is_cut_by_the_keel(demo_input):
    deep = ((4.2, -0.40), (4.5, -1.30), (6.0, -1.30), (6.4, -0.40))
    table = ((0.0, 0.0), (0.3, 0.05), (1.0, 0.01))
    pair = AppendageInput("bilge-keel", deep, table, "ellipse", 0.75, 12.0, pair=True)
    keel = demo_input.appendages[0]
    hull = hull_of(replace(demo_input, appendages=(keel, pair)), 4000)
    part = hull.appendages["bilge-keel"]
    require_closed(part.surface, "the pair")
    for other in (hull.surface, hull.appendages["keel"].surface):
        assert intersection(part.surface, other).volume < 1e-9
    # of its highest points each touches the bottom
    points = part.surface.vertices
    touching = np.abs(points[:, 2] - hull.bottom_z(points[:, 0], points[:, 1])) < 2e-3
    assert touching.any()
    assert points[:, 2].max() < -0.55
    # the pair is in what makes hulls equal, and so is the way it stands
    turned = replace(pair, cant=0.0)
    keys = {
        hull_of(replace(demo_input, appendages=some), 800).key
        for some in ((keel,), (keel, pair), (keel, turned), (keel, replace(pair, pair=False)))
    }
    assert len(keys) == 4


@pytest.mark.parametrize(
    ("at_y", "pair", "cant", "code"),
    [
        (0.0, True, 0.0, "pair-on-centreline"),
        (-0.5, True, 0.0, "pair-on-centreline"),
        (0.03, True, 0.0, "pair-on-centreline"),
        (0.30, True, -50.0, "pair-on-centreline"),
        (1.98, False, 0.0, "outline-beside-hull"),
        (3.0, True, 0.0, "outline-beside-hull"),
    ],
)
def test_a_pair_is_refused_in_words(box_input, at_y, pair, cant, code):
    fin = AppendageInput("fin", BLADE, 0.05, at_y=at_y, pair=pair, cant=cant)
    with pytest.raises(DocumentError) as refusal:
        hull_of(replace(box_input, appendages=(fin,)), 800)
    (fault,) = refusal.value.faults
    assert (fault.code, fault.place) == (code, "appendages.fin.at_y_m")
    assert fault.sentence.endswith(".")


def test_pairs_on_random_hulls_are_closed_or_refused(random_inputs):
    built = 0
    for draw, given in random_inputs:
        x = np.array([line.points[-1][0] for line in given.lines]).min()
        half = max(point[1] for point in given.lines[-1].points)
        low = min(point[2] for point in given.lines[0].points)
        outline = ((0.4 * x, low + 0.1), (0.42 * x, 2.2 * low), (0.6 * x, 2.2 * low))
        pair = AppendageInput(
            "bilge-keel",
            outline,
            0.004 * x,
            at_y=float(draw.uniform(0.1, 0.6)) * half,
            cant=float(draw.uniform(-15, 30)),
            pair=True,
        )
        try:
            hull = hull_of(replace(given, appendages=(pair,)), 800)
        except DocumentError:
            continue
        built += 1
        part = hull.appendages["bilge-keel"]
        require_closed(part.surface, "the pair")
        assert intersection(part.surface, hull.surface).volume < 1e-8
        assert part.surface.volume > 0.0
        first = abs(part.surface.vertices[:, 1].mean())
        assert first < 1e-3
    assert built >= 15


def test_a_propeller_aperture_is_a_notch_in_the_after_edge_by_hand(box_input):
    """On a flat bottom at z -1: 2.0 by 0.6, less 0.5 by 0.3 open aft, by 0.1 thick."""
    notched = (
        *((3.0, -1.0), (3.0, -1.6), (5.0, -1.6), (5.0, -1.5)),
        *((4.5, -1.5), (4.5, -1.2), (5.0, -1.2), (5.0, -1.0)),
    )
    skeg = AppendageInput("skeg", notched, 0.05)
    part = hull_of(replace(box_input, appendages=(skeg,)), 800).appendages["skeg"]
    require_closed(part.surface, "the skeg")
    assert part.surface.volume == pytest.approx((2.0 * 0.6 - 0.5 * 0.3) * 0.1, rel=1e-9)
    # a screw turns where nothing is, and the view shows the notch
    screw = intersection(part.surface, box(np.array([4.6, -1, -1.45]), np.array([6, 1, -1.25])))
    assert screw.volume == 0.0
    view = part.side_view
    area = 0.5 * abs(np.sum(view[:-1, 0] * view[1:, 1] - view[1:, 0] * view[:-1, 1]))
    assert area == pytest.approx(2.0 * 0.6 - 0.5 * 0.3, rel=2e-2)


def test_a_sloping_aperture_on_the_demos_skeg_by_hand(demo_input):
    """From 8.9 m aft to 8.3 between 1.2 and 0.6 deep, corners cut: 30 litres at 0.1 m thick."""
    after = ((8.9, -1.2), (8.3, -1.1), (8.3, -0.7), (8.9, -0.6))
    volumes = []
    for edge in (after, ((8.9, -0.6),)):
        outline = ((6.5, -0.6), (6.9, -1.35), (8.9, -1.35), *edge)
        skeg = AppendageInput("skeg", outline, 0.05)
        part = hull_of(replace(demo_input, appendages=(skeg,)), 4000).appendages["skeg"]
        require_closed(part.surface, "the skeg")
        volumes.append(part.surface.volume)
    by_hand = 0.1 * 0.6 * (0.4 + 0.6) / 2.0
    assert volumes[1] - volumes[0] == pytest.approx(by_hand, rel=1e-6)
