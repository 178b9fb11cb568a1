"""Bulwarks: straight, round and flared by hand; ports and rail; on hulls of any shape."""

from dataclasses import dataclass
from math import cos, pi, radians, tan
from typing import Any

import numpy as np
import pytest
from hulls import random_hull

from hullchange.errors import ModelError
from hullchange.geometry.outline import lies_within
from hullchange.geometry.surface import require_closed
from hullchange.parts.bulwark_parameters import Bulwark, FreeingPorts
from hullchange.parts.on_hull import with_fit_findings
from hullchange.parts.part import Site
from hullchange.parts.registry import KINDS

BUILD = KINDS["bulwark"].build
PLAIN = Bulwark(
    x_forward_m=1.0, x_aft_m=5.0, height_forward_m=0.3, height_aft_m=0.2, plate_mm=4
)
PORTS = FreeingPorts(count=3, size_m=(0.3, 0.08), above_deck_m=0.02, corner_radius_m=0.02)


@dataclass(frozen=True)
class Edge:
    """A boat that is the edge of her deck."""

    half: Any
    stem_x: float = 0.0
    transom_x: float = 10.0

    def sheer(self, x):
        x = np.asarray(x, float)
        return np.stack([x, self.half(x), np.ones_like(x)], axis=-1)


STRAIGHT = Edge(lambda x: np.full_like(x, 2.0))


def built(host=STRAIGHT, **values):
    return BUILD(PLAIN.model_copy(update=values), Site(host))


def plates(part):
    return {plate.id: plate for plate in part.plates}


@pytest.mark.parametrize("flare", [0.0, 12.0, -10.0])
def test_along_a_straight_edge_it_is_a_flat_plate(flare):
    part = built(flare_deg=flare)
    assert list(plates(part)) == ["plate-starboard", "plate-port"]
    plate = part.plates[0]
    assert plate.flat_area == pytest.approx(4.0 * 0.25 / cos(radians(flare)), rel=1e-6)
    require_closed(plate.surface(), "the plate")
    top = plate.surface().bounds[1]
    assert top[2] == pytest.approx(1.3, abs=2e-3)
    points = plate.map.to_boat(plate.outer.polyline())
    lean = tan(radians(flare))
    assert points[:, 1] == pytest.approx(2.0 + (points[:, 2] - 1.0) * lean, abs=1e-6)
    assert part.plates[1].surface().bounds[1, 1] < 0.0
    assert part.bodies == ()


def test_along_a_round_edge_it_is_a_piece_of_a_cylinder():
    radius = 6.0
    host = Edge(lambda x: np.sqrt(radius**2 - (x - 3.0) ** 2) - 4.0)
    part = built(host, height_forward_m=0.3, height_aft_m=0.3)
    arc = 2.0 * radius * np.arcsin(2.0 / radius)
    assert part.plates[0].flat_area == pytest.approx(arc * 0.3, rel=1e-4)
    assert part.plates[0].map.ruled.strain < 1e-6


def test_flared_along_a_round_edge_it_is_a_piece_of_a_cone():
    radius, flare = 6.0, 15.0
    host = Edge(lambda x: np.sqrt(radius**2 - (x - 3.0) ** 2) - 4.0)
    part = built(host, height_forward_m=0.3, height_aft_m=0.3, flare_deg=flare)
    angle = 2.0 * np.arcsin(2.0 / radius)
    slant, out = 0.3 / cos(radians(flare)), 0.3 * tan(radians(flare))
    frustum = angle * (radius + out / 2.0) * slant
    assert part.plates[0].flat_area == pytest.approx(frustum, rel=2e-4)
    assert part.findings == ()


def test_ports_are_holes_of_their_size_at_their_height():
    whole, part = built(), built(freeing_ports=PORTS)
    plate = part.plates[0]
    require_closed(plate.surface(), "the plate")
    area = 0.3 * 0.08 - (4.0 - pi) * 0.02**2
    assert whole.plates[0].flat_area - plate.flat_area == pytest.approx(3 * area, abs=1e-9)
    assert plate.surface().volume == pytest.approx(plate.flat_area * 0.004, rel=1e-4)
    middles = []
    for hole in plate.holes:
        at = plate.map.to_boat(hole.polyline())
        assert at[:, 2].min() == pytest.approx(1.02, abs=1e-6)
        assert at[:, 2].max() == pytest.approx(1.10, abs=1e-6)
        assert lies_within(plate.outer, hole)
        middles.append((at[:, 0].min() + at[:, 0].max()) / 2.0)
    assert middles == pytest.approx([1.0 + 4.0 * k / 6.0 for k in (1, 3, 5)], abs=1e-3)


def test_a_cap_rail_lies_on_its_top():
    part = built(cap_rail_mm=(60.0, 8.0))
    rail = plates(part)["cap-rail-starboard"]
    assert rail.flat_area == pytest.approx(0.06 * np.hypot(4.0, 0.1), rel=1e-5)
    assert rail.thickness == 0.008
    low, high = rail.surface().bounds
    assert (low[1], high[1]) == pytest.approx((1.97, 2.03), abs=1e-6)
    assert high[2] == pytest.approx(1.308, abs=1e-3)
    assert set(plates(part)) == {
        *("plate-starboard", "plate-port", "cap-rail-starboard", "cap-rail-port")
    }


@pytest.mark.parametrize(
    ("values", "code", "place"),
    [
        ({"x_aft_m": 1.0}, "ends-the-wrong-way-round", "x_aft_m"),
        ({"x_forward_m": -0.5}, "bulwark-off-the-deck", "x_forward_m"),
        ({"x_aft_m": 10.5}, "bulwark-off-the-deck", "x_aft_m"),
        (
            {"freeing_ports": PORTS.model_copy(update={"count": 14})},
            "ports-too-wide",
            "freeing_ports.size_m",
        ),
        (
            {"freeing_ports": PORTS.model_copy(update={"size_m": (0.3, 0.25)})},
            "port-outside-bulwark",
            "freeing_ports.size_m",
        ),
        (
            {"freeing_ports": PORTS.model_copy(update={"corner_radius_m": 0.05})},
            "corner-radius-too-large",
            "freeing_ports.corner_radius_m",
        ),
    ],
)
def test_refused_in_words(values, code, place, refusal):
    error = refusal(lambda: built(**values))
    assert (error.code, error.place) == (code, place)


def test_on_hulls_of_any_shape_it_is_closed_and_lies_on_the_deck_edge(demo):
    made = 0
    for seed in range(12):
        host = demo if seed == 0 else random_hull(4000 + seed)
        draw = np.random.default_rng(seed)
        length = host.transom_x - host.stem_x
        fore = host.stem_x + draw.uniform(0.03, 0.3) * length
        given = Bulwark(
            x_forward_m=round(fore, 2),
            x_aft_m=round(fore + draw.uniform(0.2, 0.6) * length, 2),
            height_forward_m=round(draw.uniform(0.15, 0.5), 2),
            height_aft_m=round(draw.uniform(0.15, 0.5), 2),
            flare_deg=float(draw.integers(-5, 20)),
            plate_mm=4.0,
            cap_rail_mm=(60.0, 8.0) if seed % 2 else None,
            freeing_ports=PORTS if seed % 3 else None,
        )
        try:
            part = with_fit_findings(host, BUILD(given, Site(host)))
        except ModelError:
            continue
        made += 1
        assert "edge-apart" not in [finding.code for finding in part.findings]
        for plate in part.plates:
            require_closed(plate.surface(), plate.id)
            assert plate.surface().volume == pytest.approx(plate.volume, rel=1e-3)
    assert made >= 10
