"""Deckhouse: a box worked by hand, edges that meet, what follows the deck and the roof."""

from math import atan2, cos, pi, radians, sin, tan

import numpy as np
import pytest

from hullchange.geometry.outline import FlatOutline, lies_within
from hullchange.geometry.surface import box, difference, intersection
from hullchange.parts.deckhouse import CLEAR, deckhouse
from hullchange.parts.house_shape import end_heights, with_end_heights
from hullchange.parts.parameters import Deckhouse, Flats, SideWindows
from hullchange.parts.part import Site
from hullchange.parts.registry import KINDS

DEMO = KINDS["deckhouse"].example
BOX = Deckhouse(
    x_forward_m=3.0,
    x_aft_m=7.0,
    roof_half_breadth_forward_m=0.9,
    roof_half_breadth_aft_m=0.9,
    side_height_m=0.5,
    tumblehome_deg=0,
    front_rake_deg=0,
    roof_camber_m=0.1,
    roof_plate_mm=3,
    side_plate_mm=4,
    end_plate_mm=5,
)
DECK = 1.10


def changed(dimensions, **values):
    return dimensions.model_copy(update=values)


@pytest.fixture
def flush(host):
    """A level deck without camber or sheer."""
    return type(host)(sheer_sag=0.0, camber=0.0)


def plates_of(dimensions, host):
    return {plate.id: plate for plate in deckhouse(dimensions, Site(host)).plates}


def test_a_box_by_hand(flush):
    plates = plates_of(BOX, flush)
    radius = (0.9**2 + 0.1**2) / 0.2
    half = atan2(0.9, radius - 0.1)
    segment = radius**2 * (half - sin(half) * cos(half))
    assert set(plates) == {"side-starboard", "side-port", "front", "after-end", "roof"}
    assert plates["side-starboard"].area_mid == pytest.approx(4.0 * 0.5, abs=1e-12)
    # the arch is a spline through 13 points of a circle of 4.1 m: 1e-8 of its area
    assert plates["front"].area_mid == pytest.approx(1.8 * 0.5 + segment, rel=1e-7)
    assert plates["after-end"].area_mid == pytest.approx(1.8 * 0.5 + segment, rel=1e-7)
    assert plates["roof"].area_mid == pytest.approx(4.0 * 2 * radius * half, abs=1e-12)
    assert plates["roof"].thickness == 0.003
    assert plates["side-port"].thickness == 0.004
    assert plates["front"].thickness == 0.005


def test_its_closed_volume_by_hand(flush):
    (body,) = deckhouse(BOX, Site(flush)).bodies
    above = difference(body.surface, box(np.array([0, -5, -5]), np.array([10, 5, DECK])))
    radius = (0.9**2 + 0.1**2) / 0.2
    half = atan2(0.9, radius - 0.1)
    segment = radius**2 * (half - sin(half) * cos(half))
    chord = 1.0 - (2 * half / 12) ** 2 / 6 * radius**2 * half / segment  # twelve flats
    assert body.adds
    assert above.volume == pytest.approx(4.0 * (0.9 + segment * chord), rel=1e-4)
    assert body.surface.bounds[0, 2] < DECK - 0.05


def test_tumblehome_and_rake_by_hand(flush):
    lean, rake = radians(10.0), radians(30.0)
    plates = plates_of(changed(BOX, tumblehome_deg=10, front_rake_deg=30), flush)
    upper, lower = 4.0 - 0.5 * tan(rake), 4.0
    assert plates["side-starboard"].area_mid == pytest.approx(
        (upper + lower) / 2.0 * 0.5 / cos(lean), abs=1e-12
    )
    foot = plates["after-end"].map.to_boat(plates["after-end"].outer.polyline())
    assert foot[:, 1].max() == pytest.approx(0.9 + 0.5 * tan(lean), abs=1e-12)


def test_a_longer_house_is_heavier_by_its_length(flush):
    def middle(length):
        plates = plates_of(changed(BOX, x_aft_m=3.0 + length), flush)
        return plates["roof"].volume + 2.0 * plates["side-port"].volume

    assert middle(2.0) - middle(1.0) == pytest.approx(middle(3.0) - middle(2.0), abs=1e-12)


def test_roof_and_walls_share_their_edges(host):
    plates = plates_of(DEMO, host)

    def corners(name, tag):
        plate = plates[name]
        ends = [s for s in plate.outer.segments if s.tag == tag]
        return plate.map.to_boat(np.array([ends[0].start, ends[-1].end]))

    side, front, after = (corners(n, "roof") for n in ("side-starboard", "front", "after-end"))
    roof = corners("roof", "front"), corners("roof", "after-end")
    assert side == pytest.approx(np.array([roof[1][1], roof[0][0]]), abs=1e-9)
    assert front == pytest.approx(np.array([roof[0][0], roof[0][1]]), abs=1e-9)
    assert after == pytest.approx(np.array([roof[1][1], roof[1][0]]), abs=1e-9)


@pytest.mark.parametrize("name", ["side-starboard", "side-port", "front", "after-end"])
def test_lower_edges_follow_the_deck(host, name):
    plate = plates_of(DEMO, host)[name]
    for segment in plate.outer.tagged("deck"):
        foot = plate.map.to_boat(segment.spread(200))
        away = foot[:, 2] - host.deck_z(foot[:, 0], foot[:, 1])
        assert np.abs(away).max() < 2e-5  # the spline between points that lie on it


def test_height_camber_and_breadth_are_those_asked_for(host):
    part = deckhouse(DEMO, Site(host))
    side = next(plate for plate in part.plates if plate.id == "side-starboard")
    (edge,) = (s for s in side.outer.tagged("roof"))
    ends = side.map.to_boat(np.array([edge.end, edge.start]))
    x = (DEMO.x_forward_m + DEMO.x_aft_m) / 2.0
    at = ends[0] + (x - ends[0, 0]) / (ends[1, 0] - ends[0, 0]) * (ends[1] - ends[0])
    foot = at - DEMO.side_height_m * np.array([0.0, -tan(radians(13.0)), 1.0])
    assert foot[2] == pytest.approx(float(host.deck_z(foot[0], foot[1])), abs=1e-9)
    assert at[1] == pytest.approx((0.78 + 1.14) / 2.0)
    assert ends[1, 1] == pytest.approx(1.14)
    assert part.roof.origin == pytest.approx((x, 0.0, at[2] + DEMO.roof_camber_m))


def test_beams_lie_against_the_roof(host):
    part = deckhouse(DEMO, Site(host))
    under = part.roof.offset(-part.roof_thickness / 2.0)
    beams = [plate for plate in part.plates if plate.id.startswith("roof-beam")]
    assert len(beams) == 8
    for beam in beams:
        (top,) = beam.outer.tagged("roof")
        edge = beam.map.to_boat(np.array(top.points))
        assert under.to_boat(under.to_flat(edge)) == pytest.approx(edge, abs=1e-9)
        # its depth is square to the roof, which here slopes as the deck does
        assert beam.area_mid / top.length == pytest.approx(0.050, rel=0.03)


def test_stiffeners_stand_clear_of_the_windows(host):
    part = deckhouse(DEMO, Site(host))
    side = next(plate for plate in part.plates if plate.id == "side-starboard")
    boxes = [(ring.min(0), ring.max(0)) for ring in (h.polyline() for h in side.holes)]
    bars = [p for p in part.plates if p.id.startswith("side-stiffener-starboard")]
    assert len(bars) > 10
    for bar in bars:
        root = side.map.to_flat(bar.map.to_boat(bar.outer.polyline()))
        for low, high in boxes:
            beside = root[:, 0].max() < low[0] or root[:, 0].min() > high[0]
            over = root[:, 1].min() >= high[1] + CLEAR - 1e-9
            under = root[:, 1].max() <= low[1] - CLEAR + 1e-9
            assert beside or over or under
        inboard = (bar.map.to_boat(bar.outer.polyline()) - side.map.frame.origin) @ (
            side.map.frame.normal  # points inboard to starboard
        )
        assert (inboard.min(), inboard.max()) == pytest.approx((0.0015, 0.0415), abs=1e-9)


def test_stiffeners_end_at_the_raked_front(host):
    dimensions = changed(DEMO, side_windows=None, front_rake_deg=55)
    part = deckhouse(dimensions, Site(host))
    plates = {plate.id: plate for plate in part.plates}
    side = plates["side-starboard"]
    roof_corner = side.outer.tagged("roof")[0].end[0]
    tops = []
    for bar in (p for p in part.plates if p.id.startswith("side-stiffener-starboard")):
        root = side.map.to_flat(
            bar.map.to_boat(np.array([s.start for s in bar.outer.segments]))
        )
        shadow = FlatOutline.rectangle(root.min(0) + (-1e-3, 1e-3), root.max(0) + 1e-3)
        assert lies_within(side.outer, shadow)
        tops.append(root.max(0))
    under_beams = -CLEAR - DEMO.roof_beams.flat_mm[0] / 1e3
    for u, v in tops:
        assert (v == pytest.approx(under_beams)) is (u > roof_corner)
    assert tops[0][0] < roof_corner


def test_windows_are_evenly_spaced_at_their_height(host):
    side = plates_of(DEMO, host)["side-starboard"]
    assert len(side.holes) == 3
    middles = np.array([hole.centroid for hole in side.holes])
    assert np.ptp(np.diff(middles[:, 0])) < 1e-9
    for hole, middle in zip(side.holes, middles, strict=True):
        assert hole.area == pytest.approx(0.62 * 0.24 - (4 - pi) * 0.06**2, abs=1e-12)
        low = side.map.to_boat(np.array([[middle[0], hole.polyline()[:, 1].min()]]))
        assert low[0, 2] == pytest.approx(1.33, abs=1e-9)


def test_steel_outside_the_openings_stays(host):
    """A hole takes its own area away, and nothing else."""
    without = changed(DEMO, side_windows=None)
    with_, plain = plates_of(DEMO, host), plates_of(without, host)
    holes = sum(hole.area for hole in with_["side-port"].holes)
    gain = plain["side-port"].area_mid - with_["side-port"].area_mid
    assert gain == pytest.approx(holes, abs=1e-12)
    assert plain["roof"].key == with_["roof"].key


def test_a_low_sill_makes_a_notch_and_a_high_one_a_hole(host):
    door = DEMO.door
    notched = plates_of(DEMO, host)["after-end"]
    high = door.model_copy(update={"sill_z_m": 1.30})
    holed = plates_of(changed(DEMO, door=high), host)["after-end"]
    none = plates_of(changed(DEMO, door=None), host)["after-end"]
    assert (len(notched.holes), len(holed.holes), len(none.holes)) == (0, 1, 0)
    assert len(notched.outer.tagged("deck")) == 2
    ring = notched.map.to_boat(notched.outer.polyline())
    jamb = ring[np.abs(np.abs(ring[:, 1]) - 0.33) < 1e-9]
    assert jamb[:, 2].min() == pytest.approx(float(host.deck_z(7.0, 0.33)), abs=1e-9)
    cut = none.area_mid - notched.area_mid
    head = jamb[:, 2].max() + door.corner_radius_m
    arc = (4 - pi) / 2 * door.corner_radius_m**2
    inside = np.linspace(-0.33, 0.33, 101)
    below = np.trapezoid(head - host.deck_z(np.full(101, 7.0), inside), inside)
    assert cut == pytest.approx(below - arc, abs=1e-5)


def test_the_body_reaches_to_the_mid_surfaces(host):
    part = deckhouse(DEMO, Site(host))
    shell = np.concatenate([p.surface().bounds for p in part.plates if p.kind == "plate"])
    low, high = part.bodies[0].surface.bounds
    assert high == pytest.approx(shell.max(axis=0), abs=3e-3)
    assert low[:2] == pytest.approx(shell.min(axis=0)[:2], abs=3e-3)
    hull_side = box(np.array([-5, -5, -5]), np.array([15, 5, 0.9]))
    assert len(intersection(part.bodies[0].surface, hull_side).faces) == 0


def test_below_deck_the_body_stays_inside_the_hull(host):
    """Also where the side stands on the deck's very edge, above flaring topsides."""
    edge = changed(
        BOX, roof_half_breadth_forward_m=1.762, roof_half_breadth_aft_m=1.783, x_forward_m=4.0
    )
    for dimensions in (DEMO, edge):
        (body,) = deckhouse(dimensions, Site(host)).bodies
        for x, y, z in body.surface.vertices:
            if z < float(host.deck_z(x, y)) - 1e-6:
                side = host.section(float(x))
                assert abs(y) <= np.interp(z, *side[:, ::-1].T) + 1e-9


def test_the_side_view_shows_house_and_windows(host):
    profile, *panes = deckhouse(DEMO, Site(host)).side_view
    assert len(panes) == 3
    assert profile[:, 0].min() == pytest.approx(2.888, abs=2e-3)
    assert profile[:, 0].max() == pytest.approx(7.0)


def test_a_mast_may_stand_on_it(host):
    part = deckhouse(DEMO, Site(host))
    assert part.roof_thickness == 0.003
    assert any(plate.map is part.roof for plate in part.plates)


CASES = {
    "ends-the-wrong-way-round": {"x_aft_m": 2.5},
    "house-off-the-deck": {"x_aft_m": 12.0},
    "house-wider-than-deck": {"roof_half_breadth_aft_m": 1.9},
    "roof-too-round": {"roof_camber_m": 0.9},
    "roof-without-length": {"front_rake_deg": 75, "side_height_m": 1.6, "x_aft_m": 6.0},
}


@pytest.mark.parametrize("code", CASES)
def test_refusals(host, code, refusal):
    plain = changed(DEMO, side_windows=None, front_windows=None, door=None, **CASES[code])
    refused = refusal(lambda: deckhouse(plain, Site(host)))
    assert refused.code == code
    assert refused.place in Deckhouse.model_fields


def test_a_house_that_the_sheer_overtops(host, refusal):
    plain = changed(BOX, side_height_m=0.06, tumblehome_deg=5)
    refused = refusal(lambda: deckhouse(plain, Site(type(host)(sheer_sag=1.0))))
    assert (refused.code, refused.place) == ("deck-above-roof", "side_height_m")


def test_no_beams_where_the_roof_is_too_narrow(flush):
    stout = Flats(spacing_m=0.5, flat_mm=(100, 10))
    narrow = changed(
        BOX,
        roof_half_breadth_forward_m=0.1,
        roof_half_breadth_aft_m=0.1,
        roof_camber_m=0.01,
        roof_beams=stout,
        side_stiffeners=stout,
    )
    assert not any("roof-beam" in name for name in plates_of(narrow, flush))


def test_windows_turn_a_stiffener_into_two(flush):
    bars = Flats(spacing_m=0.5, flat_mm=(40, 4))
    window = SideWindows(count=1, size_m=(1.1, 0.2), lower_edge_z_m=DECK + 0.15)
    plain = plates_of(changed(BOX, side_stiffeners=bars), flush)
    with_ = plates_of(changed(BOX, side_stiffeners=bars, side_windows=window), flush)
    assert sum("stiffener-starboard" in name for name in plain) == 7
    assert sum("stiffener-starboard" in name for name in with_) == 7 + 3


def two_heights(dimensions, forward, aft):
    heights = {"side_height_forward_m": forward, "side_height_aft_m": aft}
    return changed(dimensions, side_height_m=None, **heights)


def test_a_house_of_two_heights_by_hand(flush):
    plates = plates_of(two_heights(BOX, 0.4, 0.7), flush)
    assert plates["side-starboard"].area_mid == pytest.approx(4.0 * 0.55, abs=1e-12)
    ends = [plates[name].surface().bounds[1, 2] for name in ("front", "after-end")]
    assert ends[1] - ends[0] == pytest.approx(0.3, abs=1e-4)
    assert ends[0] == pytest.approx(DECK + 0.4 + BOX.roof_camber_m, abs=1e-4)


@pytest.mark.parametrize("lean", [-10.0, 0.0, 13.0, 25.0])
def test_the_same_house_by_its_heights_at_both_ends(host, demo, lean):
    for boat in (host, demo):
        one = changed(DEMO, tumblehome_deg=lean, side_windows=None, door=None)
        both = two_heights(one, *end_heights(one, boat))
        for mine, theirs in zip(
            deckhouse(one, Site(boat)).plates, deckhouse(both, Site(boat)).plates, strict=True
        ):
            assert mine.id == theirs.id
            assert mine.surface().vertices == pytest.approx(theirs.surface().vertices, abs=1e-9)
        rounded = with_end_heights(one, boat)
        assert rounded.side_height_m is None
        assert rounded.end_heights_m == pytest.approx(both.end_heights_m, abs=5.1e-5)


def test_heights_at_the_ends_are_those_asked_for(host):
    asked = two_heights(changed(DEMO, side_windows=None, door=None), 0.5, 0.75)
    assert end_heights(asked, host) == pytest.approx((0.5, 0.75), abs=1e-12)
    shape = deckhouse(asked, Site(host))
    (edge,) = next(p for p in shape.plates if p.id == "side-starboard").outer.tagged("roof")
    side = next(p for p in shape.plates if p.id == "side-starboard").map
    after = side.to_boat(np.array([edge.start]))[0]
    lean = tan(radians(DEMO.tumblehome_deg))
    deck = float(host.deck_z(after[0], after[1] + 0.75 * lean))
    assert after[2] - deck == pytest.approx(0.75, abs=1e-9)


def test_the_raised_end_is_refused_by_name_where_the_deck_comes_through(host, refusal):
    low = two_heights(changed(BOX, roof_camber_m=0.005), 0.05, 0.3)
    crowned = type(host)(camber=0.25)
    error = refusal(lambda: deckhouse(low, Site(crowned)))
    assert (error.code, error.place) == ("deck-above-roof", "side_height_forward_m")
