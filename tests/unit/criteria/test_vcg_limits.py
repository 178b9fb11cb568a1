"""How high the centre of gravity may come, and what may still be added."""

from functools import partial
from math import pi, radians, sin

import numpy as np
import pytest
from stability import facts, opening, sine_levers

from hullchange.criteria.catalogue import RULES
from hullchange.criteria.facts import with_vcg_raised
from hullchange.criteria.imo import AREA_TO_30
from hullchange.criteria.imo import RULES as IMO_RULES
from hullchange.criteria.iso12217 import VANISHING
from hullchange.criteria.mgn280 import RANGE_FLOOR
from hullchange.criteria.vcg_limits import (
    AtDisplacement,
    LimitLine,
    Margin,
    MarginAtLeast,
    NoMargin,
    criterion_margin,
    limit_lines,
    margin_sentence,
    vcg_limits,
)

HATCH = (opening("hatch", 0.5, 80.0),)


def limits_of(case, rules=RULES):
    found = vcg_limits(partial(with_vcg_raised, (case,)), rules)
    return {limit.criterion.id: limit for limit in found}


def test_raising_her_weight_takes_the_sine_off_each_lever():
    base, (up,) = facts(), with_vcg_raised((facts(),), 0.3)
    for deg in (0.0, 17.3, 90.0, 140.6, 180.0):
        heel = radians(deg)
        assert up.levers.at(heel) == pytest.approx(
            base.levers.at(heel) - 0.3 * sin(heel), abs=1e-9
        )
    assert up.gm == pytest.approx(base.gm - 0.3)
    assert with_vcg_raised((up,), -0.3)[0].levers.gz == pytest.approx(base.levers.gz)


def test_limits_by_hand():
    limits = limits_of(facts(openings=HATCH))
    # GM: 1.0983 - 0.15
    assert limits["imo-initial-gm"].rise == pytest.approx(0.9483, abs=1e-5)
    # the area to 30 deg loses rise x (1 - cos 30): 0.142720 - 0.055 over 0.133975
    by_hand = (0.142720 - 0.055) / 0.1339746
    assert limits["imo-area-to-30"].rise == pytest.approx(by_hand, abs=5e-5)
    # the range: levers at 90 deg are nought
    assert limits["mgn280-range-90"].rise == pytest.approx(0.72 * sin(pi * 90 / 118), abs=1e-5)
    assert all(limit.found for limit in map(limits.get, ("imo-initial-gm", "mgn280-range-90")))


def test_at_the_limit_it_is_just_met():
    case = facts(openings=HATCH)
    by_id = {rule.criterion.id: rule for rule in RULES}
    limits = limits_of(case)
    assert len([limit for limit in limits.values() if limit.found]) > 10
    for code, limit in limits.items():
        if limit.found:
            below, above = (
                by_id[code].answer(with_vcg_raised((case,), limit.rise + off)).keeps_the_limit
                for off in (-2e-5, 2e-5)
            )
            assert (below, above) == (True, False), code


def test_a_rule_not_met_is_sought_downwards():
    low = limits_of(facts(sine_levers(0.3, 80.0), gm=0.05))
    gm = low["imo-initial-gm"]
    assert gm.found
    assert gm.rise == pytest.approx(-0.10, abs=1e-5)
    assert low["mgn280-range-90"].rise < 0.0


def test_a_limit_out_of_reach_says_how_far_was_looked():
    stiff = limits_of(facts(gm=5.0), IMO_RULES)["imo-initial-gm"]
    assert (stiff.found, stiff.rise) == (False, 1.0)
    tender = limits_of(facts(gm=-5.0), IMO_RULES)["imo-initial-gm"]
    assert (tender.found, tender.rise) == (False, -1.0)


def test_rules_that_do_not_depend_on_levers_are_left_out_and_each_rise_is_asked_once():
    asked = []

    def levers_at(rise):
        asked.append(rise)
        return with_vcg_raised((facts(openings=HATCH),), rise)

    found = {limit.criterion.id for limit in vcg_limits(levers_at, RULES)}
    assert len(asked) == len(set(asked))
    assert "iso12217-stix" in found
    assert "iso12217-minimum-mass" not in found
    bare = vcg_limits(partial(with_vcg_raised, (facts(),)), RULES)
    assert "inland-safety-distance" not in {limit.criterion.id for limit in bare}


def test_lines_over_displacement():
    stations = tuple(
        AtDisplacement(
            mass,
            vcg,
            partial(with_vcg_raised, (facts(gm=gm, openings=HATCH, displacement=mass),)),
        )
        for mass, vcg, gm in ((12_000.0, 0.1, 1.0), (14_000.0, 0.2, 0.8))
    )
    lines = {line.criterion.id: line for line in limit_lines(stations, RULES)}
    gm = lines["imo-initial-gm"]
    assert gm.vcg == pytest.approx([0.1 + 0.85, 0.2 + 0.65], abs=2e-5)
    assert gm.at(13_000.0) == pytest.approx(0.9, abs=2e-5)
    assert gm.found == (True, True)


def line(criterion, vcg=(0.9, 0.9), mass=(12_000.0, 14_000.0), found=(True, True)):
    return LimitLine(criterion, np.array(mass), np.array(vcg), found)


def test_what_may_be_added_by_hand():
    # level limit: w = m (limit - vcg) / (height - limit) = 12 000 x 0.1 / 1.6
    roof = criterion_margin(line(RANGE_FLOOR), 12_000.0, 0.8, 2.5)
    assert roof.answer == Margin(pytest.approx(750.0, abs=1e-3))
    # a limit that falls 0.05 m a tonne is met sooner
    sloping = line(RANGE_FLOOR, (0.9, 0.8))
    added = criterion_margin(sloping, 12_000.0, 0.8, 2.5).answer.mass
    vcg_after = (12_000.0 * 0.8 + added * 2.5) / (12_000.0 + added)
    assert vcg_after == pytest.approx(0.9 - 0.05 * added / 1000.0, abs=1e-8)


def test_below_the_limit_anything_goes_as_far_as_was_worked_out():
    keel = criterion_margin(line(RANGE_FLOOR), 12_000.0, 0.8, -1.0)
    assert keel.answer == MarginAtLeast(2000.0)
    unsure = criterion_margin(line(RANGE_FLOOR, found=(True, False)), 12_000.0, 0.8, 2.5)
    assert unsure.answer == MarginAtLeast(pytest.approx(750.0, abs=1e-3))


def test_past_the_limit_nothing_goes():
    assert criterion_margin(line(RANGE_FLOOR), 12_000.0, 0.95, 2.5).answer == NoMargin()


def test_in_words():
    tight, wide = line(RANGE_FLOOR), line(AREA_TO_30, (1.0, 1.0))
    sentence = margin_sentence(
        "the roof",
        2.5,
        tuple(criterion_margin(each, 12_000.0, 0.8, 2.5) for each in (wide, tight)),
    )
    assert sentence == (
        "The roof, 2.50 m above the design waterline, may take 750 kg; governing "
        f"limit: “{RANGE_FLOOR.title}” ({RANGE_FLOOR.document.title}, 11.8.2)."
    )


def test_rules_to_be_confirmed_are_named_apart_and_not_called_failed():
    tight = line(VANISHING, (0.85, 0.85))
    both = tuple(
        criterion_margin(each, 12_000.0, 0.8, 2.5) for each in (line(RANGE_FLOOR), tight)
    )
    sentence = margin_sentence("the roof", 2.5, both)
    # 12 000 x 0.05 / 1.65 = 363.6
    assert "may take 750 kg" in sentence.split("To be confirmed: ")[0]
    assert "360 kg" in sentence.split("To be confirmed: ")[1]
    past = tuple(criterion_margin(each, 12_000.0, 0.87, 2.5) for each in (tight,))
    sentence = margin_sentence("the roof", 2.5, past)
    assert sentence.startswith("To be confirmed: The roof, 2.50 m")
    assert "is already exceeded" in sentence
    assert "not met" not in sentence


def test_in_words_where_nothing_or_anything_goes():
    none = (criterion_margin(line(RANGE_FLOOR), 12_000.0, 0.95, 2.5),)
    assert "has no margin: “Range" in margin_sentence("the arch", 3.0, none)
    much = (criterion_margin(line(RANGE_FLOOR), 12_000.0, 0.8, -1.0),)
    assert (
        "may take at least 2000 kg; up to that no criterion that can be judged fails."
        in margin_sentence("the keel", -1.0, much)
    )
