"""Transom extension: a prism by hand, the transom's own outline continued, refusals."""

import numpy as np
import pytest

from hullchange.geometry.surface import box, intersection
from hullchange.parts.parameters import TransomExtension
from hullchange.parts.part import Site
from hullchange.parts.transom_extension import transom_extension


@pytest.fixture
def low(host):
    """Height of the transom's own bottom."""
    return float(host.transom_outline()[0, 1])


def extension(low, **values):
    given = {
        "length_m": 0.6,
        "bottom_forward_z_m": low,
        "bottom_aft_z_m": low,
        "platform_z_m": low + 0.6,
        "plate_mm": 4.0,
    }
    return TransomExtension(**{**given, **values})


def below(outline, level):
    """Area of a half outline (y, z) below a level, doubled, and its half-breadth there."""
    z = np.linspace(outline[0, 1], level, 200_001)
    y = np.interp(z, outline[:, 1], outline[:, 0])
    return 2.0 * float(np.trapezoid(y, z)), float(y[-1])


def test_a_prism_by_hand(host, low):
    part = transom_extension(extension(low), Site(host))
    section, breadth = below(host.transom_outline(), low + 0.6)
    areas = {plate.id: plate.area_mid for plate in part.plates}
    assert areas["end-plate"] == pytest.approx(section, rel=1e-6)
    assert areas["platform"] == pytest.approx(2.0 * breadth * 0.6)
    first, second = host.transom_outline()[:2]
    assert areas["skin-starboard-1"] == pytest.approx(0.6 * np.linalg.norm(second - first))
    assert areas["skin-port-1"] == areas["skin-starboard-1"]
    knee = np.interp(breadth / 2, *host.transom_outline().T)
    assert areas["knee-port"] == pytest.approx(
        0.5 * 0.6 * (low + 0.6 - knee) - np.pi * 0.03**2 / 4.0
    )


def test_the_skin_closes_between_the_ends(host, low):
    """Girth of the outline below the platform, times the length."""
    part = transom_extension(extension(low), Site(host))
    outline = host.transom_outline()
    _, breadth = below(outline, low + 0.6)
    girth = np.concatenate([outline[outline[:, 1] < low + 0.6], [[breadth, low + 0.6]]])
    length = np.linalg.norm(np.diff(girth, axis=0), axis=1).sum()
    skins = sum(p.area_mid for p in part.plates if p.id.startswith("skin"))
    assert skins == pytest.approx(2.0 * 0.6 * length)


@pytest.mark.parametrize("rise", [0.0, 0.1, -0.05])
def test_its_closed_volume(host, low, rise):
    given = extension(low, bottom_aft_z_m=low + rise)
    (body,) = transom_extension(given, Site(host)).bodies
    assert body.adds
    behind = box(np.array([host.transom_x, -5.0, -5.0]), np.array([20.0, 5.0, 5.0]))
    sections = [
        below(host.transom_outline(), low + 0.6 - share * rise)[0]
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
    assert ends[0, 2] == pytest.approx(low + 0.25)
    outline = host.transom_outline()
    for x, level in ((host.transom_x, 0.6), (host.transom_x + 1.0, 0.35)):
        at = plates["platform"].surface().vertices
        breadth = at[np.abs(at[:, 0] - x) < 1e-6][:, 1].max()
        assert breadth == pytest.approx(np.interp(low + level, *outline[:, ::-1].T))
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
            return super().transom_outline()[[0, 2, 1, 3]]

    refused = refusal(lambda: transom_extension(extension(low), Site(Drooping())))
    assert refused.code == "transom-outline-turns-down"
