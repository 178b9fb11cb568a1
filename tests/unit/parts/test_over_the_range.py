"""Every part over its whole range of dimensions: closed, symmetrical, equal by every road."""

import numpy as np
import pytest
from hypothesis import HealthCheck, Phase, example, given, reject, settings
from hypothesis import strategies as st

from hullchange.errors import ModelError
from hullchange.geometry.surface import require_closed
from hullchange.materials import STEEL_DENSITY
from hullchange.parts.bulwark_parameters import Bulwark, FreeingPorts
from hullchange.parts.parameters import (
    BowPlatform,
    Cockpit,
    Deckhouse,
    Door,
    Drains,
    Flats,
    HullPlate,
    MastSupport,
    Plating,
    SideWindows,
    TransomExtension,
    Windows,
)
from hullchange.parts.part import Site
from hullchange.parts.registry import KINDS
from hullchange.parts.weigh import weigh

MIRRORED = np.array([1.0, -1.0, 1.0])


def number(low, high):
    return st.floats(low, high).map(lambda value: round(value, 3))


def optional(what):
    return st.none() | what


SCALLOPS = number(0.0, 100.0)
FLATS = st.builds(
    Flats,
    spacing_m=number(0.2, 1.0),
    flat_mm=st.tuples(number(20.0, 100.0), number(3.0, 12.0)),
)
HEIGHTS = st.one_of(
    st.fixed_dictionaries({"side_height_m": number(0.25, 1.0)}),
    st.fixed_dictionaries(
        {"side_height_forward_m": number(0.25, 1.0), "side_height_aft_m": number(0.25, 1.0)}
    ),
)
HOUSES = st.builds(
    lambda heights, **others: Deckhouse(**heights, **others),
    HEIGHTS,
    x_forward_m=number(1.5, 4.0),
    x_aft_m=number(5.0, 8.0),
    roof_half_breadth_forward_m=number(0.4, 1.0),
    roof_half_breadth_aft_m=number(0.4, 1.15),
    tumblehome_deg=number(-10.0, 25.0),
    front_rake_deg=number(-10.0, 55.0),
    roof_camber_m=number(0.01, 0.30),
    roof_plate_mm=number(1.0, 8.0),
    side_plate_mm=number(1.0, 8.0),
    end_plate_mm=number(1.0, 8.0),
    roof_beams=optional(FLATS),
    side_stiffeners=optional(FLATS),
    side_windows=optional(
        st.builds(
            SideWindows,
            count=st.integers(1, 4),
            size_m=st.tuples(number(0.2, 0.5), number(0.12, 0.2)),
            corner_radius_m=number(0.0, 0.06),
            lower_edge_z_m=number(1.28, 1.35),
        )
    ),
    front_windows=optional(
        st.builds(
            Windows,
            count=st.integers(1, 3),
            size_m=st.tuples(number(0.15, 0.3), number(0.12, 0.2)),
            corner_radius_m=number(0.0, 0.06),
        )
    ),
    door=optional(st.builds(Door, width_m=number(0.3, 0.7), sill_z_m=number(1.05, 1.3))),
)
COCKPITS = st.builds(
    Cockpit,
    x_forward_m=number(6.8, 7.2),
    deck_z_m=number(1.05, 1.2),
    coaming_top_z_m=number(1.2, 1.5),
    seat_well_m=st.tuples(number(1.9, 2.5), number(0.9, 1.7), number(0.2, 0.4)),
    foot_well_m=st.tuples(number(1.0, 1.5), number(0.4, 0.9), number(0.2, 0.45)),
    foot_well_forward_m=number(7.2, 7.4),
    plate_mm=number(2.0, 8.0),
    forward_coaming=st.booleans(),
    stiffeners=optional(FLATS),
    drains=optional(st.builds(Drains, count=st.integers(1, 4), diameter_mm=number(30.0, 80.0))),
)
EXTENSIONS = st.builds(
    TransomExtension,
    length_m=number(0.1, 1.5),
    bottom_forward_z_m=number(0.08, 0.15),
    bottom_aft_z_m=number(0.08, 0.45),
    platform_z_m=number(0.5, 1.0),
    plate_mm=number(2.0, 8.0),
    scallop_mm=SCALLOPS,
)
PLATFORMS = st.builds(
    BowPlatform,
    length_m=number(0.7, 2.0),
    width_m=number(0.3, 1.0),
    top_plate_mm=number(3.0, 10.0),
    cheek_plate_mm=number(4.0, 15.0),
    on_deck_m=number(0.1, 0.34),
    corner_radius_m=number(0.0, 0.08),
    cheek_height_m=number(0.05, 0.25),
    bracket_m=st.tuples(number(0.1, 0.35), number(0.1, 0.4)),
    roller_slot_mm=optional(st.tuples(number(40.0, 120.0), number(150.0, 600.0))),
    scallop_mm=SCALLOPS,
)
SUPPORTS = st.builds(
    MastSupport,
    stand=st.just("house"),
    x_m=number(3.6, 6.7),
    pad_mm=st.tuples(number(150.0, 500.0), number(150.0, 500.0), number(5.0, 25.0)),
    post_mm=st.tuples(number(40.0, 200.0), number(2.0, 15.0)),
    floor_mm=st.tuples(number(100.0, 800.0), number(250.0, 600.0), number(5.0, 20.0)),
    scallop_mm=SCALLOPS,
)
CORNERS = ((6.0, 0.2, 0.0), (7.0, 0.4, 0.0), (7.0, 0.4, 0.5), (6.4, 0.28, 0.7), (6.0, 0.2, 0.5))
PLATES = st.builds(
    Plating,
    corners_m=st.just(CORNERS),
    thickness_mm=number(1.0, 20.0),
    mirrored=st.booleans(),
    scallop_corners=st.sets(st.integers(1, 5)).map(tuple),
    scallop_mm=SCALLOPS,
)
STRAKES = st.builds(
    HullPlate,
    x_forward_m=number(2.0, 5.0),
    x_aft_m=number(5.2, 8.0),
    lower_line=st.just("lower-chine"),
    upper_line=st.just("upper-chine"),
    plate_mm=number(2.0, 10.0),
    old_plate_mm=number(2.0, 10.0),
)
BULWARKS = st.builds(
    Bulwark,
    x_forward_m=number(0.5, 3.0),
    x_aft_m=number(4.0, 9.0),
    height_forward_m=number(0.1, 0.6),
    height_aft_m=number(0.1, 0.6),
    flare_deg=number(-10.0, 25.0),
    plate_mm=number(2.0, 8.0),
    cap_rail_mm=optional(st.tuples(number(40.0, 120.0), number(4.0, 12.0))),
    freeing_ports=optional(
        st.builds(
            FreeingPorts,
            count=st.integers(1, 4),
            size_m=st.tuples(number(0.1, 0.5), number(0.04, 0.1)),
            corner_radius_m=number(0.0, 0.02),
        )
    ),
)
EXTENSION = TransomExtension(
    length_m=0.62,
    bottom_forward_z_m=0.10,
    bottom_aft_z_m=0.20,
    platform_z_m=0.75,
    plate_mm=4,
)
DIMENSIONS = {
    "deckhouse": HOUSES,
    "cockpit": COCKPITS,
    "transom_extension": EXTENSIONS,
    "bow_platform": PLATFORMS,
    "mast_support": SUPPORTS,
    "hull_plate": STRAKES,
    "bulwark": BULWARKS,
    "plating": PLATES,
}
QUICK = settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow])
SLOW = settings(
    max_examples=6,
    phases=[Phase.explicit, Phase.generate],  # a failing house takes minutes to shrink
    suppress_health_check=[HealthCheck.too_slow],
)


def built(dimensions, host):
    """The part, or another try where these dimensions are refused."""
    kind = KINDS[dimensions.kind]
    stand = None
    if dimensions.stand:
        stand = KINDS["deckhouse"].build(KINDS["deckhouse"].example, Site(host))
    try:
        return kind.build(dimensions, Site(host, stand))
    except ModelError as error:
        refused = error
    assert refused.place
    assert refused.sentence.endswith(".")
    return reject()


@pytest.mark.parametrize("kind", DIMENSIONS)
def test_mesh_and_closed_form(kind, host):
    @QUICK
    @given(DIMENSIONS[kind])
    def check(dimensions):
        part = built(dimensions, host)
        assert len({plate.id for plate in part.plates}) == len(part.plates)
        for plate in part.plates:
            require_closed(plate.surface(), plate.id)
        for body in part.bodies:
            require_closed(body.surface, kind)
        mesh = weigh(part, STEEL_DENSITY)
        assert mesh.mass == pytest.approx(
            sum(plate.mass(STEEL_DENSITY) for plate in part.plates), rel=3e-4
        )
        if kind != "plating":
            # the triangles of a roof are no mirror images: its chords lean by some micrometres
            assert mesh.centroid[1] == pytest.approx(0.0, abs=1e-5)

    check()


@pytest.mark.parametrize("kind", DIMENSIONS)
def test_twins_are_mirror_images(kind, host):
    @QUICK
    @given(DIMENSIONS[kind])
    def check(dimensions):
        plates = {plate.id: plate for plate in built(dimensions, host).plates}
        for twin in plates.values():
            if twin.twin_of:
                one, other = plates[twin.twin_of].surface(), twin.surface()
                assert np.array_equal(other.vertices, one.vertices * MIRRORED)
                assert np.array_equal(other.faces, one.faces[:, ::-1])

    check()


@pytest.mark.cad
@pytest.mark.slow
@pytest.mark.parametrize("kind", DIMENSIONS)
def test_the_record_and_the_mesh(kind, host):
    """CAD solid and plate mesh: within 0.1 % of mass and 1 mm of centroid."""
    from hullchange.cad import solids

    @SLOW
    @example(EXTENSION if kind == "transom_extension" else KINDS[kind].example)
    @given(DIMENSIONS[kind])
    def check(dimensions):
        part = built(dimensions, host)
        record = solids.record_of(part.plates)
        mass = sum(weight.mass for _, weight in record)
        at = sum(weight.mass * np.array(weight.centroid) for _, weight in record) / mass
        mesh = weigh(part, STEEL_DENSITY)
        assert mesh.mass == pytest.approx(mass, rel=1e-3)
        assert np.linalg.norm(at - mesh.centroid) < 1e-3
        for (name, solid), plate in zip(record, part.plates, strict=True):
            assert name == plate.id
            assert solid.mass == pytest.approx(plate.mass(STEEL_DENSITY), rel=5e-4)

    check()
