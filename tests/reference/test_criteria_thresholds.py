"""From which change a ship is to be inclined again: weight, and centre of gravity.

Source: IMO resolution A.749, 7.1.2 and 7.1.3: alterations that materially affect stability;
    a lightship that deviates by more than 2 % of its displacement, or its centre by more than
    1 % of the length, calls for an inclining. 46 CFR 28.510: 3 % of displacement, 51 mm of VCG.
Seen: opened in part (an old copy of the first; an excerpt of the second).
Known: written for passenger ships and fishing vessels; a yacht is asked nothing by them, and
    the answer says so.
"""

from dataclasses import replace

import pytest

from hullchange.criteria.thresholds import THRESHOLDS, Alteration
from hullchange.findings import Grade

SHIP = Alteration(
    displacement=100_000.0,
    net=0.0,
    aggregate=0.0,
    lcg_shift=0.0,
    vcg_shift=0.0,
    vcg_above_keel=2.0,
    waterline_length=20.0,
    hull_length=22.0,
    length_change=0.0,
    volume_change=0.0,
    propulsion_changes=False,
)


@pytest.mark.parametrize(
    ("which", "change", "at"),
    [
        ("imo-weight", "net", 2_000.0),
        ("imo-lcg", "lcg_shift", 0.2),
        ("us-fishing-weight", "net", 3_000.0),
        ("us-fishing-vcg", "vcg_shift", 0.051),
    ],
)
def test_more_than_the_printed_limit_and_not_the_limit_itself(which, change, at):
    (rule,) = (one for one in THRESHOLDS if one.id == which)
    assert rule.grade is Grade.B
    for sign in (-1.0, 1.0):
        reached = replace(SHIP, **{change: sign * at})
        assert rule.change(reached) == pytest.approx(rule.limit, rel=1e-12)
        assert rule.change(replace(SHIP, **{change: 1.01 * sign * at})) > rule.limit


def test_a_ship_that_was_not_altered_is_asked_nothing():
    assert [one.id for one in THRESHOLDS if one.change(SHIP) > one.limit] == []
