"""Downflooding by aggregate area, against a sample stability booklet.

Source: Transport Canada TP 13313, Appendix A, A 3.3 (sample booklet, sailing vessel of 65 t):
    openings of an aggregate area above displacement / 1500 = 0.04 m2; full: galley vent 45,
    forward skylight 52, aft skylight 63, companionways 84 and 92 deg; stores spent: 47, 57, 70,
    89, 97 deg; the forward skylight decides. The same rule: UK Code of Practice, 11.1.
Seen: opened, both.
Known: the table prints 0.11 m2 for the galley vent, which would decide by itself; the text
    beside it says it does not, so its area is taken as 0.011 m2.
"""

from math import radians

import pytest
from stability import opening

from hullchange.criteria.definitions import DEFINITIONS
from hullchange.criteria.levers import Beyond
from hullchange.criteria.openings import downflooding, lowest_height

FULL = {"vent": 45.0, "forward skylight": 52.0, "after skylight": 63.0, "companionway": 84.0}
SPENT = {"vent": 47.0, "forward skylight": 57.0, "after skylight": 70.0, "companionway": 89.0}
AREAS = {"vent": 0.011, "forward skylight": 0.11, "after skylight": 0.11, "companionway": 0.80}


@pytest.mark.parametrize(("angles", "decides"), [(FULL, 52.0), (SPENT, 57.0)])
def test_the_sample_booklet(angles, decides):
    openings = tuple(opening(name, AREAS[name], angle) for name, angle in angles.items())
    found = downflooding(openings, 65_000.0)
    assert found.allowed_area == pytest.approx(0.04, abs=5e-3)
    assert found.opening == "forward skylight"
    assert found.angle.heel == pytest.approx(radians(decides))
    assert found.immersed_area == pytest.approx(0.121)
    assert downflooding(openings[::-1], 65_000.0) == found


def test_small_openings_add_up():
    # 12 t: 80 cm2; one 60 mm vent has 28.3 cm2, so the third decides
    vents = tuple(opening(f"vent-{i}", 28.27e-4, 30.0 + i) for i in range(4))
    found = downflooding(vents, 12_000.0)
    assert (found.opening, found.angle.heel) == ("vent-2", radians(32.0))
    assert downflooding(vents[:2], 12_000.0).angle == Beyond(pytest.approx(3.14159265))
    assert downflooding(vents[:2], 12_000.0).opening == ""


def test_exactly_the_area_allowed_is_not_more_than_it():
    assert downflooding((opening("hatch", 0.008, 30.0),), 12_000.0).opening == ""


def test_an_opening_that_never_goes_under_does_not_count():
    high = (opening("mast", 1.0, None), opening("vent", 0.001, 40.0))
    found = downflooding(high, 12_000.0)
    assert (found.opening, found.immersed_area) == ("", 0.001)


def test_lowest_opening_at_a_heel():
    low, high = opening("low", 0.1, 40.0, 0.8), opening("high", 0.1, 90.0, 0.5)
    heels = [radians(d) for d in range(181)]
    assert lowest_height((low, high), heels, 0.0) == pytest.approx(0.5)
    assert lowest_height((low, high), heels, radians(40.0)) == pytest.approx(0.0, abs=1e-12)


def test_definitions_have_no_limit():
    assert [d.limit.startswith("none: it defines") for d in DEFINITIONS] == [True, True]
