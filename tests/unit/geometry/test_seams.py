"""Seams found where plates touch, against lengths known beforehand."""

from math import asin, pi

import numpy as np
import pytest

from hullchange.geometry.developable import Cone
from hullchange.geometry.frame import Frame
from hullchange.geometry.outline import FlatOutline
from hullchange.geometry.plate import Planar, Plate
from hullchange.geometry.seams import contacts_of
from hullchange.parts.steelwork import AFT, STARBOARD, UP, flat_bar, plate_between


def flat(name, *corners, mm=4.0):
    return plate_between(name, np.array(corners, float), mm)


def table(*plates):
    """Kind and length [mm] of each seam by the names of its plates."""
    return {
        (plates[s.first].id, plates[s.second].id): (s.kind, round(1e3 * s.length), s)
        for s in contacts_of(plates).seams
    }


def words(rows):
    return {pair: row[:2] for pair, row in rows.items()}


FLOOR = flat("floor", (0, 0, 0), (2, 0, 0), (2, 1, 0), (0, 1, 0))
WALL = flat("wall", (0, 1, 0), (2, 1, 0), (2, 1, 0.5), (0, 1, 0.5))
NEXT = flat("next", (2, 0, 0), (3, 0, 0), (3, 1, 0), (2, 1, 0))
WEB = flat("web", (0.5, 0, 0), (0.5, 0, 0.3), (0.5, 1, 0.3), (0.5, 1, 0))


def test_butt_corner_and_tee():
    found = table(FLOOR, WALL, NEXT, WEB)
    assert words(found) == {
        ("floor", "wall"): ("corner", 2000),
        ("floor", "next"): ("butt", 1000),
        ("web", "floor"): ("tee", 1000),
        ("web", "wall"): ("tee", 300),
    }
    assert found["floor", "wall"][2].angle == pytest.approx(pi / 2.0)
    assert found["web", "floor"][2].above


def test_three_plates_on_one_line_take_two_seams():
    below = flat("below", (0, 1, 0), (2, 1, 0), (2, 1, -0.5), (0, 1, -0.5))
    rows = [row[:2] for row in table(FLOOR, WALL, below).values()]
    assert sorted(rows) == [("butt", 2000), ("corner", 2000)]


def test_a_doubler_laps_all_round():
    pad = flat("pad", (1, 0.2, 4e-3), (1.4, 0.2, 4e-3), (1.4, 0.5, 4e-3), (1, 0.5, 4e-3))
    assert words(table(FLOOR, pad)) == {("pad", "floor"): ("lap", 1400)}


def test_plates_that_stand_apart_do_not_meet():
    away = flat("away", (0, 1.02, 0), (2, 1.02, 0), (2, 1.02, 0.5), (0, 1.02, 0.5))
    assert table(FLOOR, away) == {}


def test_a_curved_roof_on_its_beam_and_bulkhead():
    radius, half = 4.0, asin(1.2 / 4.0)
    roof_map = Cone(np.array([0.0, 0.0, radius]), AFT, UP, STARBOARD, radius, 0.0)
    width = radius * half
    roof = Plate(
        "roof", "plate", FlatOutline.rectangle((0, -width), (3, width)), 3e-3, roof_map
    )
    y = np.linspace(-1.2, 1.2, 25)
    z = np.sqrt(radius**2 - y**2)
    crown = np.stack([np.zeros(25), y, z], axis=1)
    low = np.array([[0.0, 1.2, 3.0], [0.0, -1.2, 3.0]])
    bulkhead = plate_between("bulkhead", np.concatenate([crown, low]), 4.0)
    inner = np.abs(y) < 1.15
    top = crown[inner] + [1.5, 0, -1.5e-3]
    beam = plate_between("beam", np.concatenate([top, top[::-1] - [0, 0, 0.05]]), 5.0)
    found = words(table(roof, bulkhead, beam))
    assert found["roof", "bulkhead"] == ("corner", pytest.approx(2e3 * width, abs=3))
    theory = 2e3 * radius * asin(y[inner].max() / radius)
    assert found["beam", "roof"] == ("tee", pytest.approx(theory, abs=3))


def test_a_tube_stands_on_its_ends():
    frame = Frame(np.array([1.0, 0.5, 0.252]), AFT, STARBOARD)
    bore = (FlatOutline.circle((0.0, 0.0), 0.0385),)
    outer = FlatOutline.circle((0.0, 0.0), 0.0445)
    post = Plate("post", "tube", outer, 0.5, Planar(frame), bore, section=(0.089, 0.006))
    kind, length, _ = table(FLOOR, post)["post", "floor"]
    assert (kind, length) == ("tee", pytest.approx(83.0 * pi, abs=1))


def test_a_bar_on_the_underside_lands_below():
    under = np.array([[0.2, 0.5, -2e-3], [1.8, 0.5, -2e-3]])
    bar = flat_bar("bar", *under, -UP, (0.04, 0.004))
    kind, length, seam = table(FLOOR, bar)["bar", "floor"]
    assert (kind, length, seam.above) == ("tee", 1600, False)


def test_an_edge_that_lifts_off_is_a_misfit():
    tilted = flat("tilted", (0.2, 0.5, 0), (1.8, 0.5, 0.016), (1.8, 0.5, 0.3), (0.2, 0.5, 0.3))
    (misfit,) = contacts_of((FLOOR, tilted)).misfits
    assert (misfit.first, misfit.second) == (1, 0)
    # a hundredth of slope: from the floor's face, 2 mm up, 2 mm may be welded: 0.4 m of it
    assert misfit.touching == pytest.approx(0.4, abs=0.006)
    assert misfit.off == pytest.approx(1.2, abs=0.006)
    assert misfit.gap == pytest.approx((0.002, 0.014), abs=1e-4)


@pytest.mark.parametrize("clear", [3.0, 9.0, 39.0])
def test_a_gap_along_a_whole_edge(clear):
    """Steel to steel: the floor's face lies 2 mm above its middle."""
    up = (2.0 + clear) / 1e3
    raised = flat("raised", (0.2, 0.5, up), (1.8, 0.5, up), (1.8, 0.5, 0.3), (0.2, 0.5, 0.3))
    found = contacts_of((FLOOR, raised))
    assert found.seams == ()
    (misfit,) = found.misfits
    assert (misfit.touching, misfit.off) == (0.0, pytest.approx(1.6))
    assert misfit.gap == pytest.approx((clear / 1e3, clear / 1e3), abs=1e-6)


def test_a_gap_of_half_the_thinner_plate_is_welded():
    for mm, off in ((4.0, 1.9), (2.0, 0.9), (12.0, 1.9)):
        up = 2e-3 + off / 1e3
        web = flat(
            "web", (0.2, 0.5, up), (1.8, 0.5, up), (1.8, 0.5, 0.3), (0.2, 0.5, 0.3), mm=mm
        )
        found = contacts_of((FLOOR, web))
        assert found.misfits == ()
        assert [(s.kind, round(s.length, 3)) for s in found.seams] == [("tee", 1.6)]


def test_a_slot_between_two_plates_and_what_is_too_far_to_be_meant():
    for slot, count in ((0.021, 1), (0.05, 0)):
        edge = 1.0 + slot
        other = flat("other", (0, edge, 0), (2, edge, 0), (2, 2, 0), (0, 2, 0))
        found = contacts_of((FLOOR, other))
        assert found.seams == ()
        assert len(found.misfits) == count
    assert contacts_of((FLOOR, other)).misfits == ()


def test_an_edge_that_looks_away_is_meant_to_meet_nothing():
    """Two plates in one plane, a third between them: the lower one's free edge slants off."""
    shelf = flat("shelf", (0, 0, 0), (1, 0, 0), (1, 0.3, 0), (0, 0.3, 0), mm=6.0)
    upper = flat("upper", (0.1, 0.1, 3e-3), (0.9, 0.1, 3e-3), (0.9, 0.1, 0.1), (0.1, 0.1, 0.1))
    lower = flat("lower", (0.1, 0.1, -3e-3), (0.9, 0.1, -3e-3), (0.1, 0.1, -0.2))
    assert contacts_of((shelf, upper, lower)).misfits == ()


def test_two_plates_with_a_third_between_do_not_meet():
    """Post and web under a plate thinner than the gap that may be welded, a pad on it."""
    sheet = flat("sheet", (0, 0, 0), (2, 0, 0), (2, 1, 0), (0, 1, 0), mm=2.0)
    z = 0.001 + 0.006
    pad = flat("pad", (0.8, 0.3, z), (1.2, 0.3, z), (1.2, 0.7, z), (0.8, 0.7, z), mm=12.0)
    web = flat(
        "web",
        (0.7, 0.35, -1e-3),
        (1.3, 0.35, -1e-3),
        (1.3, 0.35, -0.2),
        (0.7, 0.35, -0.2),
        mm=8,
    )
    found = table(sheet, pad, web, post(1.0, -0.001))
    assert set(found) == {("pad", "sheet"), ("web", "sheet"), ("post", "sheet")}


def post(x, head):
    frame = Frame(np.array([x, 0.5, head - 0.25]), AFT, STARBOARD)
    bore = (FlatOutline.circle((0.0, 0.0), 0.0385),)
    outer = FlatOutline.circle((0.0, 0.0), 0.0445)
    return Plate("post", "tube", outer, 0.5, Planar(frame), bore, section=(0.089, 0.006))


def test_a_tube_on_the_edge_of_a_web_is_welded_where_it_crosses():
    """Its wall crosses 10 mm of steel twice."""
    foot = -0.5
    web = flat("web", (0.8, 0.5, foot), (1.2, 0.5, foot), (1.2, 0.5, -0.8), (0.8, 0.5, -0.8),
               mm=10.0)  # fmt: skip
    kind, length, _ = table(web, post(1.0, 0.0))["post", "web"]
    assert (kind, length) == ("tee", pytest.approx(20, abs=2))


def test_a_beam_that_ends_at_a_post():
    bar = flat_bar("bar", np.array([1.0445, 0.5, -0.1]), np.array([1.6, 0.5, -0.1]), -UP,
                   (0.05, 0.005))  # fmt: skip
    assert words(table(bar, post(1.0, 0.0))) == {("bar", "post"): ("tee", 50)}


def test_plates_that_fit_are_no_misfit():
    assert contacts_of((FLOOR, WALL, NEXT, WEB)).misfits == ()
