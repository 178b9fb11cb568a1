"""A part fitted to the opening as read: exact readings come back, slips are reported."""

from math import hypot, sqrt

import numpy as np
import pytest
from refits import SALTMARROW, read_document

from hullchange.boat.hull import hull_from
from hullchange.boat.measured_opening import SPANS, corners_of, opening_fit
from hullchange.document.reading import document_of
from hullchange.parts.opening_parameters import Opening
from hullchange.parts.registry import KINDS

HOUSE = KINDS["deckhouse"].example
COCKPIT = KINDS["cockpit"].example


@pytest.fixture(scope="module")
def hull():
    return hull_from(document_of(read_document(SALTMARROW).plain, SALTMARROW.parent))


def readings(corners, **more):
    """What a tape would read between corners."""
    spans = {k: float(np.linalg.norm(corners[i] - corners[j])) for k, (i, j) in SPANS.items()}
    return Opening(**(spans | more))


def with_opening(given, opening):
    return given.model_copy(update={"opening": opening})


@pytest.mark.parametrize(
    ("given", "true"),
    [
        (
            HOUSE,
            {
                "x_aft_m": 7.013,
                "roof_half_breadth_forward_m": 0.771,
                "roof_half_breadth_aft_m": 1.152,
            },
        ),
        (COCKPIT, {"seat_well_m": (2.412, 1.588, 0.33)}),
    ],
)
def test_dimensions_come_back_from_exact_readings(hull, given, true):
    corners = corners_of(given.model_copy(update=true), hull)
    fit = opening_fit(with_opening(given, readings(corners)), hull)
    assert fit.values.keys() == true.keys()
    for key, value in true.items():
        assert fit.values[key] == pytest.approx(value, abs=1e-4)
    assert fit.slip == pytest.approx(0.0, abs=1e-4)
    assert max(abs(row.read - row.fitted) for row in fit.spans) < 2e-4
    assert max(abs(row.read - row.drawn) for row in fit.spans) > 8e-3


def test_a_slip_of_the_tape_shows_whole_at_a_diagonal(hull):
    corners = corners_of(COCKPIT, hull)
    diagonal = float(np.linalg.norm(corners[3] - corners[1]))
    slipped = readings(corners, diagonal_forward_port_m=diagonal + 0.010)
    assert opening_fit(with_opening(COCKPIT, slipped), hull).slip == pytest.approx(0.010)


def test_skew_is_left_over_and_no_slip(hull):
    corners = corners_of(COCKPIT, hull)
    level = corners * [1.0, 1.0, 0.0] + [0.0, 0.0, corners[0, 2]]
    plan = level + np.array([[0.02, 0, 0], [0.02, 0, 0], [0, 0, 0], [0, 0, 0]])
    skewed = plan * [1, 1, 0] + corners * [0, 0, 1]
    fit = opening_fit(with_opening(COCKPIT, readings(skewed)), hull)
    assert abs(fit.slip) < 2e-4
    left = {row.key: row.read - row.fitted for row in fit.spans}
    # 20 mm along makes one diagonal longer and the other shorter by 20 x length / diagonal
    share = 2.40 / hypot(2.40, 1.60)
    assert left["diagonal_forward_port_m"] == pytest.approx(0.020 * share, abs=3e-4)
    assert left["diagonal_forward_starboard_m"] == pytest.approx(-0.020 * share, abs=3e-4)


def test_sheer_and_camber_stand_beside_the_deck_s(hull):
    corners = corners_of(HOUSE, hull)
    fit = opening_fit(
        with_opening(HOUSE, readings(corners, sheer_mm=21, camber_aft_mm=15)), hull
    )
    heights = {row.key: row for row in fit.heights}
    assert set(heights) == {"sheer_mm", "camber_aft_mm"}
    assert heights["sheer_mm"].read == 0.021
    # 60 mm x half-breadth / 1.80 at the sheer, as the square of the breadth within it
    y, half = corners[1, 1], float(hull.sheer(corners[1:2, 0])[0, 1])
    camber = 0.060 * half / 1.80 * (y / half) ** 2
    assert heights["camber_aft_mm"].drawn == pytest.approx(camber, abs=1e-6)


@pytest.mark.parametrize("key", SPANS)
@pytest.mark.parametrize("off", [1.0, -0.7, 0.05])
def test_the_reading_that_others_contradict_is_named_with_what_they_make_of_it(hull, key, off):
    read = readings(corners_of(COCKPIT, hull))
    wrong = read.model_copy(update={key: getattr(read, key) + off})
    fit = opening_fit(with_opening(COCKPIT, wrong), hull)
    assert not fit.is_trusted
    assert fit.suspect.key == key
    assert fit.suspect.read == getattr(wrong, key)
    assert fit.suspect.others == pytest.approx(getattr(read, key), abs=1e-9)
    assert fit.values == {}
    assert {row.fitted for row in fit.readings} == {None}


@pytest.mark.parametrize("key", SPANS)
def test_six_distances_of_a_trapezium_keep_ptolemy_s_rule(hull, key):
    """A trapezium alike on both sides lies on a circle: diagonals^2 = side^2 + ends' product.

    Ptolemy's theorem (Almagest I.10). The deck is nearly level under a cockpit.
    """
    forward, aft, side = 1.0, 1.6, 2.0
    diagonal = sqrt(side**2 + forward * aft)
    true = dict(zip(SPANS, (side, side, forward, aft, diagonal, diagonal), strict=True))
    wrong = Opening(**(true | {key: true[key] + 0.5}))
    fit = opening_fit(with_opening(COCKPIT, wrong), hull)
    assert fit.suspect is None or fit.suspect.key == key
    five = Opening(**true)
    assert opening_fit(with_opening(COCKPIT, five), hull).slip == pytest.approx(0.0, abs=1e-4)


def test_two_wrong_readings_are_not_pinned_on_one(hull):
    drawn = readings(corners_of(COCKPIT, hull))
    wrong = {k: getattr(drawn, k) + 0.3 for k in ("side_port_m", "across_aft_m")}
    fit = opening_fit(with_opening(COCKPIT, drawn.model_copy(update=wrong)), hull)
    assert not fit.is_trusted
    assert fit.suspect is None


def test_distances_that_enclose_nothing_have_no_slip(hull):
    wrong = readings(corners_of(COCKPIT, hull), diagonal_forward_starboard_m=9.0)
    fit = opening_fit(with_opening(COCKPIT, wrong), hull)
    assert fit.slip is None
    assert fit.suspect.key == "diagonal_forward_starboard_m"


def test_a_lopsided_opening_that_no_part_meets_offers_none(hull):
    corners = corners_of(COCKPIT, hull)
    lopsided = corners + np.array([[0, 0, 0], [0.8, 0, 0], [0, 0, 0], [0, 0, 0]])
    fit = opening_fit(with_opening(COCKPIT, readings(lopsided)), hull)
    assert fit.is_trusted
    assert fit.values == {}
    assert fit.worst(lambda row: row.fitted)[0] > 0.2


def test_nothing_read_nothing_reported(hull):
    assert opening_fit(HOUSE, hull) is None
