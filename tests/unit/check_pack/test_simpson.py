"""The Simpson sum, done again by other means."""

import numpy as np
import pytest
from refits import SEA, barge_document, boat, changed, demo, demo_document
from scipy.integrate import simpson

from hullchange.check_pack.simpson import half_area, simpson_sum
from hullchange.errors import ModelError
from hullchange.floating.hydrostatics import section_area


@pytest.fixture(scope="module")
def found():
    return simpson_sum(demo()[0])


def test_half_areas_by_hand():
    bucket = np.array([[0.0, -1.0], [2.0, -1.0], [2.0, 1.0]])
    assert half_area(bucket, 0.5) == pytest.approx(3.0)
    assert half_area(bucket, -1.5) == 0.0
    assert half_area(bucket, 9.0) == pytest.approx(4.0)
    wedge = np.array([[0.0, -1.0], [2.0, 1.0]])
    assert half_area(wedge, 0.0) == pytest.approx(0.5)
    # a bottom that hollows: from the keel down to the bilge, then up
    hollow = np.array([[0.0, -0.5], [1.0, -1.0], [1.0, 0.0]])
    assert half_area(hollow, 0.0) == pytest.approx(0.75)
    assert half_area(hollow, -0.75) == pytest.approx(0.0625)


def test_a_barge_comes_out_exact():
    total = simpson_sum(boat(barge_document(12.0, 4.0, 1.0, 2.5, 0.2)), intervals=4)
    assert [s.multiplier for s in total.stations] == [1, 4, 2, 4, 1]
    assert [s.half_area for s in total.stations] == pytest.approx([2.0] * 5)
    assert total.hull.mass == pytest.approx(SEA * 48)
    assert total.hull.lcb == pytest.approx(6.0)
    assert total.whole.mass == pytest.approx(total.whole_exact.mass)


def test_the_sum_redone_from_the_mesh(found):
    hull = demo()[0].hull.surface
    x = np.array([s.x for s in found.stations])
    # the very ends have no section to cut
    inner = [section_area(hull, s.x, s.water_z) for s in found.stations[1:-1]]
    areas = np.array([0.0, *inner, 2 * found.stations[-1].half_area])
    volume = simpson(areas, x=x)
    assert found.hull.mass == pytest.approx(SEA * volume, rel=1e-4)
    assert found.hull.lcb == pytest.approx(simpson(areas * x, x=x) / volume, abs=1e-3)
    by_hand = sum(s.half_area * s.multiplier for s in found.stations) * found.spacing / 3
    assert found.hull.mass == pytest.approx(2 * by_hand * SEA, rel=1e-12)


def test_it_stands_beside_the_exact_result(found):
    assert found.hull.mass == pytest.approx(found.hull_exact.mass, rel=1e-3)
    assert found.hull.lcb == pytest.approx(found.hull_exact.lcb, abs=2e-3)
    assert [other.id for other in found.others] == ["keel", "skeg-and-rudder"]
    exact = found.hull_exact.mass + sum(other.mass for other in found.others)
    assert exact == pytest.approx(found.whole_exact.mass, rel=1e-9)
    assert found.whole_exact.mass == pytest.approx(12622.02, abs=0.05)
    moments = found.hull_exact.mass * found.hull_exact.lcb
    moments += sum(other.mass * other.lcb for other in found.others)
    assert moments / exact == pytest.approx(found.whole_exact.lcb, abs=1e-9)


def test_more_stations_come_nearer():
    built = demo()[0]
    errors = [
        abs(total.hull.mass - total.hull_exact.mass)
        for total in (simpson_sum(built, intervals=n) for n in (6, 24, 96))
    ]
    assert errors[0] > 2 * errors[1] > 4 * errors[2]


@pytest.mark.parametrize("intervals", [0, 7])
def test_an_odd_number_is_refused(intervals):
    with pytest.raises(ModelError) as refused:
        simpson_sum(demo()[0], intervals=intervals)
    assert refused.value.code == "no-stations"


def test_a_wet_transom_counts():
    deep = changed(demo_document(), survey__vcg__z_m=0.1, reference_condition="cockpit-flooded")
    total = simpson_sum(boat(deep))
    assert total.stations[-1].half_area >= 0.0
    assert total.whole.mass == pytest.approx(total.whole_exact.mass, rel=2e-3)


@pytest.mark.parametrize("length", [6.811, 7.083, 13.403])
def test_a_wet_transom_ends_where_the_lines_end(length):
    # by rounding the water may reach a hair beyond them
    barge = barge_document(length, 3.1, 0.57, 1.49, 0.2)
    lines = barge["hull"]["lines"]
    for line in lines.values():
        x = np.linspace(-0.242, length, 9)
        line["points_m"] = [[float(at), *line["points_m"][0][1:]] for at in x]
    by_simpson = simpson_sum(boat(barge))
    assert by_simpson.stations[-1].x <= length
