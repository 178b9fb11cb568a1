"""Transom extension: a prism by hand, the transom's own outline continued, refusals."""

import numpy as np
import pytest
import shapely
from hulls import random_hull

from hullchange.geometry.surface import box, intersection
from hullchange.parts.parameters import TransomExtension
from hullchange.parts.part import Site
from hullchange.parts.transom_extension import transom_extension


@pytest.fixture
def low(host):
    """Height of the transom's own bottom."""
    return float(host.transom_outline()[0, 2])


def extension(low, **values):
    given = {
        "length_m": 0.6,
        "bottom_forward_z_m": low,
        "bottom_aft_z_m": low,
        "platform_z_m": low + 0.6,
        "plate_mm": 4.0,
    }
    return TransomExtension(**{**given, **values})


def outline_of(host):
    """The transom's half outline (y, z)."""
    return host.transom_outline()[:, 1:]


def below(outline, level):
    """Area of a half outline (y, z) below a level, doubled, and its half-breadth there."""
    z = np.linspace(outline[0, 1], level, 200_001)
    y = np.interp(z, outline[:, 1], outline[:, 0])
    return 2.0 * float(np.trapezoid(y, z)), float(y[-1])


def middle(outline, level, thick):
    """The section of a skin whose outside is the outline, by its middle, below a level."""
    port = outline[:0:-1] * np.array([-1.0, 1.0])
    whole = shapely.Polygon(np.concatenate([port, outline]))
    inner = whole.buffer(-thick / 2.0, join_style="mitre")
    return inner.intersection(shapely.box(-9.0, -9.0, 9.0, level))


def test_a_prism_by_hand(host, low):
    part = transom_extension(extension(low), Site(host))
    section = middle(outline_of(host), low + 0.6, 0.004)
    left, _, right, _ = section.bounds
    areas = {plate.id: plate.area_mid for plate in part.plates}
    assert areas["end-plate"] == pytest.approx(section.area, rel=1e-6)
    assert areas["platform"] == pytest.approx((right - left) * 0.6)
    assert areas["skin-port-1"] == areas["skin-starboard-1"]
    foot = section.intersection(shapely.LineString([(right / 2, -9.0), (right / 2, 9.0)]))
    knee = low + 0.6 - foot.bounds[1]
    assert areas["knee-port"] == pytest.approx(0.5 * 0.6 * knee - np.pi * 0.03**2 / 4.0)


def test_the_skin_closes_between_the_ends(host, low):
    """Girth of its middle below the platform, times the length."""
    part = transom_extension(extension(low), Site(host))
    section = middle(outline_of(host), low + 0.6, 0.004)
    left, _, right, _ = section.bounds
    skins = sum(p.area_mid for p in part.plates if p.id.startswith("skin"))
    assert skins == pytest.approx(0.6 * (section.length - (right - left)), rel=1e-6)


@pytest.mark.parametrize("mm", [2.0, 4.0, 12.0])
def test_its_outside_goes_on_with_the_hulls(host, low, mm):
    """No corner of the skin stands proud of the measured lines, and its faces lie on them."""
    part = transom_extension(extension(low, plate_mm=mm), Site(host))
    outline = outline_of(host)
    whole = shapely.Polygon(np.concatenate([outline, outline[:0:-1] * [-1.0, 1.0]]))
    for plate in part.plates:
        if plate.id.startswith("skin-starboard"):
            at = plate.surface().vertices[:, 1:]
            out = shapely.distance(shapely.points(at), whole.boundary)
            inside = shapely.contains(whole.buffer(1e-9), shapely.points(at))
            # at the centreline and the platform its edges are cut square
            assert out[~inside].max(initial=0.0) < mm * 1e-3 * 0.25
            assert np.sort(out)[: len(out) // 2].max() < mm * 1e-3 * 0.25


def test_a_platform_level_with_a_chine(host, low):
    """The lines pass through the platform's height at the transom, at the end or all along."""
    lines = outline_of(host)[1:-1, 1]
    for line in lines:
        for rise in (0.0, 0.07, -0.07):
            for level in {line, line + rise}:
                given = extension(
                    low, bottom_aft_z_m=low + rise, platform_z_m=float(level), length_m=1.0
                )
                part = transom_extension(given, Site(host))
                assert {p.id for p in part.plates} >= {"platform", "end-plate", "knee-port"}
                assert min(p.area_mid for p in part.plates) > 0.0


def test_on_a_raked_transom_every_facet_begins_on_it():
    for seed in (0, 5, 9):  # raked aft, forward, and by over half a metre
        hull = random_hull(seed)
        ends = hull.transom_outline()
        bottom, top = float(ends[0, 2]), float(ends[-1, 2])
        given = extension(
            bottom, bottom_aft_z_m=bottom + 0.1, platform_z_m=bottom + 0.7 * (top - bottom)
        )
        plates = {p.id: p for p in transom_extension(given, Site(hull)).plates}
        for name, plate in plates.items():
            if name == "end-plate":
                continue
            at = plate.map.to_boat(plate.outer.polyline())
            behind = at[:, 0] - np.interp(at[:, 2], ends[:, 2], ends[:, 0])
            assert behind.min() == pytest.approx(0.0, abs=2e-3), (seed, name)


@pytest.mark.parametrize("rise", [0.0, 0.1, -0.05])
def test_its_closed_volume(host, low, rise):
    given = extension(low, bottom_aft_z_m=low + rise)
    (body,) = transom_extension(given, Site(host)).bodies
    assert body.adds
    behind = box(np.array([host.transom_x, -5.0, -5.0]), np.array([20.0, 5.0, 5.0]))
    sections = [
        below(outline_of(host), low + 0.6 - share * rise)[0]
        for share in np.linspace(0.0, 1.0, 21)
    ]
    exact = 0.6 * np.trapezoid(sections, dx=1 / 20)
    assert intersection(body.surface, behind).volume == pytest.approx(exact, rel=1e-4)


def test_it_enters_the_hull_drawn_in(host, low):
    (body,) = transom_extension(extension(low), Site(host)).bodies
    inside = body.surface.vertices[body.surface.vertices[:, 0] < host.transom_x - 1e-9]
    assert len(inside)
    for x, y, z in inside:
        assert abs(y) < np.interp(z, *host.section(x)[:, ::-1].T) + 1e-9


def test_a_rising_bottom_keeps_every_facet_flat_and_the_platform_level(host, low):
    given = extension(low, bottom_aft_z_m=low + 0.25, length_m=1.0)
    plates = {p.id: p for p in transom_extension(given, Site(host)).plates}
    platform = plates["platform"].surface().bounds
    assert platform[:, 2] == pytest.approx([low + 0.598, low + 0.602])
    ends = plates["end-plate"].surface().bounds
    # by the middle of the skin: half the plate inside the lines, and a little more on a slope
    assert 0.002 < ends[0, 2] - (low + 0.25) < 0.003
    outline = outline_of(host)
    for x, level in ((host.transom_x, 0.6), (host.transom_x + 1.0, 0.35)):
        at = plates["platform"].surface().vertices
        breadth = at[np.abs(at[:, 0] - x) < 1e-6][:, 1].max()
        assert 0.002 < np.interp(low + level, *outline[:, ::-1].T) - breadth < 0.004
    # a line of the outline crosses the platform on its way up: the edge bends there
    assert len(plates["platform"].outer.segments) == 6
    assert all(np.isfinite(plate.area_mid) for plate in plates.values())


def test_a_higher_start_moves_the_outline_up(host, low):
    own = transom_extension(extension(low), Site(host))
    raised = transom_extension(
        extension(low, bottom_forward_z_m=low + 0.1, bottom_aft_z_m=low + 0.1,
                  platform_z_m=low + 0.7), Site(host)
    )  # fmt: skip
    for one, other in zip(own.plates, raised.plates, strict=True):
        assert other.area_mid == pytest.approx(one.area_mid)


@pytest.mark.parametrize(
    ("above", "code", "place"),
    [
        ({"bottom_forward_z_m": -0.10}, "extension-below-transom", "bottom_forward_z_m"),
        ({"platform_z_m": 0.01}, "platform-below-bottom", "platform_z_m"),
        ({"bottom_aft_z_m": 0.59}, "platform-below-bottom", "platform_z_m"),
        ({"platform_z_m": 2.5}, "platform-above-sheer", "platform_z_m"),
    ],
)
def test_refusals(host, low, refusal, above, code, place):
    values = {key: low + value for key, value in above.items()}
    refused = refusal(lambda: transom_extension(extension(low, **values), Site(host)))
    assert (refused.code, refused.place) == (code, place)


def test_an_outline_that_turns_down_is_refused(host, low, refusal):
    class Drooping(type(host)):
        def transom_outline(self):
            outline = super().transom_outline()
            return np.column_stack([outline[:, 0], outline[[0, 2, 1, 3], 1:]])

    refused = refusal(lambda: transom_extension(extension(low), Site(Drooping())))
    assert refused.code == "transom-outline-turns-down"
