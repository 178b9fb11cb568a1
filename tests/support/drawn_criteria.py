"""Criteria of boats surveyed, floated and heeled anew in the hull that they truly have."""

from types import SimpleNamespace

import numpy as np
from resurveyed import in_true_hull, with_lines_wrong, with_readings_wrong

from hullchange.afloat.at_rest import afloat
from hullchange.afloat.stability import stability_of
from hullchange.afloat.whole_circle import WHOLE_CIRCLE, levers_of
from hullchange.boat.conditions import conditions_of
from hullchange.boat.hull_hydrostatics import hull_result
from hullchange.boat.variants import as_found
from hullchange.criteria.catalogue import RULES
from hullchange.criteria.criterion import CriterionOutcome


def drawn_anew(plain, condition, count, seed):
    """{criterion: (count,) values} as found, with lines, readings and VCG in error."""
    draw = np.random.default_rng(seed)
    rows = []
    for _ in range(count):
        wrong = with_lines_wrong(plain, draw).plain
        rows.append(values(*in_true_hull(plain, with_readings_wrong(wrong, draw)), condition))
    return {rule.criterion.id: np.array(rows)[:, k] for k, rule in enumerate(RULES)}


def values(boat, found, condition):
    """What each rule finds of a boat as found, to her worse side; nan where nothing."""
    rest = afloat(boat, found, as_found(boat), conditions_of(boat.document)[condition]).rest
    curve = levers_of(rest, rest.envelope, WHOLE_CIRCLE)
    row = SimpleNamespace(rest=rest, stage="as_found", spread=SimpleNamespace(levers=curve))
    hull = hull_result(boat)
    facts = stability_of(boat, row, (hull.beam_m, hull.beam_waterline_m)).facts
    return [
        one.value if isinstance(one, CriterionOutcome) else np.nan
        for one in outcomes_by_rule(facts)
    ]


def outcomes_by_rule(sides):
    """What each rule answers."""
    return [rule.worse(sides) for rule in RULES]
